"""Distances from a place to chains of vertices, and which side of rings it is on: plain Python, a few microseconds an
edge, so that nothing needs to be imported for them.

Right for what the catalogue calls plain: geodesic edges of up to 10 km, edges straight in longitude and latitude of any
length, away from the poles. All else goes to `exact`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import asin, cos, hypot, inf, radians, sin, sqrt, tan

from afield.core.api import frozen
from afield.plugins.geometry.catalogue.layout import PIECE_VERTICES
from afield.plugins.geometry.catalogue.packing import Chain
from afield.plugins.geometry.computations.tangent import local_plane

LEAST_RADIUS_M = 6_335_000.0
"""A little less than the least radius of curvature of WGS 84: distances by it are lower bounds."""
RADIUS_M = 6371008.8
"""Mean radius of the Earth (IUGG)."""
SAG_M = 0.0005
"""The most that a chord near the place may leave its edge."""
_COARSE_DEG = 0.5

Corner = tuple[float, float, float, float]
"""Latitude, longitude, east, north."""


@frozen
class Nearest:
    """The nearest point of some edges.

    Attributes:
        distance_m: from the place, along the ground.
        east_m, north_m: of the nearest point.
        doubt_m: how far the distance can change if the edges are read otherwise.

    """

    distance_m: float
    east_m: float
    north_m: float
    doubt_m: float = 0.0


class Place:
    """The place that is measured from."""

    def __init__(self, lat_deg: float, lon_deg: float) -> None:
        self.lat, self.lon = lat_deg, lon_deg
        self.offset_m = local_plane(lat_deg, lon_deg)
        self._cos_lat = cos(radians(lat_deg))

    def near_longitude(self, lons: Sequence[float]) -> float:
        """The place's own longitude, plus or minus whole turns, so that it stands nearest to the middle of others."""
        middle = (min(lons) + max(lons)) / 2
        return self.lon + 360 * round((middle - self.lon) / 360)

    def least_m(self, south: float, north: float, west: float, east: float) -> float:
        """A distance that no point of a box is nearer than; its longitudes are counted from the place's own."""
        high = max(south - self.lat, self.lat - north, 0.0)
        wide = max(west, -east, 0.0)
        # Beyond a quarter of a turn the pole is the nearest point of a meridian.
        turn = asin(self._cos_lat * sin(radians(wide))) if wide < 90 else radians(90 - abs(self.lat))
        return LEAST_RADIUS_M * max(radians(high), turn)


@dataclass(slots=True)
class _Search:
    """The least distance so far, and what other readings of the edges leave open."""

    place: Place
    curved: bool
    doubt_m: float
    steepness: float = 0.0
    nearest: Nearest = field(default_factory=lambda: Nearest(inf, 0.0, 0.0))
    lower: float = inf
    upper: float = inf

    def edge(self, start: Corner, end: Corner) -> None:
        """Measure one edge, and keep what its doubt leaves open."""
        distance = self.piece(start, end)
        if distance - self.doubt_m <= self.upper:
            doubt = edge_doubt_m(start, end)
            self.lower = min(self.lower, max(distance - doubt, 0.0))
            self.upper = min(self.upper, distance + doubt)

    def piece(self, start: Corner, end: Corner) -> float:
        """The distance of a piece of an edge; infinite if no reading of it comes as near as what is found already."""
        if max(abs(end[0] - start[0]), abs(end[1] - start[1])) > _COARSE_DEG:
            least = self.place.least_m(*_sorted(start[0], end[0]), *_sorted(start[1], end[1]))
            return inf if self._is_far(least) else self._halves(start, end)
        square, east, north = _foot(start, end)
        distance = hypot(east, north)
        sag = square * (1.1 * self.steepness + (distance + sqrt(square)) / RADIUS_M) / (8 * RADIUS_M)
        if self.curved and sag > SAG_M:
            return inf if self._is_far(distance - sag) else self._halves(start, end)
        if distance < self.nearest.distance_m:
            self.nearest = Nearest(distance, east, north)
        return distance

    def vertices(self, corners: Sequence[Corner]) -> None:
        """Begin with the nearest vertex, so that few edges need to be looked at closely."""
        # Farther away, points of the plane are folded back.
        seen = [each for each in corners if abs(each[0] - self.place.lat) < 45 and abs(each[1]) < 45]
        for _, _, east, north in seen:
            if hypot(east, north) < self.nearest.distance_m:
                self.nearest = Nearest(hypot(east, north), east, north)

    def _is_far(self, least_m: float) -> bool:
        return least_m - self.doubt_m > self.nearest.distance_m

    def _halves(self, start: Corner, end: Corner) -> float:
        lat, lon = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        middle = (lat, lon, *self.place.offset_m(lat, lon + self.place.lon))
        return min(self.piece(start, middle), self.piece(middle, end))


def _foot(start: Corner, end: Corner) -> tuple[float, float, float]:
    """Square of a chord's length, and east and north of its point that is nearest to the place."""
    along_east, along_north = end[2] - start[2], end[3] - start[3]
    square = along_east * along_east + along_north * along_north
    share = 0.0 if square == 0 else -(start[2] * along_east + start[3] * along_north) / square
    share = min(max(share, 0.0), 1.0)
    return square, start[2] + share * along_east, start[3] + share * along_north


def nearest_of(chains: Sequence[Chain], place: Place, edge_model: str, doubt_m: float) -> Nearest:
    """The nearest point of chains: an edge between every two consecutive vertices, none from chain to chain.

    Args:
        chains: at least one, of two vertices or more.
        place: where from.
        edge_model: "lonlat" or "geodesic".
        doubt_m: no edge is more doubtful than this.

    """
    pieces = sorted(_pieces(chains, place), key=lambda piece: piece[0])
    search = _Search(place, edge_model == "lonlat", doubt_m)
    for least, lats, lons in pieces:
        if least - doubt_m > min(search.nearest.distance_m, search.upper):
            break
        search.steepness = tan(radians(min(max(map(abs, lats)), 89.9)))
        corners = [(lat, lon, *place.offset_m(lat, lon + place.lon)) for lat, lon in zip(lats, lons, strict=True)]
        search.vertices(corners)
        for start, end in pairwise(corners):
            search.edge(start, end)
    value = search.nearest.distance_m
    doubt = max(value - search.lower, search.upper - value, 0.0)
    return Nearest(value, search.nearest.east_m, search.nearest.north_m, doubt)


def _pieces(chains: Sequence[Chain], place: Place) -> Iterator[tuple[float, Sequence[float], Sequence[float]]]:
    """(least distance, latitudes, longitudes from the place's own) of every few vertices, the last taken twice."""
    for chain in chains:
        own = place.near_longitude(chain.lons)
        for first in range(0, max(len(chain.lats) - 1, 1), PIECE_VERTICES - 1):
            lats = chain.lats[first : first + PIECE_VERTICES]
            lons = [lon - own for lon in chain.lons[first : first + PIECE_VERTICES]]
            # A geodesic bulges out of the box of its ends, by less than 40 m where it may be 10 km long.
            yield place.least_m(min(lats), max(lats), min(lons), max(lons)) - 100.0, lats, lons


def edge_doubt_m(start: Corner, end: Corner) -> float:
    """How far the readings of an edge may lie apart, as `computations.edges.edge_doubt_m` has it."""
    east = radians(end[1] - start[1]) * cos(radians((start[0] + end[0]) / 2)) * RADIUS_M
    length = hypot(radians(end[0] - start[0]) * RADIUS_M, east)
    highest = tan(radians(min(max(abs(start[0]), abs(end[0])), 89.999)))
    slant = min(1.06, 1.5 * abs(east) / length) if length else 0.0
    return slant * min(length**2 * highest / (8 * RADIUS_M), length / 2)


def is_inside(rings: Sequence[Chain], place: Place, edge_model: str) -> bool:
    """Whether the place lies inside rings, holes taken out: northwards its meridian crosses an odd number of them."""
    return sum(_crossings(ring, place, edge_model) for ring in rings) % 2 == 1


def _crossings(ring: Chain, place: Place, edge_model: str) -> int:
    own = place.near_longitude(ring.lons)
    east_of = [lon > own for lon in ring.lons]
    count = 0
    for number, (one, other) in enumerate(pairwise(east_of)):
        if one is not other:
            lats, lons = ring.lats[number : number + 2], ring.lons[number : number + 2]
            count += _passes_north(lats, [lon - own for lon in lons], place, edge_model)
    return count


def _passes_north(lats: Sequence[float], lons: Sequence[float], place: Place, edge_model: str) -> bool:
    """Whether an edge from one side of the place's meridian to the other crosses it north of the place."""
    if edge_model == "lonlat":
        return lats[0] - lons[0] * (lats[1] - lats[0]) / (lons[1] - lons[0]) > place.lat
    (east, north), (to_east, to_north) = (
        place.offset_m(lat, lon + place.lon) for lat, lon in zip(lats, lons, strict=True)
    )
    return north - east * (to_north - north) / (to_east - east) > 0


def _sorted(one: float, other: float) -> tuple[float, float]:
    return (one, other) if one <= other else (other, one)
