"""An independent measure of the same things: geographiclib, points one by one, no plane."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Sequence
from math import atan2, degrees, hypot

import pytest
from geographiclib.geodesic import Geodesic

Point = tuple[float, float]
EARTH = Geodesic.WGS84


def spot(centre: Point, east_m: float, north_m: float) -> Point:
    """Latitude and longitude of a point at an offset from a centre, by the direct geodesic."""
    if east_m == north_m == 0:
        return centre
    found = EARTH.Direct(*centre, degrees(atan2(east_m, north_m)), hypot(east_m, north_m))
    return found["lat2"], found["lon2"]


def apart_m(one: Point, other: Point) -> float:
    return float(EARTH.Inverse(*one, *other, Geodesic.DISTANCE)["s12"])


def on_edge(start: Point, end: Point, share: float, edge_model: str) -> Point:
    turn = (end[1] - start[1] + 180) % 360 - 180
    if edge_model == "lonlat":
        return start[0] + share * (end[0] - start[0]), start[1] + share * turn
    found = EARTH.Inverse(*start, *end)
    there = EARTH.Direct(*start, found["azi1"], share * found["s12"])
    return there["lat2"], there["lon2"]


def from_edge_m(point: Point, start: Point, end: Point, edge_model: str) -> float:
    """Distance of a point from one edge: coarse shares, then golden section."""

    def at(share: float) -> float:
        return apart_m(point, on_edge(start, end, share, edge_model))

    shares = [k / 16 for k in range(17)]
    best = min(range(17), key=lambda k: at(shares[k]))
    low, high = shares[max(best - 1, 0)], shares[min(best + 1, 16)]
    for _ in range(40):
        third = (high - low) * 0.381966
        if at(low + third) < at(high - third):
            high -= third
        else:
            low += third
    return at((low + high) / 2)


def from_lines_m(point: Point, lines: Iterable[Sequence[Point]], edge_model: str = "lonlat") -> float:
    return min(from_edge_m(point, *edge, edge_model) for line in lines for edge in itertools.pairwise(line))


def is_inside(point: Point, rings: Iterable[Sequence[Point]]) -> bool:
    """Even-odd rule in degrees, longitudes counted from the point's own."""
    inside = False
    for ring in rings:
        turned = [(lat, (lon - point[1] + 180) % 360 - 180) for lat, lon in ring]
        for (lat0, lon0), (lat1, lon1) in itertools.pairwise(turned):
            if (lon0 > 0) != (lon1 > 0) and point[0] < lat0 - lon0 * (lat1 - lat0) / (lon1 - lon0):
                inside = not inside
    return inside


class Yardstick:
    """The functions above, for tests."""

    spot = staticmethod(spot)
    apart_m = staticmethod(apart_m)
    from_lines_m = staticmethod(from_lines_m)
    is_inside = staticmethod(is_inside)

    @staticmethod
    def spots(centre: Point, offsets_m: Iterable[Sequence[float]]) -> list[Point]:
        return [spot(centre, each[0], each[1]) for each in offsets_m]


@pytest.fixture(scope="session")
def yardstick() -> type[Yardstick]:
    return Yardstick


@pytest.fixture(scope="session")
def along() -> Callable[[Sequence[float], Sequence[float], int], list[Point]]:
    """Evenly spaced points of a segment of the plane."""

    def points(start: Sequence[float], end: Sequence[float], count: int) -> list[Point]:
        shares = [k / (count - 1) for k in range(count)]
        return [(start[0] + s * (end[0] - start[0]), start[1] + s * (end[1] - start[1])) for s in shares]

    return points
