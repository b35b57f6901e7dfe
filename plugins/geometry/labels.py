"""Where the names on a drawing go: near what they name, on no other name, off the lines where there is room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot, inf
from typing import NamedTuple

CHARACTER = 0.64
"""Width of a character, in text heights: more than that of common sans-serif letters, so that no estimate is short."""
DIRECTIONS = ((1, 0), (1, -1), (1, 1), (0, -1), (0, 1), (-1, 0), (-1, -1), (-1, 1))
DISTANCES = (7.0, 16.0, 28.0, 42.0, 60.0, 84.0)
COST_OF_A_LINE = 9.0


class Box(NamedTuple):
    """A rectangle of the drawing, y downward."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, beside: float = 10.0, above: float = 2.0) -> bool:
        """Whether the two come too near to each other to be read as two."""
        return (
            self.left < other.right + beside
            and other.left < self.right + beside
            and self.top < other.bottom + above
            and other.top < self.bottom + above
        )

    def within(self, other: Box) -> bool:
        """Whether this rectangle lies wholly in the other."""
        return (
            self.left >= other.left
            and self.right <= other.right
            and self.top >= other.top
            and self.bottom <= other.bottom
        )

    def around(self, x: float, y: float) -> bool:
        """Whether the point lies in the rectangle."""
        return self.left <= x <= self.right and self.top <= y <= self.bottom


class Label(NamedTuple):
    """A placed name: its text, its rectangle, and what it points at."""

    text: str
    box: Box
    anchor: tuple[float, float]

    @property
    def leader(self) -> tuple[float, float, float, float] | None:
        """A line from the name to its thing, if the two are well apart."""
        x = min(max(self.anchor[0], self.box.left), self.box.right)
        y = min(max(self.anchor[1], self.box.top), self.box.bottom)
        return (x, y, *self.anchor) if hypot(x - self.anchor[0], y - self.anchor[1]) > DISTANCES[0] + 3 else None


@dataclass
class Placer:
    """Places names one after the other; the first has the choice.

    Attributes:
        frame: names stay within.
        size: height of the text.
        lines: points along what is drawn, better left clear.
        placed: names so far; `missing` those that found no room.

    """

    frame: Box
    size: float
    lines: list[tuple[float, float]] = field(default_factory=list)
    placed: list[Label] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    _busy: set[tuple[int, int]] = field(default_factory=set)

    def __post_init__(self) -> None:
        self._busy = {_cell(x, y) for x, y in self.lines}

    def add(self, text: str, anchors: Iterable[Sequence[float]]) -> None:
        """Place a name by one of its anchors, wherever it covers least."""
        best, least = None, inf
        # Nearest first: once the distance alone costs more than the best place, no later one can be better.
        for label in sorted((label for anchor in anchors for label in self._around(text, anchor)), key=_apart):
            if _apart(label) >= least:
                break
            if self._is_free(label) and (cost := _apart(label) + self._covered(label) * COST_OF_A_LINE) < least:
                best, least = label, cost
        if best is None:
            self.missing.append(text)
        else:
            self.placed.append(best)

    def _around(self, text: str, anchor: Sequence[float]) -> Iterator[Label]:
        width, height = len(text) * CHARACTER * self.size, self.size * 1.2
        x, y = anchor[0], anchor[1]
        for distance in DISTANCES:
            for right, down in DIRECTIONS:
                reach = distance if not (right and down) else distance * 0.7
                left = x + right * reach - width * (1 - right) / 2
                top = y + down * reach - height * (1 - down) / 2
                yield Label(text, Box(left, top, left + width, top + height), (x, y))

    def _is_free(self, label: Label) -> bool:
        if not label.box.within(self.frame) or any(label.box.meets(other.box) for other in self.placed):
            return False
        leaders = [(label, other) for other in self.placed] + [(other, label) for other in self.placed]
        return not any(_leader_crosses(one, other.box) for one, other in leaders)

    def _covered(self, label: Label) -> float:
        return sum(label.box.around(x, y) for x, y in self.lines) + _crossings(label, self._busy) * 1.5


def _apart(label: Label) -> float:
    """How far the name stands from its thing."""
    x, y = (label.box.left + label.box.right) / 2, (label.box.top + label.box.bottom) / 2
    half_width = (label.box.right - label.box.left) / 2
    return max(abs(x - label.anchor[0]) - half_width, abs(y - label.anchor[1]), 0.0)


def _leader_crosses(label: Label, box: Box) -> bool:
    return any(box.around(x, y) for x, y in _leader_points(label))


def _leader_points(label: Label) -> list[tuple[float, float]]:
    if label.leader is None:
        return []
    x1, y1, x2, y2 = label.leader
    return [(x1 + (x2 - x1) * step / 12, y1 + (y2 - y1) * step / 12) for step in range(13)]


def _crossings(label: Label, busy: set[tuple[int, int]]) -> int:
    """How much of the leader runs over what is drawn, short of the thing that it points at."""
    return sum(_cell(x, y) in busy for x, y in _leader_points(label)[:-2])


def _cell(x: float, y: float) -> tuple[int, int]:
    return int(x // 5), int(y // 5)


def along(path: Sequence[Sequence[float]], spacing: float = 6.0) -> Iterator[tuple[float, float]]:
    """Points along a polyline of the drawing, at most `spacing` apart, its vertices among them."""
    for start, end in pairwise(path):
        steps = max(1, int(hypot(end[0] - start[0], end[1] - start[1]) / spacing) + 1)
        for step in range(steps):
            share = step / steps
            yield start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
    if path:
        yield path[-1][0], path[-1][1]
