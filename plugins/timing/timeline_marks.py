"""What stands beside the timeline: every event of the outing and of the sky, in its order."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from afield.plugins.timing.changes import clock_changes
from afield.plugins.timing.computations.clock import dates_between, utc_midnight
from afield.plugins.timing.timeline_words import Clocks, day_words, length_words, short_day

SKY = ("sunrise", "sunset", "civil dawn", "civil dusk")
"""The events of the sky that are named; the others only shade the drawing."""
NEAR = timedelta(minutes=90)
"""How far beyond the outing an event of the sky is still shown: it tells how soon it gets dark, or light."""
ORDER = ("utc day", "local day", "clock", "gate", "plan", "battery", "turn back", "sky")


@dataclass(frozen=True, slots=True)
class Mark:
    """An event: its instant, its kind (one of ORDER), its words, and fewer of them for the drawing."""

    at: datetime
    kind: str
    words: str
    label: str = ""


@dataclass(frozen=True, slots=True)
class Outing:
    """The facts of the section: the schedule and its stages, the sky, when to turn back, the clocks, and the gates.

    Attributes:
        gates: name of a reference -> its opening hours, as the fact `reference.hours` has them.
        battery_end: when the first battery that a transmitter needs is empty, where a plugin tells it.

    """

    instants: Mapping[str, Any]
    stages: Sequence[Mapping[str, Any]]
    events: Sequence[Mapping[str, str]]
    turn_back: Mapping[str, Any] | None
    clocks: Clocks
    gates: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    battery_end: datetime | None = None


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
    for stage in outing.stages:
        until = outing.clocks.local_words(datetime.fromisoformat(stage["to"]))
        name = str(stage["name"])
        words = f"{name} until {until}" if stage["kind"] == "on air" else name
        yield datetime.fromisoformat(stage["from"]), name, words
    for _, end in instants["on_air"][-1:]:
        if all(stage["from"] != end for stage in outing.stages):
            yield datetime.fromisoformat(end), "off the air", "off the air"
    last = outing.stages[-1] if outing.stages else None
    if last and last["kind"] in ("walk", "drive"):
        words = "home" if last["kind"] == "drive" else "walk ends"
        yield datetime.fromisoformat(last["to"]), words, words


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
    for name, hours in outing.gates.items():
        for span in hours["spans"]:
            for at, word in zip(span, ("opens", "closes"), strict=True):
                found.setdefault((datetime.fromisoformat(at), word), []).append(name)
    for (at, word), names in found.items():
        yield Mark(at, "gate", f"{' and '.join(names)} {word if len(names) == 1 else word[:-1]}", f"gate {word}")


def _battery(outing: Outing) -> Iterator[Mark]:
    if outing.battery_end is not None:
        yield Mark(outing.battery_end, "battery", "the battery ends", "battery ends")


def turn_words(outing: Outing) -> str:
    """Whether the time to turn back is the plan's, or the latest that the light allows."""
    stated = outing.turn_back is not None and outing.turn_back["detail"].get("stated")
    return "turn back" if stated else "latest turn back, to walk in light"


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
