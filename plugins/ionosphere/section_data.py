"""The outlook as the briefing prints it: rows of a chart, a table of distances, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import _, all_of, grouped, local_digits, marked
from afield.plugins.ionosphere.basis_words import basis_words, mark, sent_words
from afield.plugins.ionosphere.facts import INSTALL
from afield.plugins.ionosphere.grey_line import grey_line_words

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]

SUN = ("conditions.f107", "conditions.sunspot_number")
WANTS = ("bands.outlook", *SUN, "schedule.instants", "sun.events")
NEAR_KM = 300
REASONS = {
    "above the usable frequency": marked("{bands}: too high a frequency"),
    "too weak": marked("{bands}: too weak"),
}
SHORT = {
    "": "", "above the usable frequency": "frequency", "near the usable frequency": "frequency", "too weak": "signal",
    "weak": "signal",
}  # fmt: skip
"""Why a band is not open, as the outlook has it -> what it lacks."""
NEAR_VERTICAL = {
    "on air": marked("While on the air, near-vertical paths by the F2 layer are best worked at {frequencies}, ± 20 %."),
    "outing": marked(
        "During the outing, near-vertical paths by the F2 layer are best worked at {frequencies}, ± 20 %."
    ),
}
ONE_HOP = {
    "on air": marked("Where one hop is open or marginal while on the air"),
    "outing": marked("Where one hop is open or marginal during the outing"),
}
HOPS = marked(
    "One hop of it; two or more reach farther where the signal is strong enough, and the chart takes them in."
)


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
    why, settle = str(reason["text"]), reason["settle"]
    if settle is None:
        return why
    words = _("{why}; install {package}") if settle == INSTALL else _("{why}; {input} in the plan would settle it")
    return words.format(why=why, input=settle, package=INSTALL.removeprefix("install "))


def chart_of(outlook: Mapping[str, Any], notes: Sequence[str]) -> dict[str, Any]:
    """Columns, the panels of the paths, the table of distances, and the lines on what it rests on."""
    columns = outlook["columns"]
    several = len(outlook["sent"]) > 1
    return {
        "zone": outlook["zone"],
        "columns": [{**column, "sent": mark(column["sent"]) if several else ""} for column in columns],
        "sent": [sent_words(index, outlook["sent"]) for index in range(len(outlook["sent"]))] if several else [],
        "panels": [_panel(path) for path in outlook["paths"]],
        "near_vertical": _near_vertical(outlook["near_vertical_mhz"], columns),
        "distances": _distances(outlook["reach"], columns),
        "distances_title": _(ONE_HOP[_hours(columns)[1]]),
        "hops": _(HOPS),
        "basis": [*basis_words(outlook), *notes],
        "limits": [_(limit) for limit in outlook["limits"]],
    }


def _panel(path: Mapping[str, Any]) -> dict[str, Any]:
    rows = [
        {"band": one["band"], "states": one["states"], "lacks": [SHORT[because] for because in one["because"]]}
        for one in path["bands"]
    ]
    shown = [row for row in rows if set(row["states"]) != {"closed"}]
    return {"title": _title(path["km"]), "rows": shown, "closed": list(_closed(path))}


def _title(km: float) -> str:
    words = _("Near-vertical path of {km} km") if km <= NEAR_KM else _("Path of {km} km")
    return words.format(km=grouped(km))


def _closed(path: Mapping[str, Any]) -> Iterator[str]:
    """What is closed throughout, and why: one text for each reason."""
    shut = [band for band in path["bands"] if set(band["states"]) == {"closed"}]
    for because, words in REASONS.items():
        names = [band["band"] for band in shut if set(band["because"]) == {because}]
        if names:
            yield _(words).format(bands=", ".join(names))
    if mixed := [band["band"] for band in shut if len(set(band["because"])) > 1]:
        yield _("{bands}: too weak or too high a frequency").format(bands=", ".join(mixed))


def _hours(columns: Sequence[Mapping[str, Any]]) -> tuple[list[int], str]:
    """The columns on the air, without such the outing's, and which of the two they are."""
    on_air = [at for at, column in enumerate(columns) if column["on_air"]]
    if on_air:
        return on_air, "on air"
    return [at for at, column in enumerate(columns) if column["during"]], "outing"


def _near_vertical(ranges: Sequence[Sequence[float]], columns: Sequence[Mapping[str, Any]]) -> str:
    """The highest and the lowest best frequency of the hours that matter, each with the hour that it is of."""
    hours, when = _hours(columns)
    span = _("{low} to {high} MHz at {hour} UTC")
    high, low = max(hours, key=lambda at: ranges[at][1]), min(hours, key=lambda at: ranges[at][1])
    words = [
        span.format(low=_tenths(ranges[at][0]), high=_tenths(ranges[at][2]), hour=columns[at]["utc"][11:16])
        for at in (high, low)
    ]
    return _(NEAR_VERTICAL[when]).format(frequencies=all_of(list(dict.fromkeys(words))))


def _tenths(number: float) -> str:
    return local_digits(f"{number:.1f}")


def _distances(reach: Sequence[Mapping[str, Any]], columns: Sequence[Mapping[str, Any]]) -> list[dict[str, str]]:
    """For each band the ground that one hop covers in the hours that matter."""
    counted = _hours(columns)[0]
    found: dict[tuple[str, str], list[str]] = {}
    for band in reach:
        hours = [(band["skip_km"][at], band["reach_km"][at]) for at in counted if band["skip_km"][at] is not None]
        if hours:
            near, far = (_range([one[side] for one in hours]) for side in (0, 1))
            words = near, _with_gaps(far, len(counted) - len(hours), len(counted))
            found.setdefault(words, []).append(band["band"])
    return [{"band": ", ".join(bands), "skip": skip, "reach": end} for (skip, end), bands in found.items()]


def _with_gaps(reach: str, missing: int, hours: int) -> str:
    """The reach, and in how many of the hours there is none."""
    words = _("{reach}; in {missing} of {hours} hours nowhere")
    return words.format(reach=reach, missing=missing, hours=hours) if missing else reach


def _range(distances: Sequence[float]) -> str:
    low, high = min(distances), max(distances)
    if low == high:
        return f"{grouped(low)} km"
    return _("{low} to {high} km").format(low=grouped(low), high=grouped(high))
