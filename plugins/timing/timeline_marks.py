"""What stands beside the timeline: every event of the outing and of the sky, in its order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from afield.core.api import _, day_in_words, in_context, marked
from afield.plugins.timing.changes import clock_changes
from afield.plugins.timing.computations.clock import dates_between, utc_midnight
from afield.plugins.timing.timeline_outing import DRAWN, PLANNED, Mark, Outing, gate_events, gate_words, turn_words
from afield.plugins.timing.timeline_words import length_words, slot_words

SKY = {
    "sunrise": (marked("sunrise"), marked("drawing|sunrise")),
    "sunset": (marked("sunset"), marked("drawing|sunset")),
    "civil dawn": (marked("civil dawn"), marked("drawing|civil dawn")),
    "civil dusk": (marked("civil dusk"), marked("drawing|civil dusk")),
}
"""The events of the sky that are named, for the table and for the drawing; the others only shade it."""
GATES = {"opens": marked("gate opens"), "closes": marked("gate closes")}
NEAR = timedelta(minutes=90)
"""How far beyond the outing an event of the sky is still shown: it tells how soon it gets dark, or light."""


class _Event(NamedTuple):
    """An event of the plan: its name in the data, its words for the table, and those for the drawing."""

    at: datetime
    key: str
    words: str
    label: str


def plan_marks(outing: Outing) -> list[Mark]:
    """The events of the plan; those of one instant are one mark."""
    found: dict[datetime, dict[str, _Event]] = {}
    for event in sorted(_plan_events(outing), key=lambda event: event.at):
        found.setdefault(event.at, {})[event.key] = event
    return [
        Mark(at, "plan", ", ".join(event.words for event in events.values()), _label(events))
        for at, events in found.items()
    ]


def _label(events: Mapping[str, _Event]) -> str:
    """The words of one instant, the start of the way back left out: that one leaves is enough."""
    return events["leave"].label if "leave" in events else ", ".join(event.label for event in events.values())


def _planned(at: str, key: str) -> _Event:
    return _Event(datetime.fromisoformat(at), key, in_context(PLANNED[key]), in_context(DRAWN[key]))


def _plan_events(outing: Outing) -> Iterator[_Event]:
    instants = outing.instants
    yield from (_planned(instants[key], key) for key in ("arrive", "leave") if instants[key])
    for stage in outing.stages:
        yield _on_air(stage, outing) if stage["kind"] == "on air" else _planned(stage["from"], stage["name"])
    yield from _slot_ends(instants)
    for span in instants["on_air"][-1:]:
        if all(stage["from"] != span[1] for stage in outing.stages):
            yield _planned(span[1], "off the air")
    last = outing.stages[-1] if outing.stages else None
    if last and last["kind"] in ("walk", "drive"):
        yield _planned(last["to"], "home" if last["kind"] == "drive" else "walk ends")


def _on_air(stage: Mapping[str, Any], outing: Outing) -> _Event:
    """Time on the air, with what a slot states of it; a slot has a name of its own."""
    key = str(stage["name"])
    slots = {slot["name"]: slot_words(slot) for slot in outing.instants["slots"]}
    name = key if slots else in_context(PLANNED[key])
    until = outing.clocks.local_words(datetime.fromisoformat(stage["to"]))
    text = _("{name} until {until}: {more}") if slots.get(key) else _("{name} until {until}")
    words = text.format(name=name, until=until, more=slots.get(key))
    return _Event(datetime.fromisoformat(stage["from"]), key, words, name)


def _slot_ends(instants: Mapping[str, Any]) -> Iterator[_Event]:
    """The ends of slots after which no other begins at once: the start of that one is enough."""
    starts = {slot["from"] for slot in instants["slots"]}
    for slot in instants["slots"]:
        if slot["to"] not in starts:
            words = _("{name} ends").format(name=slot["name"])
            yield _Event(datetime.fromisoformat(slot["to"]), f"{slot['name']} ends", words, words)


def other_marks(outing: Outing, start: datetime, end: datetime) -> list[Mark]:
    """Days of UTC and local ones that begin, changes of the clocks, the sky, gates, when to turn back, in a window."""
    marks = [
        *_days(outing, start, end), *_changes(outing, start, end), *_sky(outing), *_turn_back(outing), *_gates(outing),
        *_battery(outing),
    ]  # fmt: skip
    return [mark for mark in marks if start <= mark.at <= end]


def _days(outing: Outing, start: datetime, end: datetime) -> Iterator[Mark]:
    for day in dates_between(start, end + timedelta(days=1)):
        words = _("00:00 UTC: {day} begins").format(day=day_in_words(day))
        yield Mark(utc_midnight(day), "utc day", words, f"00:00 UTC, {day_in_words(day, short=True)}")
    first = outing.clocks.local(start).date()
    for shift in range(1, (outing.clocks.local(end).date() - first).days + 1):
        day = first + timedelta(days=shift)
        midnight = datetime(day.year, day.month, day.day, tzinfo=outing.clocks.zone)
        words = _("{day} begins, local").format(day=day_in_words(day))
        label = in_context(marked("drawing|{day}, local")).format(day=day_in_words(day, short=True))
        yield Mark(outing.clocks.minute(midnight), "local day", words, label)


def _changes(outing: Outing, start: datetime, end: datetime) -> Iterator[Mark]:
    for change in clock_changes(outing.clocks.zone, start, end):
        forward, length = change.by_min > 0, length_words(change.by_min)
        words = _("clocks go forward {length}") if forward else _("clocks go back {length}")
        label = _("clock {change}").format(change=f"{'+' if forward else '-'}{length}")
        yield Mark(change.at, "clock", words.format(length=length), label)


def _sky(outing: Outing) -> Iterator[Mark]:
    return (mark for name, mark in _named_sky(outing))


def _named_sky(outing: Outing) -> Iterator[tuple[str, Mark]]:
    """The events of the sky that are named, each with its name in the data."""
    for event in outing.events:
        if event["name"] in SKY:
            words, label = SKY[event["name"]]
            yield event["name"], Mark(datetime.fromisoformat(event["at"]), "sky", _(words), in_context(label))


def _turn_back(outing: Outing) -> Iterator[Mark]:
    if outing.turn_back is not None:
        yield Mark(datetime.fromisoformat(outing.turn_back["value"]), "turn back", turn_words(outing), _("turn back"))


def _gates(outing: Outing) -> Iterator[Mark]:
    """The edges of the opening hours; those of several references at one instant are one mark."""
    found: dict[tuple[datetime, str], list[str]] = {}
    for at, word, name in gate_events(outing):
        found.setdefault((at, word), []).append(name)
    for (at, word), all_names in found.items():
        names = list(dict.fromkeys(all_names))
        yield Mark(at, "gate", gate_words(names, word), _(GATES[word]))


def later_sky(outing: Outing, end: datetime) -> Iterator[Mark]:
    """Sunset and civil dusk after an outing that ends in light, where they lie beyond what is drawn."""
    last = max([outing.instants["end"], *(stage["to"] for stage in outing.stages)])
    for name, mark in sorted(_named_sky(outing), key=lambda named: named[1].at):
        if mark.at > datetime.fromisoformat(last):
            if name not in ("sunset", "civil dusk"):
                return
            if mark.at > end:
                yield mark


def _battery(outing: Outing) -> Iterator[Mark]:
    if outing.battery_end is not None:
        yield Mark(outing.battery_end, "battery", _("the battery ends"), _("battery ends"))


def window_of(outing: Outing) -> tuple[datetime, datetime]:
    """The time that is drawn: the outing with its ways, events of the sky near its ends, and a margin."""
    ends = [outing.instants["start"], outing.instants["end"]]
    ends += [stage[key] for stage in outing.stages for key in ("from", "to")]
    if outing.turn_back is not None:
        ends += [outing.turn_back["value"]] if outing.turn_back["detail"].get("stated") else []
    start, end = (datetime.fromisoformat(text) for text in (min(ends), max(ends)))
    others = (*_sky(outing), *_turn_back(outing), *_gates(outing))
    near = [mark.at for mark in others if start - NEAR <= mark.at <= end + NEAR]
    start, end = min([start, *near]), max([end, *near])
    pad = max(timedelta(minutes=15), (end - start) / 30)
    return start - pad, end + pad
