"""The common scale of a strip: from 0 unless that crowds intervals together, then padded; with round ends."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor, log10

from afield.core.frozen import frozen

CROWDED = 3.0
"""How many times the spread of the values 0 may lie below them and still begin the scale."""
PADDING = 0.1
STEPS = 4
"""About how many round steps a scale has."""


@frozen
class Scale:
    """From `start` to `end`, in the fact's unit."""

    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value stands: 0 at the start, 1 at the end."""
        return (value - self.start) / (self.end - self.start)

    @property
    def holds_zero(self) -> bool:
        """Whether 0 lies on it."""
        return self.start <= 0 <= self.end


def scale_of(values: Iterable[float], exact: bool = False) -> Scale:
    """The scale on which all the values stand, the ends of intervals among them; at least one.

    Args:
        values: in one unit.
        exact: whether none has an interval; the scale then always has 0 on it, so that counts keep their proportion.

    """
    found = list(values)
    least, greatest = min(found), max(found)
    spread = greatest - least
    near = min(abs(least), abs(greatest)) <= CROWDED * spread
    if exact or near or spread == 0:
        least, greatest = min(least, 0.0), max(greatest, 0.0)
    else:
        least, greatest = least - PADDING * spread, greatest + PADDING * spread
    return _rounded_out(least, greatest) if greatest > least else Scale(0.0, 1.0)


def _rounded_out(least: float, greatest: float) -> Scale:
    step = _round_step((greatest - least) / STEPS)
    return Scale(floor(least / step) * step, ceil(greatest / step) * step)


def _round_step(size: float) -> float:
    """The least of 1, 2, 5 and 10 times a power of ten that is not below the size."""
    power = 10.0 ** floor(log10(size))
    return next((power * times for times in (1, 2, 5) if power * times >= size), power * 10)
