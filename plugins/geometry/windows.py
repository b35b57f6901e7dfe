"""Rectangles of the station's plane: what to show of the neighbourhood, and where a line or ring leaves the picture."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil, floor, hypot, log10
from typing import NamedTuple

Point = Sequence[float]
WIDEST = 1.3
NARROWEST = 0.85


class Window(NamedTuple):
    """A rectangle of the plane, metres east and north of the station's position."""

    west: float
    south: float
    east: float
    north: float

    @property
    def width(self) -> float:
        """Metres from west to east."""
        return self.east - self.west

    @property
    def height(self) -> float:
        """Metres from south to north."""
        return self.north - self.south

    @property
    def span(self) -> float:
        """The longer side, metres."""
        return max(self.width, self.height)

    def holds(self, point: Point) -> bool:
        """Whether the point lies in the rectangle or on its edge."""
        return self.west <= point[0] <= self.east and self.south <= point[1] <= self.north

    def padded(self, margin: float) -> Window:
        """The rectangle with `margin` metres more on every side."""
        return Window(self.west - margin, self.south - margin, self.east + margin, self.north + margin)

    def with_points(self, points: Iterable[Point]) -> Window:
        """The least rectangle around this one and the points."""
        return bounds([(self.west, self.south), (self.east, self.north), *points])


def bounds(points: Iterable[Point]) -> Window:
    """The least rectangle around the points.

    Raises:
        ValueError: no point given.

    """
    east, north = zip(*[(float(point[0]), float(point[1])) for point in points], strict=True)
    return Window(min(east), min(north), max(east), max(north))


def proportioned(window: Window) -> Window:
    """The rectangle grown about its centre until it is neither too wide nor too narrow to print."""
    width = max(window.width, window.height * NARROWEST)
    height = max(window.height, width / WIDEST)
    east, north = (window.west + window.east) / 2, (window.south + window.north) / 2
    return Window(east - width / 2, north - height / 2, east + width / 2, north + height / 2)


def nearest_on_path(path: Sequence[Point], to: Point) -> tuple[float, float]:
    """The point of a polyline that is nearest to `to`."""
    if len(path) == 1:
        return float(path[0][0]), float(path[0][1])
    feet = [_foot(start, end, to) for start, end in pairwise(path)]
    return min(feet, key=lambda foot: hypot(foot[0] - to[0], foot[1] - to[1]))


def _foot(start: Point, end: Point, to: Point) -> tuple[float, float]:
    along_e, along_n = end[0] - start[0], end[1] - start[1]
    length_2 = along_e * along_e + along_n * along_n
    share = ((to[0] - start[0]) * along_e + (to[1] - start[1]) * along_n) / length_2 if length_2 else 0.0
    share = min(1.0, max(0.0, share))
    return start[0] + share * along_e, start[1] + share * along_n


def round_step(span: float, steps: int) -> float:
    """The round length (1, 2 or 5 times a power of ten) that divides `span` into about `steps` parts, not more.

    Raises:
        ValueError: the span is not above 0.

    """
    if span <= 0:
        raise ValueError(f"a span of {span:g} m cannot be divided; it must be above 0")
    rough = span / steps
    power = 10.0 ** floor(log10(rough))
    return next(power * digit for digit in (1, 2, 5, 10) if power * digit >= rough * (1 - 1e-9))


def multiples(low: float, high: float, step: float) -> list[float]:
    """Every multiple of `step` from `low` to `high`."""
    return [round(index * step, 6) + 0.0 for index in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]


def runs_near(path: Sequence[Point], window: Window) -> list[list[Point]]:
    """The stretches of a polyline whose segments may cross the window; the rest is left out."""
    runs: list[list[Point]] = []
    fresh = True
    for start, end in pairwise(path):
        if _apart(start, end, window):
            fresh = True
            continue
        if fresh:
            runs.append([start])
        runs[-1].append(end)
        fresh = False
    return runs


def _apart(start: Point, end: Point, window: Window) -> bool:
    return (
        max(start[0], end[0]) < window.west
        or min(start[0], end[0]) > window.east
        or max(start[1], end[1]) < window.south
        or min(start[1], end[1]) > window.north
    )


def ring_within(ring: Sequence[Point], window: Window) -> list[Point]:
    """The part of a ring's inside that lies in the window, as a ring (Sutherland and Hodgman, 1974)."""
    kept = list(ring)
    for axis, edge, sign in ((0, window.west, 1), (0, window.east, -1), (1, window.south, 1), (1, window.north, -1)):
        kept = _cut(kept, axis, edge, sign)
    return kept


def _cut(ring: list[Point], axis: int, edge: float, sign: int) -> list[Point]:
    kept: list[Point] = []
    for index, here in enumerate(ring):
        before = ring[index - 1]
        inside, was_inside = (here[axis] - edge) * sign >= 0, (before[axis] - edge) * sign >= 0
        if inside != was_inside:
            share = (edge - before[axis]) / (here[axis] - before[axis])
            kept.append(tuple(before[i] + share * (here[i] - before[i]) for i in (0, 1)))
        if inside:
            kept.append(here)
    return kept
