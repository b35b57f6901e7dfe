"""What is wrong with the times of a slot, in words: it runs backwards, or lies outside of the time on the air."""

from __future__ import annotations

from typing import NamedTuple

from afield.core.api import frozen

DAY_MIN = 24 * 60


class Fault(NamedTuple):
    """Which of the slot's times is wrong (`from` or `to`), what is wrong with it, and what to do."""

    key: str
    what: str
    advice: str


@frozen
class Frame:
    """The time that slots belong to, in minutes after its first instant.

    Attributes:
        first: that instant in words: "the arrival, 14:45".
        from_arrival: whether it is the arrival.
        on_air: start and end of a stated time on the air.
        on_air_words: the same as written: "15:30 to 20:30".
        leave: the departure; None where it is not stated.
        leave_text: as written.

    """

    first: str
    from_arrival: bool
    on_air: tuple[float, float] | None
    on_air_words: str
    leave: float | None
    leave_text: str

    @property
    def end(self) -> float | None:
        """The last minute that is known: the departure, else the end of a stated time on the air."""
        return self.on_air[1] if self.leave is None and self.on_air else self.leave


@frozen
class Written:
    """A slot as written, with its start in minutes after the frame's first instant, and its length in minutes."""

    name: str
    start: str
    end: str
    begins: float
    lasting: float

    @property
    def ends(self) -> float:
        """Minutes from the frame's first instant to the slot's end."""
        return self.begins + self.lasting

    @property
    def words(self) -> str:
        """The slot with its times: "slot late, 14:00 to 16:00"."""
        return f"slot {self.name}, {self.start} to {self.end}"


def fault_of(slot: Written, frame: Frame) -> Fault | None:
    """What is wrong with the slot's times; None if nothing is."""
    if not slot.lasting:
        return Fault("to", f"slot {slot.name} begins and ends at {slot.end}", "Write two times.")
    beyond = slot.ends >= DAY_MIN or (frame.end is not None and slot.ends > frame.end)
    # Read as running on over midnight it lasts most of a day and leaves the outing: the end was meant to come earlier.
    if beyond and slot.lasting > DAY_MIN / 2 and slot.ends >= DAY_MIN:
        return _backwards(slot)
    before = beyond and _before(slot, frame)
    if before and frame.from_arrival:
        return _before_arrival(slot, frame)
    if frame.on_air and (slot.begins < frame.on_air[0] or slot.ends > frame.on_air[1]):
        return _off_air(slot, frame)
    if before:
        return _before_first(slot, frame)
    return _after_leaving(slot, frame) if beyond else None


def _before(slot: Written, frame: Frame) -> bool:
    """Whether the slot's start is nearer to the time before the first instant than to that after the last."""
    end = frame.end or 0.0
    return slot.begins >= end and DAY_MIN - slot.begins < slot.begins - end


def _backwards(slot: Written) -> Fault:
    what = f"slot {slot.name} ends at {slot.end}, before it begins, at {slot.start}"
    advice = "Write the start in `from` and the end in `to`; over midnight a slot runs on, but not beyond the outing."
    return Fault("to", what, advice)


def _before_arrival(slot: Written, frame: Frame) -> Fault:
    what = f"slot {slot.name} begins at {slot.start}, before {frame.first}"
    return Fault("from", what, "Mend the slot's `from`, or `arrive`.")


def _off_air(slot: Written, frame: Frame) -> Fault:
    assert frame.on_air is not None
    inside = frame.on_air[0] <= slot.begins < frame.on_air[1]
    what = f"{slot.words}, reaches outside the time on the air, {frame.on_air_words}"
    advice = (
        "Widen `on_air`, or shorten the slot. Without `on_air`, the time on the air is from the first slot's start to "
        "the last one's end."
    )
    return Fault("to" if inside else "from", what, advice)


def _before_first(slot: Written, frame: Frame) -> Fault:
    what = f"slot {slot.name} begins at {slot.start}, before {frame.first}, the first that the plan lists"
    return Fault("from", what, "List the slots in their order, or state `arrive`.")


def _after_leaving(slot: Written, frame: Frame) -> Fault:
    late = frame.leave is not None and slot.begins >= frame.leave
    what = f"{slot.words}, reaches beyond the departure, {frame.leave_text}"
    return Fault("from" if late else "to", what, "Mend the slot's times, or `leave`.")
