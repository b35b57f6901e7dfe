"""The outlook as the briefing prints it: rows of a chart, a table of distances, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from string import ascii_letters
from typing import Any

from afield.plugins.ionosphere.grey_line import grey_line_words

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]

SUN = ("conditions.f107", "conditions.sunspot_number")
WANTS = ("bands.outlook", *SUN, "schedule.instants", "sun.events")
NEAR_KM = 300
REASONS = {
    "above the usable frequency": "too high a frequency",
    "too weak": "too weak",
}
SHORT = {
    "": "", "above the usable frequency": "frequency", "near the usable frequency": "frequency", "too weak": "signal",
    "weak": "signal",
}  # fmt: skip
"""Why a band is not open, as the outlook has it -> what it lacks."""
NEAR_VERTICAL = {
    "on air": "While on the air, near-vertical paths by the F2 layer are best worked at {}, ± 20 %.",
    "outing": "During the outing, near-vertical paths by the F2 layer are best worked at {}, ± 20 %.",
}
ONE_HOP = {
    "on air": "Where one hop is open or marginal while on the air",
    "outing": "Where one hop is open or marginal during the outing",
}
HOPS = "One hop of it; two or more reach farther where the signal is strong enough, and the chart takes them in."


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
    instants, events = (_value(facts, name) for name in ("schedule.instants", "sun.events"))
    return None if instants is None or events is None else grey_line_words(instants, events)


def _value(facts: Facts, name: str) -> Any:
    record = facts[name].get("trip")
    return record["value"] if record is not None and record["reason"] is None else None


def _missing(reason: Mapping[str, Any]) -> str:
    settle = reason["settle"]
    if settle is None:
        return str(reason["text"])
    return f"{reason['text']}; {settle if settle.startswith('install') else f'{settle} in the plan would settle it'}"


def chart_of(outlook: Mapping[str, Any], notes: Sequence[str]) -> dict[str, Any]:
    """Columns, the panels of the paths, the table of distances, and the lines on what it rests on."""
    columns = outlook["columns"]
    several = len(outlook["sent"]) > 1
    return {
        "zone": outlook["zone"],
        "columns": [{**column, "sent": _mark(column["sent"]) if several else ""} for column in columns],
        "sent": [_sent_words(index, outlook["sent"]) for index in range(len(outlook["sent"]))] if several else [],
        "panels": [_panel(path) for path in outlook["paths"]],
        "near_vertical": _near_vertical(outlook["near_vertical_mhz"], columns),
        "distances": _distances(outlook["reach"], columns),
        "distances_title": ONE_HOP[_hours(columns)[1]],
        "hops": HOPS,
        "basis": [*_basis(outlook), *notes],
        "limits": list(outlook["limits"]),
    }


def _mark(index: int) -> str:
    """A letter for each power and mode."""
    return ascii_letters[index]


def _sent_words(index: int, sent: Sequence[Mapping[str, Any]]) -> str:
    return f"{_mark(index)}: {sent[index]['power_w']:g} W, {sent[index]['mode']}"


def _panel(path: Mapping[str, Any]) -> dict[str, Any]:
    rows = [
        {"band": one["band"], "states": one["states"], "lacks": [SHORT[because] for because in one["because"]]}
        for one in path["bands"]
    ]
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


def _hours(columns: Sequence[Mapping[str, Any]]) -> tuple[list[int], str]:
    """The columns on the air, without such the outing's, and which of the two they are."""
    on_air = [at for at, column in enumerate(columns) if column["on_air"]]
    if on_air:
        return on_air, "on air"
    return [at for at, column in enumerate(columns) if column["during"]], "outing"


def _near_vertical(ranges: Sequence[Sequence[float]], columns: Sequence[Mapping[str, Any]]) -> str:
    """The highest and the lowest best frequency of the hours that matter, each with the hour that it is of."""
    hours, when = _hours(columns)
    high, low = max(hours, key=lambda at: ranges[at][1]), min(hours, key=lambda at: ranges[at][1])
    words = [f"{ranges[at][0]:.1f} to {ranges[at][2]:.1f} MHz at {columns[at]['utc'][11:16]} UTC" for at in (high, low)]
    return NEAR_VERTICAL[when].format(" and ".join(dict.fromkeys(words)))


def _distances(reach: Sequence[Mapping[str, Any]], columns: Sequence[Mapping[str, Any]]) -> list[dict[str, str]]:
    """For each band the ground that one hop covers in the hours that matter."""
    counted, _ = _hours(columns)
    found: dict[tuple[str, str], list[str]] = {}
    for band in reach:
        hours = [(band["skip_km"][at], band["reach_km"][at]) for at in counted if band["skip_km"][at] is not None]
        if hours:
            missing = len(counted) - len(hours)
            gaps = f"; in {missing} of {len(counted)} hours nowhere" if missing else ""
            words = _range([one[0] for one in hours]), _range([one[1] for one in hours]) + gaps
            found.setdefault(words, []).append(band["band"])
    return [{"band": ", ".join(bands), "skip": skip, "reach": far} for (skip, far), bands in found.items()]


def _range(distances: Sequence[float]) -> str:
    low, high = min(distances), max(distances)
    return f"{low:,.0f} km" if low == high else f"{low:,.0f} to {high:,.0f} km"


def _basis(outlook: Mapping[str, Any]) -> Iterator[str]:
    assumed, index, sent = outlook["assumed"], outlook["index"], outlook["sent"]
    yield (
        f"ITU-R P.533 with {outlook['model']}; solar flux {index['f107']:.0f} (sunspot number "
        f"{index['sunspot_number']:.0f})."
    )
    yield (
        f"{_basis_sent(sent)}, both antennas together {assumed['gains_db']:g} dB, "
        f"{assumed['noise']} noise at the other end. The ionosphere over the station stands for that of the whole "
        "path: beyond 500 km the chart runs early to the west and late to the east."
    )


def _basis_sent(sent: Sequence[Mapping[str, Any]]) -> str:
    if len(sent) == 1:
        return f"{sent[0]['power_w']:g} W, {sent[0]['mode']}"
    words = "; ".join(_sent_words(index, sent) for index in range(len(sent)))
    return f'Power and mode as the row "sent" has them ({words})'
