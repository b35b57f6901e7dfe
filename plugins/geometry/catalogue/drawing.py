"""Features made into the shapes of a catalogue: chains that do not jump at 180 degrees, and what is known of each.

Many features are drawn at once: a call of numpy costs more than the work on one of their rings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from afield.core.api import frozen
from afield.plugins.geometry.catalogue.layout import LONGEST_EDGE_M, PIECE_VERTICES, STEEPEST_DEG
from afield.plugins.geometry.catalogue.measuring import RADIUS_M
from afield.plugins.geometry.catalogue.packing import packed_counts
from afield.plugins.geometry.readers import Feature

Floats = NDArray[np.float64]
Box = tuple[float, float, float, float]
"""West, east, south, north, degrees; west within -180 to 180."""

_WIDEST_DEG = 170.0
_HALF_TURN = 180.0


@frozen
class Drawn:
    """One shape of a reference.

    Attributes:
        part: number of the line that it is a piece of, of the polygon, or of the point.
        rings: its chains, (n, 2) each: latitudes and longitudes.
        box: of its vertices; longitudes run on past 180.
        doubt_m: no edge is more doubtful than this.
        plain: whether the quick measures are right for it, as far as can be seen from its extent.
        bulge_deg: how far its edges may leave its box.

    """

    part: int
    rings: list[Floats]
    box: Box
    doubt_m: float
    plain: bool
    bulge_deg: float

    def columns(self) -> tuple[bytes, bytes]:
        """What stands in the columns `rings` and `degrees`."""
        whole = self.rings[0] if len(self.rings) == 1 else np.concatenate(self.rings)
        degrees = np.ascontiguousarray(whole.T, dtype="<f8").tobytes()
        return packed_counts([len(ring) for ring in self.rings]), degrees

    def boxes(self) -> list[Box]:
        """One box, or two where it crosses 180 degrees; the bulges of geodesic edges are within."""
        west, east, south, north = self.box
        south, north = south - self.bulge_deg, north + self.bulge_deg
        if self._circles():
            south, north = (south, 90.0) if south + north > 0 else (-90.0, north)
            return [(-180.0, 180.0, south, north)]
        return split_box(west, east, south, north)

    def _circles(self) -> bool:
        """Whether it is a ring around a pole."""
        west, east = self.box[:2]
        first, last = self.rings[0][0], self.rings[0][-1]
        return east - west > _HALF_TURN and bool(first[0] == last[0] and abs(last[1] - first[1]) > _HALF_TURN)


class _Extents(NamedTuple):
    """Of each of many chains, (n,): its box, the least and greatest distance from the equator, its longest edge."""

    west: Floats
    east: Floats
    south: Floats
    north: Floats
    nearest: Floats
    highest: Floats
    longest_m: Floats


def split_box(west: float, east: float, south: float, north: float) -> list[Box]:
    """The box, cut at 180 degrees; longitudes may run on past it."""
    if east - west >= 360:
        return [(-180.0, 180.0, south, north)]
    turn = 360 * ((west + 180) // 360)
    west, east = west - turn, east - turn
    if east <= 180:
        return [(west, east, south, north)]
    return [(west, 180.0, south, north), (-180.0, east - 360, south, north)]


def drawn_shapes(features: Sequence[Feature], edge_model: str) -> list[list[Drawn]]:
    """The shapes of each feature; lines are cut into pieces that share their ends."""
    parts = [list(_parts(feature)) for feature in features]
    chains = _unrolled([ring for each in parts for _, rings in each for ring in rings])
    found = _extents(chains)
    at = iter(range(len(chains)))
    made = [[(part, [next(at) for _ in rings]) for part, rings in each] for each in parts]
    return [[_drawn(part, numbers, chains, found, edge_model) for part, numbers in each] for each in made]


def _parts(feature: Feature) -> Iterator[tuple[int, list[Floats]]]:
    """Its polygons, pieces of lines, or points, each with the number of its part."""
    if feature.kind == "area":
        yield from ((number, [np.array(ring, float) for ring in rings]) for number, rings in enumerate(feature.areas))
    elif feature.kind == "line":
        for number, line in enumerate(feature.lines):
            # Unrolled as a whole: each piece goes on where the one before ended.
            yield from ((number, [piece]) for piece in _cut(_unrolled([np.array(line, float)])[0]))
    else:
        yield from ((number, [np.array([point], float)]) for number, point in enumerate(feature.points))


def _cut(line: Floats) -> Iterator[Floats]:
    for first in range(0, len(line) - 1, PIECE_VERTICES - 1):
        yield line[first : first + PIECE_VERTICES]


def _unrolled(chains: list[Floats]) -> list[Floats]:
    """The chains with longitudes that go the short way on from vertex to vertex."""
    if not chains:
        return []
    lons = np.concatenate([chain[:, 1] for chain in chains])
    jumps = np.flatnonzero(np.abs(np.diff(lons)) > _HALF_TURN)
    if len(jumps):
        ends = np.cumsum([len(chain) for chain in chains])
        for number in np.unique(np.searchsorted(ends, jumps, side="right")):
            turns = np.round(np.diff(chains[number][:, 1]) / 360)
            chains[number][1:, 1] -= 360 * np.cumsum(turns)
    return chains


def _extents(chains: Sequence[Floats]) -> _Extents:
    if not chains:
        return _Extents(*np.zeros((7, 0)))
    points = np.concatenate(chains)
    ends = np.cumsum([len(chain) for chain in chains])
    starts = np.concatenate([[0], ends[:-1]])
    least, most = np.minimum.reduceat(points, starts), np.maximum.reduceat(points, starts)
    away = np.abs(points[:, 0])
    nearest, highest = np.minimum.reduceat(away, starts), np.maximum.reduceat(away, starts)
    step = np.abs(np.diff(points, axis=0, append=points[-1:]))
    step[ends - 1] = 0.0  # from the end of one chain to the beginning of the next
    longest = np.radians(np.maximum.reduceat(step, starts))
    length = RADIUS_M * 1.004 * np.hypot(longest[:, 0], longest[:, 1] * np.cos(np.radians(nearest)))
    return _Extents(least[:, 1], most[:, 1], least[:, 0], most[:, 0], nearest, highest, length)


def _drawn(part: int, numbers: list[int], chains: list[Floats], found: _Extents, edge_model: str) -> Drawn:
    """The shape of some of the chains, the outer ring first."""
    longest = max(float(found.longest_m[number]) for number in numbers)
    highest = max(float(found.highest[number]) for number in numbers)
    first = numbers[0]
    box = float(found.west[first]), float(found.east[first]), float(found.south[first]), float(found.north[first])
    geodesic = edge_model == "geodesic"
    is_far_from_pole = highest < STEEPEST_DEG or len(chains[first]) == 1  # a point can be anywhere
    plain = is_far_from_pole and box[1] - box[0] < _WIDEST_DEG and not (geodesic and longest > LONGEST_EDGE_M)
    steepness = float(np.tan(np.radians(min(highest, 89.999))))
    doubt_m = 1.06 * min(longest**2 * steepness / (8 * RADIUS_M), longest / 2)
    bulge_deg = doubt_m / 110_000 if geodesic else 0.0
    return Drawn(part, [chains[number] for number in numbers], box, doubt_m, plain, bulge_deg)
