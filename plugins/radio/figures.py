"""Figures with their uncertainty, and how each origin of error moves what is worked out from them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import sqrt
from typing import Generic, TypeVar

from afield.core.api import frozen

T = TypeVar("T")

OWN, TYPICAL = 0.05, 0.2
"""95 %, of a figure: as somebody wrote it of a thing, and as the catalogue has it. Common practice, no source."""


@frozen
class Figure:
    """A value, how far it may be off (95 %), what the error comes from, and the least that there can be."""

    value: float
    around: float
    origin: str
    least: float = 0.0


class Draw:
    """Reads figures; those of one origin are moved up (sign 1) or down (-1) by what they may be off."""

    def __init__(self, origin: str | None = None, sign: int = 0) -> None:
        self.origin, self.sign = origin, sign
        self.met: dict[str, Figure] = {}

    def __call__(self, figure: Figure) -> float:
        """The figure's value, moved or not."""
        if figure.around:
            self.met.setdefault(figure.origin, figure)
        moved = self.sign * figure.around if figure.origin == self.origin else 0.0
        return max(figure.least, figure.value + moved)


@frozen
class Spread(Generic[T]):
    """What was worked out, what it becomes with each origin moved up and down, and the figure behind each origin."""

    result: T
    moved: Mapping[str, tuple[T, T]]
    grounds: Mapping[str, Figure]

    def parts(self, measure: Callable[[T], float]) -> dict[str, float]:
        """Signed 95 % contribution of each origin to a number of the result; the greater of the two changes counts."""
        found = {origin: _part(measure, above, self.result, below) for origin, (above, below) in self.moved.items()}
        return {origin: part for origin, part in found.items() if part}


def spread(work: Callable[[Draw], T]) -> Spread[T]:
    """Work it out, then again with each origin that was met moved (JCGM 100:2008, 5.1.3, note 2)."""
    draw = Draw()
    result = work(draw)
    moved = {origin: (work(Draw(origin, 1)), work(Draw(origin, -1))) for origin in draw.met}
    return Spread(result, moved, draw.met)


def _part(measure: Callable[[T], float], above: T, result: T, below: T) -> float:
    up, here, down = measure(above), measure(result), measure(below)
    size = max(abs(up - here), abs(here - down))
    return -size if up < down else size


def combined(parts: Mapping[str, float]) -> float:
    """Root sum of squares of independent contributions."""
    return sqrt(sum(part * part for part in parts.values()))
