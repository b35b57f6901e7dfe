"""The JSON of the section that lays the outing on both clocks; every word of it is made here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Any

from afield.core.api import _, day_in_words, marked
from afield.plugins.timing.calendar_events import calendar_events, calendar_stamp
from afield.plugins.timing.computations.zone_files import zone_of
from afield.plugins.timing.saying import span_words
from afield.plugins.timing.timeline_light import LIGHT, light_lines
from afield.plugins.timing.timeline_marks import later_sky, other_marks, plan_marks, window_of
from afield.plugins.timing.timeline_outing import ORDER, Mark, Outing, turn_words
from afield.plugins.timing.timeline_places import Facts, battery_end_of, gates_of, places_of
from afield.plugins.timing.timeline_words import Clocks, offset_words, short

STATED = ("schedule.arrive", "schedule.on_air", "schedule.leave", "slot.start")
WANTS = (
    *STATED, "trip.title", "trip.date", "place.zone", "place.zone_data", "schedule.instants", "schedule.stages",
    "sun.events", "sun.phases", "travel.turn_back_at", *LIGHT, "reference.has_hours", "reference.hours",
    "reference.permit", "reference.title", "energy.first_end", "station.position",
)  # fmt: skip
EMPTY = (
    "local_hours", "utc_hours", "phases", "stages", "marks", "rows", "light", "places", "shades", "notes", "calendar",
)  # fmt: skip
"""What the section has none of where the times cannot be laid on the clocks."""
HORIZON = marked("Level horizon and clear sky: hills, trees and cloud make it dark earlier and light later.")
STEPS_H = (1, 2, 3, 6, 12)
SHADES = {
    "day": marked("sun above the horizon"),
    "civil twilight": marked("civil twilight: light enough to work outdoors in clear weather"),
    "nautical twilight": marked("nautical twilight: dark on the ground"),
    "astronomical twilight": marked("astronomical twilight"),
    "night": marked("night"),
}


def timeline_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/timeline.json); None if the plan states no time of day."""
    if not any(_known(record) for name in STATED for record in facts[name].values()):
        return None
    record = facts["schedule.instants"]["trip"]
    if not _known(record):
        return _silent(record["reason"])
    outing = _outing(facts, record["value"])
    start, end = window_of(outing)
    marks = sorted([*plan_marks(outing), *other_marks(outing, start, end)], key=_by_time)
    return {
        "trouble": None,
        "headline": _headline(outing),
        "zone": _zone_words(outing),
        "minutes": _minutes(start, end),
        "begins": {"local": _short(outing.clocks.local(start)), "utc": _short(start)},
        "local_hours": list(_hours(outing.clocks, start, end)),
        "utc_hours": list(_hours(None, start, end)),
        "phases": list(_cut(_value(facts["sun.phases"]) or [], "phase", start, end)),
        "stages": _lanes(list(_cut(outing.stages, "kind", start, end))),
        "marks": [_mark(mark, outing.clocks, start) for mark in marks],
        "rows": [_row(mark, outing.clocks) for mark in [*marks, *sorted(_later(outing, end), key=_by_time)]],
        "light": list(light_lines(facts)),
        "places": list(places_of(facts)),
        "shades": _shades(facts, start, end),
        "notes": list(_notes(facts)),
        "calendar": calendar_events(outing, str(_value(facts["trip.title"]))),
        "calendar_stamp": calendar_stamp(record["value"]),
        "calendar_place": _place(_value(facts["station.position"])),
    }


def _silent(reason: Mapping[str, Any]) -> dict[str, Any]:
    """The section where the times cannot be laid on the clocks: why, and what to state."""
    trouble = _("Cannot tell: {reason}.").format(reason=reason["text"])
    settle = _("State `{input}`.").format(input=reason["settle"]) if reason["settle"] else ""
    return {
        "trouble": " ".join(part for part in (trouble, settle) if part),
        "headline": None,
        "zone": None,
        "minutes": 0,
        "begins": {"local": "", "utc": ""},
        "calendar_stamp": None,
        "calendar_place": None,
        **{key: [] for key in EMPTY},
    }


def _short(at: datetime) -> str:
    return day_in_words(at.date(), short=True)


def _known(record: Mapping[str, Any]) -> bool:
    return record["reason"] is None


def _value(records: Mapping[str, Mapping[str, Any]]) -> Any:
    record = records.get("trip")
    return record["value"] if record and _known(record) else None


def _outing(facts: Facts, instants: Mapping[str, Any]) -> Outing:
    clocks = Clocks(zone_of(instants["zone"]), date.fromisoformat(_value(facts["trip.date"])))
    turn_back = facts["travel.turn_back_at"].get("trip")
    return Outing(
        instants, _value(facts["schedule.stages"]) or [], _value(facts["sun.events"]) or [],
        turn_back if turn_back and _known(turn_back) else None, clocks, gates_of(facts),
        battery_end_of(facts, instants),
    )  # fmt: skip


def _by_time(mark: Mark) -> tuple[datetime, int]:
    return mark.at, ORDER.index(mark.kind)


def _minutes(start: datetime, at: datetime) -> float:
    return round((at - start).total_seconds() / 60, 2)


def _headline(outing: Outing) -> str | None:
    spans = outing.instants["on_air"]
    if not spans:
        return None
    ends = [datetime.fromisoformat(text) for text in (spans[0][0], spans[-1][1])]
    local, utc = (span_words(*map(of, ends)) for of in (outing.clocks.local_words, outing.clocks.utc_words))
    midnight = (ends[1] - timedelta(microseconds=1)).replace(hour=0, minute=0, second=0, microsecond=0)
    if ends[0] >= midnight:
        return _("On the air {local} local, {utc}.").format(local=local, utc=utc)
    text = _("On the air {local} local, {utc}; 00:00 UTC is at {midnight} local.")
    return text.format(local=local, utc=utc, midnight=outing.clocks.local_words(midnight))


def _zone_words(outing: Outing) -> str:
    instants, clocks = outing.instants, outing.clocks
    ends = [datetime.fromisoformat(instants[key]) for key in ("start", "end")]
    offsets = _(" then ").join(dict.fromkeys(offset_words(clocks.offset(at)) for at in ends))
    text = _("Local time is that of {zone} ({offsets}), by tzdata {release}.")
    return text.format(zone=instants["zone"], offsets=offsets, release=instants["tzdata"])


def _hours(clocks: Clocks | None, start: datetime, end: datetime) -> Iterator[dict[str, Any]]:
    """The full hours of a clock within the window, fewer of them where it is long."""
    step = next((step for step in STEPS_H if (end - start) / timedelta(hours=step) <= 32), STEPS_H[-1])
    at = start.replace(minute=start.minute - start.minute % 15, second=0, microsecond=0)
    while at <= end:
        shown = at if clocks is None else at.astimezone(clocks.zone)
        if at >= start and shown.minute == 0 and shown.hour % step == 0:
            yield {"at_min": _minutes(start, at), "words": f"{shown:%H:%M}"}
        at += timedelta(minutes=15)


def _cut(spans: Sequence[Mapping[str, Any]], kind: str, start: datetime, end: datetime) -> Iterator[dict[str, Any]]:
    """Spans as minutes of the window, cut to it."""
    for span in spans:
        low, high = (datetime.fromisoformat(span[key]) for key in ("from", "to"))
        if low < end and high > start:
            ends = {"from_min": _minutes(start, max(low, start)), "to_min": _minutes(start, min(high, end))}
            yield {"kind": span[kind], **ends}


def _lanes(stages: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Stages that overlap side by side: each with its lane, and how many there are."""
    ends: list[float] = []
    placed = []
    for stage in stages:
        free = next((lane for lane, end in enumerate(ends) if end <= stage["from_min"]), len(ends))
        ends[free:] = [stage["to_min"], *ends[free + 1 :]]
        placed.append({**stage, "lane": free})
    return [{**stage, "lanes": len(ends)} for stage in placed]


def _mark(mark: Mark, clocks: Clocks, start: datetime) -> dict[str, Any]:
    words = mark.label or mark.words
    timed = words if mark.kind == "utc day" else f"{clocks.local(mark.at):%H:%M} {words}"
    return {"at_min": _minutes(start, mark.at), "kind": mark.kind, "words": short(timed)}


def _row(mark: Mark, clocks: Clocks) -> dict[str, Any]:
    local, utc = clocks.local_words(mark.at), clocks.utc_words(mark.at)
    return {"kind": mark.kind, "words": mark.words, "local": local, "utc": utc}


def _later(outing: Outing, end: datetime) -> Iterator[Mark]:
    """What is told of the time after the drawing: the latest time to turn back, and when it gets dark."""
    yield from later_sky(outing, end)
    if outing.turn_back is not None and datetime.fromisoformat(outing.turn_back["value"]) > end:
        yield Mark(datetime.fromisoformat(outing.turn_back["value"]), "turn back", turn_words(outing))


def _shades(facts: Facts, start: datetime, end: datetime) -> list[dict[str, str]]:
    drawn = {span["kind"] for span in _cut(_value(facts["sun.phases"]) or [], "phase", start, end)}
    return [{"phase": phase, "words": _(words)} for phase, words in SHADES.items() if phase in drawn]


def _place(position: Mapping[str, Any] | None) -> dict[str, Any] | None:
    """The station's place for the calendar: degrees, and the words that are read."""
    if position is None:
        return None
    lat, lon = position["lat"], position["lon"]
    return {"lat_deg": lat, "lon_deg": lon, "words": f"{lat:.5f}, {lon:.5f}"}


def _notes(facts: Facts) -> Iterator[str]:
    yield from facts["schedule.instants"]["trip"]["notes"]
    record = facts["sun.events"].get("trip")
    if record and _known(record):
        yield _(HORIZON)
    elif record and record["reason"]["text"]:
        yield _("The sky is not drawn: {reason}.").format(reason=record["reason"]["text"])
