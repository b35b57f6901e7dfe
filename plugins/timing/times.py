"""The times of day that a plan states for its schedule, each with its place in the plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import Subject, frozen
from afield.plugins.timing.dial import Stated

StatedSlot = tuple[Subject, Mapping[str, Any]]
"""A slot, and what it states."""


@frozen
class Times:
    """What the plan states of its schedule; None for what it leaves out."""

    arrive: str | None
    on_air: Sequence[str] | None
    leave: str | None
    slots: Sequence[StatedSlot]

    def row(self) -> list[Stated]:
        """The times that follow each other, as far as they are stated; the first slot's start stands in for theirs."""
        begin, end = self.on_air or (None, None)
        named: list[tuple[str, str | None, tuple[str | int, ...]]] = [
            ("the arrival", self.arrive, ("arrive",)),
            ("the start on the air", begin, ("on_air", 0)),
            ("the end on the air", end, ("on_air", 1)),
            ("the departure", self.leave, ("leave",)),
        ]
        stated = [Stated(what, text, ("schedule", *path)) for what, text, path in named if text]
        if self.arrive or self.on_air:
            return stated
        return [*[start for slot in self.slots for start in ends_of(slot)][:1], *stated]


def ends_of(slot: StatedSlot) -> list[Stated]:
    """Start and end of a slot, as far as they are stated."""
    subject, states = slot
    path = subject.origin.path if subject.origin else ("schedule", "slots")
    named = (("from", states["from"]), ("to", states["to"]))
    return [Stated(f"slot {subject.label}", text, (*path, key)) for key, text in named if text]
