"""The outlook of the hours of an outing, which may fall on two UTC days or three."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

HOUR = timedelta(hours=1)
BESIDE = 1
"""Hours shown before the outing and after it, for a plan that may still be moved."""

Instants = Mapping[str, Any]


def outlook_of(
    instants: Instants, place: tuple[float, float], f107: float, mode: str, power_w: float
) -> dict[str, Any]:
    """The outlook as JSON: a column for each hour, and what `band_outlook` gives for the columns' hours.

    Args:
        instants: as the fact `schedule.instants` gives them.
        place: latitude and longitude in degrees.
        f107: solar radio flux.
        mode: a mode that `band_outlook` knows.
        power_w: to the antenna.

    Raises:
        ValueError: as `band_outlook`.

    """
    from afield.plugins.ionosphere.computations.outlook import band_outlook

    hours = hours_of(instants)
    dates = dict.fromkeys(hour.date().isoformat() for hour in hours)
    days = {date: band_outlook(date, *place, f107, mode=mode, power_w=power_w) for date in dates}
    picks = [(days[hour.date().isoformat()], hour.hour) for hour in hours]
    first = picks[0][0]
    return {
        **{key: first[key] for key in ("place", "index", "model", "assumed", "limits")},
        "zone": instants["zone"],
        "columns": [_column(hour, instants, *pick) for hour, pick in zip(hours, picks, strict=True)],
        "near_vertical_mhz": [day["near_vertical_mhz"][hour] for day, hour in picks],
        "paths": [_path(index, picks) for index in range(len(first["paths"]))],
        "reach": [_reach(index, picks) for index in range(len(first["reach"]))],
    }


def hours_of(instants: Instants) -> list[datetime]:
    """The whole hours of UTC that the outing touches, and one more on each side."""
    start, end = (datetime.fromisoformat(instants[key]) for key in ("start", "end"))
    hour = start.replace(minute=0, second=0, microsecond=0) - BESIDE * HOUR
    found = []
    while hour <= end + BESIDE * HOUR:
        found.append(hour)
        hour += HOUR
    return found


def _column(hour: datetime, instants: Instants, day: Mapping[str, Any], index: int) -> dict[str, Any]:
    local = hour + timedelta(minutes=_offset_min(hour, instants))
    return {
        "utc": hour.strftime("%Y-%m-%dT%H:%MZ"),
        "local": local.strftime("%H:%M"),
        "daylight": day["daylight"][index],
        "on_air": [part for span in instants["on_air"] if (part := _minutes(hour, span))],
    }


def _offset_min(hour: datetime, instants: Instants) -> float:
    changes = [one["by_min"] for one in instants["clock_changes"] if datetime.fromisoformat(one["at"]) <= hour]
    return float(instants["offsets"]["start"] + sum(changes))


def _minutes(hour: datetime, span: Sequence[str]) -> list[float]:
    """From which minute of the hour to which a span lasts; empty where it does not touch the hour."""
    start, end = (datetime.fromisoformat(text) for text in span)
    from_min, to_min = ((min(max(one, hour), hour + HOUR) - hour).total_seconds() / 60 for one in (start, end))
    return [from_min, to_min] if from_min < to_min else []


def _path(index: int, picks: Sequence[tuple[Mapping[str, Any], int]]) -> dict[str, Any]:
    paths = [(day["paths"][index], hour) for day, hour in picks]
    first = paths[0][0]
    return {
        "km": first["km"],
        "muf_mhz": [path["muf_mhz"][hour] for path, hour in paths],
        "bands": [
            {
                "band": band["band"],
                "mhz": band["mhz"],
                **{key: [path["bands"][row][key][hour] for path, hour in paths] for key in ("states", "because")},
            }
            for row, band in enumerate(first["bands"])
        ],
    }


def _reach(index: int, picks: Sequence[tuple[Mapping[str, Any], int]]) -> dict[str, Any]:
    band = picks[0][0]["reach"][index]
    rows = {key: [day["reach"][index][key][hour] for day, hour in picks] for key in ("skip_km", "reach_km")}
    return {"band": band["band"], "mhz": band["mhz"], **rows}
