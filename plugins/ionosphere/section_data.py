"""The outlook as the briefing prints it: rows of a chart, a table of distances, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]

SUN = ("conditions.f107", "conditions.sunspot_number")
EDGES = ("sun.civil_dawn", "sun.rise", "sun.set", "sun.civil_dusk")
WANTS = ("bands.outlook", *SUN, *EDGES)
NEAR_KM = 300
REASONS = {
    "above the usable frequency": "too high a frequency",
    "too weak": "too weak",
}


def outlook_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/outlook.json); None where the plan says nothing of the sun."""
    if not any(record["reason"] is None for name in SUN for record in facts[name].values()):
        return None
    (record,) = facts["bands.outlook"].values()
    if record["reason"]:
        return {"missing": _missing(record["reason"]), "chart": None}
    chart = chart_of(record["value"], record.get("notes") or ())
    return {"missing": None, "chart": {**chart, "grey_line": _grey_line(facts)}}


def _grey_line(facts: Facts) -> str | None:
    """When the edge of night lies over the station on the day of arrival; None where it does not pass."""
    dawn, rise, sunset, dusk = (_edge(facts, name) for name in EDGES)
    spans = [_span(*pair) for pair in ((dawn, rise), (sunset, dusk)) if None not in pair]
    if not spans:
        return None
    return f"The edge of night (grey line) lies over the station from {' and from '.join(spans)} on the day of arrival."


def _edge(facts: Facts, name: str) -> Mapping[str, Any] | None:
    record = facts[name].get("trip")
    return record if record is not None and record["reason"] is None else None


def _span(start: Mapping[str, Any] | None, end: Mapping[str, Any] | None) -> str:
    assert start is not None and end is not None
    local = " to ".join(one["detail"]["local"] for one in (start, end))
    utc = " to ".join(_minute(one["value"]) for one in (start, end))
    return f"{local} local time ({utc})"


def _minute(instant: str) -> str:
    return f"{datetime.fromisoformat(instant) + timedelta(seconds=30):%H:%M}Z"


def _missing(reason: Mapping[str, Any]) -> str:
    settle = reason["settle"]
    if settle is None:
        return str(reason["text"])
    return f"{reason['text']}; {settle if settle.startswith('install') else f'{settle} in the plan would settle it'}"


def chart_of(outlook: Mapping[str, Any], notes: Sequence[str]) -> dict[str, Any]:
    """Columns, the panels of the paths, the table of distances, and the lines on what it rests on."""
    columns = outlook["columns"]
    return {
        "zone": outlook["zone"],
        "columns": columns,
        "panels": [_panel(path) for path in outlook["paths"]],
        "near_vertical": _near_vertical(outlook["near_vertical_mhz"], columns),
        "distances": _distances(outlook["reach"], columns),
        "basis": [*_basis(outlook), *notes],
        "limits": list(outlook["limits"]),
    }


def _panel(path: Mapping[str, Any]) -> dict[str, Any]:
    rows = [{"band": one["band"], "states": one["states"]} for one in path["bands"]]
    shown = [row for row in rows if set(row["states"]) != {"closed"}]
    return {"title": _title(path["km"]), "rows": shown, "closed": list(_closed(path))}


def _title(km: float) -> str:
    return f"{'Near-vertical path' if km <= NEAR_KM else 'Path'} of {km:,.0f} km"


def _closed(path: Mapping[str, Any]) -> Iterator[str]:
    """What is closed throughout, and why: one text for each reason."""
    shut = [band for band in path["bands"] if set(band["states"]) == {"closed"}]
    for because, words in REASONS.items():
        names = [band["band"] for band in shut if set(band["because"]) == {because}]
        if names:
            yield f"{', '.join(names)}: {words}"
    if mixed := [band["band"] for band in shut if len(set(band["because"])) > 1]:
        yield f"{', '.join(mixed)}: too weak or too high a frequency"


def _near_vertical(ranges: Sequence[Sequence[float]], columns: Sequence[Mapping[str, Any]]) -> str:
    best = [one[1] for one in ranges]
    low, high = best.index(min(best)), best.index(max(best))
    words = [f"{ranges[at][0]:.1f} to {ranges[at][2]:.1f} MHz at {columns[at]['utc'][11:16]} UTC" for at in (high, low)]
    return f"Near-vertical paths by the F2 layer are best worked at {' and '.join(dict.fromkeys(words))}, ± 20 %."


def _distances(reach: Sequence[Mapping[str, Any]], columns: Sequence[Mapping[str, Any]]) -> list[dict[str, str]]:
    """For each band the ground that one hop covers while on the air (without such times: in all hours shown)."""
    on_air = [at for at, column in enumerate(columns) if column["on_air"]] or list(range(len(columns)))
    found: dict[tuple[str, str], list[str]] = {}
    for band in reach:
        hours = [(band["skip_km"][at], band["reach_km"][at]) for at in on_air if band["skip_km"][at] is not None]
        if hours:
            missing = len(on_air) - len(hours)
            gaps = f"; in {missing} of {len(on_air)} hours nowhere" if missing else ""
            words = _range([one[0] for one in hours]), _range([one[1] for one in hours]) + gaps
            found.setdefault(words, []).append(band["band"])
    return [{"band": ", ".join(bands), "skip": skip, "reach": far} for (skip, far), bands in found.items()]


def _range(distances: Sequence[float]) -> str:
    low, high = (50 * round(one / 50) for one in (min(distances), max(distances)))
    return f"{low:,} km" if low == high else f"{low:,} to {high:,} km"


def _basis(outlook: Mapping[str, Any]) -> Iterator[str]:
    assumed, index = outlook["assumed"], outlook["index"]
    yield (
        f"ITU-R P.533 with {outlook['model']}; solar flux {index['f107']:.0f} (sunspot number "
        f"{index['sunspot_number']:.0f})."
    )
    yield (
        f"{assumed['power_w']:g} W, {assumed['mode']}, both antennas together {assumed['gains_db']:g} dB, "
        f"{assumed['noise']} noise at the other end. The ionosphere over the station stands for that of the whole "
        "path: beyond 500 km the chart runs early to the west and late to the east."
    )
