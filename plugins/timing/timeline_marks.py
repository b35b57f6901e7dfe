"""What stands beside the timeline: every event of the outing and of the sky, in its order."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any

from afield.plugins.timing.changes import clock_changes
from afield.plugins.timing.computations.clock import dates_between, utc_midnight
from afield.plugins.timing.timeline_outing import Mark, Outing, gate_events, turn_words
from afield.plugins.timing.timeline_words import day_words, length_words, short_day, slot_words

SKY = ("sunrise", "sunset", "civil dawn", "civil dusk")
"""The events of the sky that are named; the others only shade the drawing."""
NEAR = timedelta(minutes=90)
"""How far beyond the outing an event of the sky is still shown: it tells how soon it gets dark, or light."""


def plan_marks(outing: Outing) -> list[Mark]:
    """The events of the plan; those of one instant are one mark."""
    found: dict[datetime, dict[str, str]] = {}
    for at, label, words in sorted(_plan_events(outing), key=lambda event: event[0]):
        found.setdefault(at, {})[label] = words
    return [Mark(at, "plan", ", ".join(words.values()), _label(words)) for at, words in found.items()]


def _label(words: Collection[str]) -> str:
    """The words of one instant, the start of the way back left out: that one leaves is enough."""
    return "leave" if "leave" in words else ", ".join(words)


def _plan_events(outing: Outing) -> Iterator[tuple[datetime, str, str]]:
    """Instant, words for the drawing, words for the table."""
    instants = outing.instants
    for key in ("arrive", "leave"):
        if instants[key]:
            yield datetime.fromisoformat(instants[key]), key, key
    slots = {slot["name"]: slot_words(slot) for slot in instants["slots"]}
    for stage in outing.stages:
        until = outing.clocks.local_words(datetime.fromisoformat(stage["to"]))
        name = str(stage["name"])
        words = f"{name} until {until}" if stage["kind"] == "on air" else name
        more = slots.get(name) if stage["kind"] == "on air" else None
        yield datetime.fromisoformat(stage["from"]), name, f"{words}: {more}" if more else words
    yield from _slot_ends(instants)
    for _, end in instants["on_air"][-1:]:
        if all(stage["from"] != end for stage in outing.stages):
            yield datetime.fromisoformat(end), "off the air", "off the air"
    last = outing.stages[-1] if outing.stages else None
    if last and last["kind"] in ("walk", "drive"):
        words = "home" if last["kind"] == "drive" else "walk ends"
        yield datetime.fromisoformat(last["to"]), words, words


def _slot_ends(instants: Mapping[str, Any]) -> Iterator[tuple[datetime, str, str]]:
    """The ends of slots after which no other begins at once: the start of that one is enough."""
    starts = {slot["from"] for slot in instants["slots"]}
    for slot in instants["slots"]:
        if slot["to"] not in starts:
            yield datetime.fromisoformat(slot["to"]), f"{slot['name']} ends", f"{slot['name']} ends"


def other_marks(outing: Outing, start: datetime, end: datetime) -> list[Mark]:
    """Days of UTC and local ones that begin, changes of the clocks, the sky, gates, when to turn back, in a window."""
    marks = [
        *_days(outing, start, end), *_changes(outing, start, end), *_sky(outing), *_turn_back(outing), *_gates(outing),
        *_battery(outing),
    ]  # fmt: skip
    return [mark for mark in marks if start <= mark.at <= end]


def _days(outing: Outing, start: datetime, end: datetime) -> Iterator[Mark]:
    for day in dates_between(start, end + timedelta(days=1)):
        label = f"00:00 UTC, {short_day(day)}"
        yield Mark(utc_midnight(day), "utc day", f"00:00 UTC: {day_words(day)} begins", label)
    first = outing.clocks.local(start).date()
    for shift in range(1, (outing.clocks.local(end).date() - first).days + 1):
        day = first + timedelta(days=shift)
        midnight = datetime(day.year, day.month, day.day, tzinfo=outing.clocks.zone)
        yield Mark(
            outing.clocks.minute(midnight), "local day", f"{day_words(day)} begins, local", f"{short_day(day)}, local"
        )


def _changes(outing: Outing, start: datetime, end: datetime) -> Iterator[Mark]:
    for change in clock_changes(outing.clocks.zone, start, end):
        way = "forward" if change.by_min > 0 else "back"
        length = length_words(change.by_min)
        label = f"clock {'+' if change.by_min > 0 else '-'}{length}"
        yield Mark(change.at, "clock", f"clocks go {way} {length}", label)


def _sky(outing: Outing) -> Iterator[Mark]:
    for event in outing.events:
        if event["name"] in SKY:
            yield Mark(datetime.fromisoformat(event["at"]), "sky", event["name"])


def _turn_back(outing: Outing) -> Iterator[Mark]:
    if outing.turn_back is not None:
        yield Mark(datetime.fromisoformat(outing.turn_back["value"]), "turn back", turn_words(outing), "turn back")


def _gates(outing: Outing) -> Iterator[Mark]:
    """The edges of the opening hours; those of several references at one instant are one mark."""
    found: dict[tuple[datetime, str], list[str]] = {}
    for at, word, name in gate_events(outing):
        found.setdefault((at, word), []).append(name)
    for (at, word), all_names in found.items():
        names = list(dict.fromkeys(all_names))
        yield Mark(at, "gate", f"{' and '.join(names)} {word if len(names) == 1 else word[:-1]}", f"gate {word}")


def later_sky(outing: Outing, end: datetime) -> Iterator[Mark]:
    """Sunset and civil dusk after an outing that ends in light, where they lie beyond what is drawn."""
    last = max([outing.instants["end"], *(stage["to"] for stage in outing.stages)])
    for mark in sorted(_sky(outing), key=lambda mark: mark.at):
        if mark.at > datetime.fromisoformat(last):
            if mark.words not in ("sunset", "civil dusk"):
                return
            if mark.at > end:
                yield mark


def _battery(outing: Outing) -> Iterator[Mark]:
    if outing.battery_end is not None:
        yield Mark(outing.battery_end, "battery", "the battery ends", "battery ends")


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
