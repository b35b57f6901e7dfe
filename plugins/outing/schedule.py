"""The schedule in hours after the arrival, refused with the place in the plan where it contradicts itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any, NoReturn

from afield.core.api import CannotTell, InputError, Origin
from afield.plugins.outing.clocks import DAY, Clock, longest_step, minutes_after, unwrapped

DEFAULTS = ("mode", "band", "frequency_mhz", "power_w", "transmit_share", "transmit_share_around")
WHERE = ("band", "frequency_mhz")
NO_ZONE = "the schedule mixes local times with times in UTC (with a Z), and the time zone of the place is not known"


@dataclass(frozen=True, slots=True)
class Named:
    """A time of the schedule: what it is, when, and its path inside the schedule."""

    what: str
    clock: Clock
    path: tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot as stated: its name, its times if it has any, what it states beside them, and where it is written."""

    name: str
    start: Clock | None
    end: Clock | None
    states: Mapping[str, Any]
    origin: Origin


@dataclass(frozen=True, slots=True)
class Schedule:
    """A schedule as stated, with its place in the plan."""

    arrive: Clock | None
    on_air: tuple[Clock, Clock]
    leave: Clock | None
    states: Mapping[str, Any]
    slots: Sequence[Slot]
    origin: Origin

    def refuse(self, what: str, advice: str, *path: str | int) -> NoReturn:
        """Raise the input error that points at a value of the schedule."""
        raise _error(self.origin, what, advice, *path)


def _error(origin: Origin, what: str, advice: str, *path: str | int) -> InputError:
    return InputError([origin.document.problem(origin.path + path, what, advice)])


def timeline(schedule: Schedule) -> dict[str, Any]:
    """The schedule as plain JSON: hours after arrival, and what holds in each slot.

    Raises:
        InputError: it contradicts itself.
        CannotTell: local times and UTC are mixed, or one of several slots has no times.

    """
    _refuse_mixed(schedule)
    named = _named(schedule)
    hours = _hours(schedule, named)
    on_air = [hours["on_air 0"], hours["on_air 1"]]
    leave_h = hours.get("leave", on_air[1])
    clock = {"arrive": named[0].clock.text, "leave": named[-1].clock.text}
    slots = list(_slots(schedule, named[0].clock, named[-1].clock, on_air, leave_h))
    _refuse_overlap(schedule, slots)
    return {"arrive_h": 0.0, "leave_h": leave_h, "clock": clock, "on_air": [on_air], "slots": slots}


def _refuse_mixed(schedule: Schedule) -> None:
    slots = [clock for slot in schedule.slots for clock in (slot.start, slot.end)]
    stated = [schedule.arrive, *schedule.on_air, schedule.leave, *slots]
    if len({clock.utc for clock in stated if clock is not None}) > 1:
        raise CannotTell(NO_ZONE, "schedule", "missing input", "trip")


def _named(schedule: Schedule) -> list[Named]:
    start, end = schedule.on_air
    arrive = [Named("the arrival", schedule.arrive, ("arrive",))] if schedule.arrive else []
    leave = [Named("the departure", schedule.leave, ("leave",))] if schedule.leave else []
    begins, ends = Named("the start on the air", start, ("on_air", 0)), Named("the end on the air", end, ("on_air", 1))
    return [*arrive, begins, ends, *leave]


def _hours(schedule: Schedule, named: Sequence[Named]) -> dict[str, float]:
    clocks = [each.clock for each in named]
    passed = unwrapped(clocks)
    start, end = schedule.on_air
    if not minutes_after(start, end):
        what = f"the time on the air begins and ends at {end.text}"
        schedule.refuse(what, "Write two times, the start first; an end after midnight is fine.", "on_air", 1)
    if passed[-1] >= DAY:
        _refuse_order(schedule, named)
    return {" ".join(map(str, each.path)): minutes / 60 for each, minutes in zip(named, passed, strict=True)}


def _refuse_order(schedule: Schedule, named: Sequence[Named]) -> NoReturn:
    if named[0].clock.minute == named[-1].clock.minute:
        what = f"the outing begins and ends at {named[-1].clock.text}"
        schedule.refuse(what, "It must be shorter than 24 h: mend one of the two times.", *named[-1].path)
    index = longest_step([each.clock for each in named])
    late, early = named[index], named[index - 1]
    what = f"{late.what}, {late.clock.text}, lies before {early.what}, {early.clock.text}"
    advice = (
        "The times are arrive, on_air from and to, leave, in that order; over midnight they run on, but the whole must "
        "be shorter than 24 h."
    )
    schedule.refuse(what, advice, *late.path)


def _slots(
    schedule: Schedule, arrive: Clock, leave: Clock, on_air: Sequence[float], leave_h: float
) -> Iterator[dict[str, Any]]:
    if not schedule.slots:
        yield _slot("on air", on_air, schedule.states, {})
    for slot in schedule.slots:
        span = _span(slot, arrive, leave, leave_h) or _whole(schedule, slot, on_air)
        yield _slot(slot.name, span, schedule.states, slot.states)


def _whole(schedule: Schedule, slot: Slot, on_air: Sequence[float]) -> Sequence[float]:
    """A slot without times is the whole time on the air, if it is the only one."""
    if len(schedule.slots) == 1 and slot.start is None and slot.end is None:
        return on_air
    lacking = "from" if slot.start is None else "to"
    raise CannotTell(f"slot {slot.name} does not say its times", f"schedule.slots[].{lacking}", "missing input", "trip")


def _span(slot: Slot, arrive: Clock, leave: Clock, leave_h: float) -> list[float] | None:
    if slot.start is None or slot.end is None:
        return None
    lasting = minutes_after(slot.start, slot.end)
    if not lasting:
        raise _error(slot.origin, f"slot {slot.name} begins and ends at {slot.end.text}", "Write two times.", "to")
    begins = minutes_after(arrive, slot.start)
    if (begins + lasting) / 60 > leave_h:
        what = f"slot {slot.name}, {slot.start.text} to {slot.end.text}, reaches beyond the outing"
        advice = f"The outing is from {arrive.text} to {leave.text}: mend the slot, or arrive and leave."
        raise _error(slot.origin, what, advice, "from" if begins / 60 >= leave_h else "to")
    return [begins / 60, (begins + lasting) / 60]


def _slot(name: str, span: Sequence[float], common: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    # A band and a frequency belong together: one of a slot's own is never paired with the other of the schedule.
    elsewhere = any(own.get(key) is not None for key in WHERE)
    kept = {key: value for key, value in common.items() if not (elsewhere and key in WHERE)}
    states = {key: kept.get(key) if own.get(key) is None else own[key] for key in DEFAULTS}
    return {"name": name, "from_h": span[0], "to_h": span[1], **states, "operator": own.get("operator")}


def _refuse_overlap(schedule: Schedule, slots: Sequence[Mapping[str, Any]]) -> None:
    for (first, one), (second, other) in combinations(enumerate(slots), 2):
        apart = one["to_h"] <= other["from_h"] or other["to_h"] <= one["from_h"]
        if apart or one["operator"] != other["operator"]:
            continue
        who = f"operator {other['operator']}" if other["operator"] else "nobody named"
        what = f"slots {one['name']} and {other['name']} overlap, and {who} is at both"
        advice = (
            f"Mend their times, or name the operator of each; the other is at {schedule.slots[first].origin.place()}."
        )
        raise _error(schedule.slots[second].origin, what, advice, "from")
