"""Stated times that cannot all be kept: no time to set up or to pack up, and times to turn back at which nobody can."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from afield.core.api import frozen
from afield.plugins.timing.dial import Dial, Stated
from afield.plugins.timing.stages import Durations, departure_of, pack_up_of
from afield.plugins.timing.timeline_words import length_words

DAY = timedelta(days=1)


@frozen
class Stay:
    """What a plan states of a stay: the schedule as instants, how long things take, and when to turn back.

    Attributes:
        instants: as the fact `schedule.instants` has them.
        durations: minutes.
        turn_back: time of day as written.
        utc: whether the schedule is written in UTC; messages then name its times so.

    """

    instants: Mapping[str, Any]
    durations: Durations
    turn_back: str | None
    utc: bool

    def at(self, key: str) -> datetime | None:
        """The arrival, the departure, or the start or the end of the outing."""
        text = self.instants[key]
        return datetime.fromisoformat(text) if text else None

    def off_air(self) -> datetime | None:
        """The end on the air."""
        spans = self.instants["on_air"]
        return datetime.fromisoformat(spans[-1][1]) if spans else None

    def clock(self, at: datetime, dial: Dial) -> str:
        """An instant as the plan's schedule is written."""
        return f"{at:%H:%MZ}" if self.utc else f"{at.astimezone(dial.zone):%H:%M}"


def refuse_contradictions(stay: Stay, dial: Dial) -> None:
    """Refuse stated times that cannot all be kept, at the plan's line.

    A time to turn back is the latest start: it may lie after the departure, but not before all is packed, and not when
    the walk back is over.

    Raises:
        InputError: the first of them.

    """
    _refuse_no_time_to_set_up(stay, dial)
    _refuse_no_time_to_pack_up(stay, dial)
    if stay.turn_back:
        _refuse_turning_back(stay, Stated("the time to turn back", stay.turn_back, ("travel", "turn_back")), dial)


def _minutes(start: datetime, end: datetime) -> float:
    return (end - start).total_seconds() / 60


def _refuse_no_time_to_set_up(stay: Stay, dial: Dial) -> None:
    arrive, set_up = stay.at("arrive"), stay.durations.set_up
    if arrive is None or not set_up or not stay.instants["on_air"]:
        return
    begin = datetime.fromisoformat(stay.instants["on_air"][0][0])
    if _minutes(arrive, begin) < set_up:
        what = (
            f"setting up takes {length_words(set_up)}, but only {length_words(_minutes(arrive, begin))} lie between "
            f"the arrival, {stay.clock(arrive, dial)}, and the start on the air, {stay.clock(begin, dial)}"
        )
        advice = "Arrive earlier, begin later, or state a shorter `set_up`."
        dial.refuse(Stated("set_up", "", ("schedule", "set_up")), what, advice)


def _refuse_no_time_to_pack_up(stay: Stay, dial: Dial) -> None:
    leave, off, pack_up = stay.at("leave"), stay.off_air(), stay.durations.pack_up
    if leave is None or off is None or not pack_up:
        return
    if _minutes(off, leave) < pack_up:
        what = (
            f"packing up takes {length_words(pack_up)}, but only {length_words(_minutes(off, leave))} lie between the "
            f"end on the air, {stay.clock(off, dial)}, and the departure, {stay.clock(leave, dial)}"
        )
        advice = "Leave later, end earlier, or state a shorter `pack_up`."
        dial.refuse(Stated("pack_up", "", ("schedule", "pack_up")), what, advice)


def _refuse_turning_back(stay: Stay, stated: Stated, dial: Dial) -> None:
    start = stay.at("start")
    assert start is not None
    at = dial.next(stated, start)
    _refuse_before_arrival(stay, stated, at, dial)
    off, packed = stay.off_air(), pack_up_of(stay.instants, stay.durations.pack_up)
    if off and at < off:
        what = f"the time to turn back, {stated.text}, lies before the end on the air, {stay.clock(off, dial)}"
        dial.refuse(stated, what, "Turn back later, or end earlier.")
    if off and packed and at < packed[1]:
        what = (
            f"packing up takes {length_words(_minutes(*packed))}, but only {length_words(_minutes(off, at))} lie "
            f"between the end on the air, {stay.clock(off, dial)}, and the time to turn back, {stated.text}"
        )
        dial.refuse(stated, what, "Turn back later, end earlier, or state a shorter `pack_up`.")
    _refuse_after_walk(stay, stated, at, dial)


def _refuse_before_arrival(stay: Stay, stated: Stated, at: datetime, dial: Dial) -> None:
    """The time comes again after the outing; where it is nearer to what goes before it, that is what it is."""
    start, end = stay.at("start"), departure_of(stay.instants, stay.durations.pack_up) or stay.at("end")
    assert start is not None
    assert end is not None
    if at > end and start - (at - DAY) < at - end:
        first = "the arrival" if stay.at("arrive") == start else "the start of the outing"
        what = f"the time to turn back, {stated.text}, lies before {first}, {stay.clock(start, dial)}"
        dial.refuse(stated, what, "State a time between the end of packing up and the end of the walk back.")


def _refuse_after_walk(stay: Stay, stated: Stated, at: datetime, dial: Dial) -> None:
    leave, walk = departure_of(stay.instants, stay.durations.pack_up), stay.durations.walk
    if leave is None or not walk or at <= leave + timedelta(minutes=walk):
        return
    back = leave + timedelta(minutes=walk)
    what = f"the time to turn back, {stated.text}, lies after the end of the walk back, {stay.clock(back, dial)}"
    dial.refuse(stated, what, "By then the plan has everybody back: mend `turn_back`, `leave` or `walk`.")
