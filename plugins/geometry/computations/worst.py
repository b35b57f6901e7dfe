"""The point of a station that decides a margin, and how it is found: branch and bound."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from afield.core.api import frozen
from afield.plugins.geometry.computations.cells import Cell
from afield.plugins.geometry.computations.planar import lengths, nearest_on_segments, segment_distances_m
from afield.plugins.geometry.computations.plane import Floats

TOLERANCE_M = 0.001
"""No point of the footprint is worse than the one found by more than this."""
_MOST_CELLS = 20_000


@frozen
class Worst:
    """The deciding point of a station.

    Attributes:
        value_m: the distance or margin there, metres.
        part: name of the part.
        point_m: (east, north) of the point.
        nearest_m: (east, north) of the nearest point of what it is measured to.
        direction: unit (east, north); moving the station that way makes the value grow as fast as it goes, or slower
        where
            two edges are equally near.
        edge_doubt_m: how far other readings of the map's edges can change the value.
        notes: what the reader must know.

    """

    value_m: float
    part: str
    point_m: tuple[float, float]
    nearest_m: tuple[float, float]
    direction: tuple[float, float]
    edge_doubt_m: float = 0.0
    notes: tuple[str, ...] = ()


def local(start: Floats, end: Floats, reach_m: float) -> tuple[Floats, Floats]:
    """The segments (n, 2) that can be nearest to some point within `reach_m` of the origin."""
    distance = segment_distances_m(np.zeros((1, 2)), start, end)[0]
    near = distance <= distance.min() + 2 * reach_m + TOLERANCE_M
    return start[near], end[near]


def farthest_point(
    cells: Sequence[Cell], start: Floats, end: Floats, sign_of: Callable[[Floats], Floats] | None = None
) -> tuple[float, Floats, float]:
    """The point of a footprint that is farthest from segments.

    Branch and bound. Over a convex cell the distance is at most its value in the middle plus the radius (it changes no
    faster than one moves), and at most min over segments of max over corners (each single distance is convex).

    Args:
        cells: what the footprint consists of.
        start, end: (n, 2) the segments.
        sign_of: points (k, 2) -> +1 or -1 (k,), for a distance that is negative on one side of the segments.

    Returns:
        The distance, the point (2,), and by how much another point may be farther (at most TOLERANCE_M, but for shapes
        of absurd detail).

    """
    best, point, live = -np.inf, np.zeros(2), list(cells)
    while True:
        best, point = _best(live, start, end, sign_of, (best, point))
        slack = _bounds(live, start, end, sign_of) - best
        live = [half for cell, over in zip(live, slack, strict=True) if over > TOLERANCE_M for half in cell.halves()]
        if not live or len(live) > _MOST_CELLS:
            return best, point, max(float(slack.max()), 0.0)


def _best(
    cells: Sequence[Cell],
    start: Floats,
    end: Floats,
    sign_of: Callable[[Floats], Floats] | None,
    so_far: tuple[float, Floats],
) -> tuple[float, Floats]:
    samples = np.concatenate([cell.samples for cell in cells])
    values = _signed(samples, start, end, sign_of)
    first = int(np.argmax(values))
    return (float(values[first]), samples[first]) if values[first] > so_far[0] + 1e-9 else so_far


def _bounds(cells: Sequence[Cell], start: Floats, end: Floats, sign_of: Callable[[Floats], Floats] | None) -> Floats:
    """What no point of each cell exceeds."""
    middles = np.stack([cell.samples[-1] for cell in cells])
    steady = _signed(middles, start, end, sign_of) + np.array([cell.radius_m for cell in cells])
    firsts = np.cumsum([0, *(len(cell.hull) for cell in cells[:-1])])
    corners = segment_distances_m(np.concatenate([cell.hull for cell in cells]), start, end)
    convex = np.maximum.reduceat(corners, firsts, axis=0).min(axis=1)
    return np.asarray(np.minimum(steady, convex))


def _signed(points: Floats, start: Floats, end: Floats, sign_of: Callable[[Floats], Floats] | None) -> Floats:
    distance = segment_distances_m(points, start, end).min(axis=1)
    return np.asarray(distance if sign_of is None else distance * sign_of(points))


def nearest_of(point: Floats, start: Floats, end: Floats) -> tuple[Floats, int]:
    """The nearest point (2,) on segments, and the number of its segment."""
    candidates = nearest_on_segments(point[None, :], start, end)[0]
    number = int(np.argmin(lengths(candidates - point)))
    return candidates[number], number


def unit(vector: Floats, along: Floats) -> tuple[float, float]:
    """A vector's direction; one too short to have any takes the left-hand normal of `along`, or east."""
    for each in (vector, np.array([-along[1], along[0]])):
        length = float(lengths(each))
        if length > 1e-7:
            return float(each[0]) / length, float(each[1]) / length
    return 1.0, 0.0
