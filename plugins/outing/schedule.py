"""The schedule in hours after the arrival, refused with the place in the plan where it contradicts itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import Any, NoReturn

from afield.core.api import CannotTell, _, frozen, marked
from afield.plugins.outing.clocks import DAY, Clock, longest_step, minutes_after, unwrapped
from afield.plugins.outing.schedule_written import Named, Schedule, Slot, error_at
from afield.plugins.outing.slot_faults import Frame, Written, fault_of

DEFAULTS = ("mode", "band", "frequency_mhz", "power_w", "transmit_share", "transmit_share_around")
WHERE = ("band", "frequency_mhz")
NO_ZONE = marked(
    "the schedule mixes local times with times in UTC (with a Z), and the time zone of the place is not known"
)


@frozen
class Laid:
    """A schedule in hours after its first time: time on the air, departure, slots, and the first and last clock."""

    on_air: tuple[float, float]
    leave_h: float
    slots: list[dict[str, Any]]
    first: Clock
    last: Clock


def timeline(schedule: Schedule) -> dict[str, Any]:
    """The schedule as plain JSON: hours after arrival, and what holds in each slot.

    Raises:
        InputError: it contradicts itself.
        CannotTell: local times and UTC are mixed, no time on the air is stated, or one of several slots has no times.

    """
    _refuse_mixed(schedule)
    laid = _by_on_air(schedule, *schedule.on_air) if schedule.on_air else _by_slots(schedule)
    _refuse_overlap(schedule, laid.slots)
    clock = {"arrive": laid.first.text, "leave": laid.last.text}
    on_air = [list(laid.on_air)]
    return {"arrive_h": 0.0, "leave_h": laid.leave_h, "clock": clock, "on_air": on_air, "slots": laid.slots}


def _refuse_mixed(schedule: Schedule) -> None:
    slots = [clock for slot in schedule.slots for clock in (slot.start, slot.end)]
    stated = [schedule.arrive, *(schedule.on_air or ()), schedule.leave, *slots]
    if len({clock.utc for clock in stated if clock is not None}) > 1:
        raise CannotTell(_(NO_ZONE), "schedule", "missing input", "trip")


def _by_on_air(schedule: Schedule, start: Clock, end: Clock) -> Laid:
    named = _named(schedule, start, end)
    minutes = _minutes(schedule, named, start, end)
    on_air, first = (minutes["on_air 0"], minutes["on_air 1"]), named[0].clock
    frame = Frame(
        first=f"{named[0].what}, {first.text}", from_arrival=schedule.arrive is not None, on_air=on_air,
        on_air_words=f"{start.text} to {end.text}", leave=minutes.get("leave"), leave_text=named[-1].clock.text,
    )  # fmt: skip
    hours = (on_air[0] / 60, on_air[1] / 60)
    slots = list(_slots(schedule, first, frame, hours))
    return Laid(hours, minutes.get("leave", on_air[1]) / 60, slots, first, named[-1].clock)


def _by_slots(schedule: Schedule) -> Laid:
    """The time on the air is from the first slot's start to the last one's end."""
    starts = [slot for slot in schedule.slots if slot.start]
    if not starts:
        raise CannotTell(_("the time on the air is not stated"), "schedule.on_air", "not stated", "trip")
    first = schedule.arrive or starts[0].start
    assert first is not None
    leave = minutes_after(first, schedule.leave) if schedule.leave else None
    if leave == 0:
        _refuse_no_length(schedule, ("leave",), first)
    words = f"the arrival, {first.text}" if schedule.arrive else f"slot {starts[0].name}, {first.text}"
    frame = Frame(words, schedule.arrive is not None, None, "", leave, schedule.leave.text if schedule.leave else "")
    slots = list(_slots(schedule, first, frame, None))
    on_air = (min(slot["from_h"] for slot in slots), max(slot["to_h"] for slot in slots))
    last = max(zip(slots, schedule.slots, strict=True), key=lambda pair: pair[0]["to_h"])[1].end
    assert last is not None
    return Laid(on_air, on_air[1] if leave is None else leave / 60, slots, first, schedule.leave or last)


def _named(schedule: Schedule, start: Clock, end: Clock) -> list[Named]:
    arrive = [Named("the arrival", schedule.arrive, ("arrive",))] if schedule.arrive else []
    leave = [Named("the departure", schedule.leave, ("leave",))] if schedule.leave else []
    begins, ends = Named("the start on the air", start, ("on_air", 0)), Named("the end on the air", end, ("on_air", 1))
    return [*arrive, begins, ends, *leave]


def _minutes(schedule: Schedule, named: Sequence[Named], start: Clock, end: Clock) -> dict[str, int]:
    passed = unwrapped([each.clock for each in named])
    if not minutes_after(start, end):
        what = f"the time on the air begins and ends at {end.text}"
        schedule.refuse(what, "Write two times, the start first; an end after midnight is fine.", "on_air", 1)
    if passed[-1] >= DAY:
        _refuse_order(schedule, named)
    return {" ".join(map(str, each.path)): minutes for each, minutes in zip(named, passed, strict=True)}


def _refuse_no_length(schedule: Schedule, path: tuple[str | int, ...], clock: Clock) -> NoReturn:
    what = f"the outing begins and ends at {clock.text}"
    schedule.refuse(what, "It must be shorter than 24 h: mend one of the two times.", *path)


def _refuse_order(schedule: Schedule, named: Sequence[Named]) -> NoReturn:
    if named[0].clock.minute == named[-1].clock.minute:
        _refuse_no_length(schedule, named[-1].path, named[-1].clock)
    index = longest_step([each.clock for each in named])
    late, early = named[index], named[index - 1]
    what = f"{late.what}, {late.clock.text}, lies before {early.what}, {early.clock.text}"
    advice = (
        "The times are arrive, on_air from and to, leave, in that order; over midnight they run on, but the whole must "
        "be shorter than 24 h."
    )
    schedule.refuse(what, advice, *late.path)


def _slots(
    schedule: Schedule, first: Clock, frame: Frame, on_air: tuple[float, float] | None
) -> Iterator[dict[str, Any]]:
    if not schedule.slots and on_air:
        yield _slot("on air", on_air, schedule.states, {})
    for slot in schedule.slots:
        span = _span(slot, first, frame) or _whole(schedule, slot, on_air)
        yield _slot(slot.name, span, schedule.states, slot.states)


def _whole(schedule: Schedule, slot: Slot, on_air: tuple[float, float] | None) -> tuple[float, float]:
    """A slot without times is the whole time on the air, if it is the only one."""
    if on_air and len(schedule.slots) == 1:
        return on_air
    text = _("slot {name} does not say its times").format(name=slot.name)
    raise CannotTell(text, "schedule.slots[].from", "missing input", "trip")


def _span(slot: Slot, first: Clock, frame: Frame) -> tuple[float, float] | None:
    if slot.start is None or slot.end is None:
        return None
    begins, lasting = minutes_after(first, slot.start), minutes_after(slot.start, slot.end)
    fault = fault_of(Written(slot.name, slot.start.text, slot.end.text, begins, lasting), frame)
    if fault:
        raise error_at(slot.origin, fault.what, fault.advice, fault.key)
    return begins / 60, (begins + lasting) / 60


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
        raise error_at(schedule.slots[second].origin, what, advice, "from")
