"""The outlook of the hours of an outing, which may fall on two UTC days or three."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from afield.plugins.ionosphere.sending import HOUR, Sent

BESIDE = 1
"""Hours shown before the outing and after it, for a plan that may still be moved."""

Instants = Mapping[str, Any]


def outlook_of(instants: Instants, place: tuple[float, float], f107: float, sent: Sequence[Sent]) -> dict[str, Any]:
    """The outlook as JSON: a column for each hour, and what `band_outlook` gives for the columns' hours.

    Args:
        instants: as the fact `schedule.instants` gives them.
        place: latitude and longitude in degrees.
        f107: solar radio flux.
        sent: for each of `hours_of` what goes out in it.

    Raises:
        ValueError: as `band_outlook`.

    """
    hours, distinct = hours_of(instants), list(dict.fromkeys(sent))
    picks = _picks(hours, place, f107, sent)
    first = picks[0][0]
    columns = [
        _column(hour, instants, *pick, distinct.index(one)) for hour, pick, one in zip(hours, picks, sent, strict=True)
    ]
    return {
        **{key: first[key] for key in ("place", "index", "model", "limits")},
        "assumed": {key: first["assumed"][key] for key in ("noise", "gains_db", "bearing_deg")},
        "zone": instants["zone"],
        "sent": [one._asdict() for one in distinct],
        "columns": columns,
        "near_vertical_mhz": [day["near_vertical_mhz"][hour] for day, hour in picks],
        "paths": [_path(index, picks) for index in range(len(first["paths"]))],
        "reach": [_reach(index, picks) for index in range(len(first["reach"]))],
    }


Pick = tuple[Mapping[str, Any], int]
"""The outlook of a UTC day for what is sent, and the hour in it."""


def _picks(hours: Sequence[datetime], place: tuple[float, float], f107: float, sent: Sequence[Sent]) -> list[Pick]:
    """Each day is worked out once for each power and mode that is used on it."""
    from afield.plugins.ionosphere.computations.outlook import band_outlook

    wanted = [(hour.date().isoformat(), one) for hour, one in zip(hours, sent, strict=True)]
    days = {
        (date, one): band_outlook(date, *place, f107, mode=one.mode, power_w=one.power_w)
        for date, one in dict.fromkeys(wanted)
    }
    return [(days[key], hour.hour) for key, hour in zip(wanted, hours, strict=True)]


def hours_of(instants: Instants) -> list[datetime]:
    """The whole hours of UTC that the outing touches, and one more on each side."""
    start, end = (datetime.fromisoformat(instants[key]) for key in ("start", "end"))
    hour = start.replace(minute=0, second=0, microsecond=0) - BESIDE * HOUR
    found = []
    while hour <= end + BESIDE * HOUR:
        found.append(hour)
        hour += HOUR
    return found


def _column(hour: datetime, instants: Instants, day: Mapping[str, Any], index: int, sent: int) -> dict[str, Any]:
    start, end = (datetime.fromisoformat(instants[key]) for key in ("start", "end"))
    local = hour + timedelta(minutes=_offset_min(hour, instants))
    return {
        "utc": hour.strftime("%Y-%m-%dT%H:%MZ"),
        "local": local.strftime("%H:%M"),
        "daylight": day["daylight"][index],
        "on_air": [part for span in instants["on_air"] if (part := _minutes(hour, span))],
        "during": start < hour + HOUR and hour < end,
        "sent": sent,
    }


def _offset_min(hour: datetime, instants: Instants) -> float:
    changes = [one["by_min"] for one in instants["clock_changes"] if datetime.fromisoformat(one["at"]) <= hour]
    return float(instants["offsets"]["start"] + sum(changes))


def _minutes(hour: datetime, span: Sequence[str]) -> list[float]:
    """From which minute of the hour to which a span lasts; empty where it does not touch the hour."""
    start, end = (datetime.fromisoformat(text) for text in span)
    from_min, to_min = ((min(max(one, hour), hour + HOUR) - hour).total_seconds() / 60 for one in (start, end))
    return [from_min, to_min] if from_min < to_min else []


def _path(index: int, picks: Sequence[Pick]) -> dict[str, Any]:
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


def _reach(index: int, picks: Sequence[Pick]) -> dict[str, Any]:
    band = picks[0][0]["reach"][index]
    rows = {key: [day["reach"][index][key][hour] for day, hour in picks] for key in ("skip_km", "reach_km")}
    return {"band": band["band"], "mhz": band["mhz"], **rows}
