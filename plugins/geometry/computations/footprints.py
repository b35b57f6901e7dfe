"""The parts of a station as planar shapes, in metres east and north of the station's position."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import cos, hypot, isfinite, radians, sin
from typing import Any, Protocol

import numpy as np
import shapely
from numpy.typing import ArrayLike

from afield.core.api import frozen
from afield.plugins.geometry.computations.cells import Cell, Corners, sectors
from afield.plugins.geometry.computations.planar import lengths
from afield.plugins.geometry.computations.plane import Floats

Offset = tuple[float, float]
"""(east, north), metres."""


class Shape(Protocol):
    """What a part covers; always connected."""

    def cells(self) -> Sequence[Cell]:
        """Convex cells that cover it."""

    def reach_m(self) -> float:
        """Distance of its farthest point from the station's position."""

    def shifted(self, by: Floats) -> Shape:
        """The same, moved."""

    def outline(self) -> Any:
        """As a shapely geometry, to draw and to measure with; arcs are inscribed, 16 chords a quarter."""


@frozen(slots=False, eq=False)
class Strokes:
    """Connected segments (n, 2, 2); a point is one segment without length."""

    ends: Floats

    def cells(self) -> Sequence[Cell]:
        """A cell a segment."""
        return [Corners(pair if (pair[0] != pair[1]).any() else pair[:1]) for pair in self.ends]

    def reach_m(self) -> float:
        """To the farthest end."""
        return float(lengths(self.ends).max())

    def shifted(self, by: Floats) -> Strokes:
        """The same, moved."""
        return Strokes(self.ends + by)

    def outline(self) -> Any:
        """A point, or lines."""
        solid = self.ends[(self.ends[:, 0] != self.ends[:, 1]).any(axis=1)]
        return shapely.multilinestrings(list(solid)) if len(solid) else shapely.Point(self.ends[0, 0])


@frozen(slots=False)
class Band:
    """All that lies between two distances from a centre."""

    centre: Offset
    inner_m: float
    outer_m: float

    def cells(self) -> Sequence[Cell]:
        """Sectors."""
        return sectors(self.centre, self.inner_m, self.outer_m) if self.outer_m > 0 else [Corners(_row(self.centre))]

    def reach_m(self) -> float:
        """To the far side."""
        return hypot(*self.centre) + self.outer_m

    def shifted(self, by: Floats) -> Band:
        """The same, moved."""
        return replace(self, centre=(self.centre[0] + float(by[0]), self.centre[1] + float(by[1])))

    def outline(self) -> Any:
        """A disk or a ring."""
        disk = shapely.Point(self.centre).buffer(self.outer_m, quad_segs=16)
        hole = shapely.Point(self.centre).buffer(self.inner_m, quad_segs=16)
        return shapely.difference(disk, hole) if self.inner_m > 0 else disk


@frozen(slots=False, eq=False)
class Patch:
    """A filled simple polygon, by its vertices (n, 2), closed or not."""

    ring: Floats

    def cells(self) -> Sequence[Cell]:
        """Triangles."""
        triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(self.outline()))
        return [Corners(shapely.get_coordinates(triangle)[:3]) for triangle in triangles]

    def reach_m(self) -> float:
        """To the farthest vertex."""
        return float(lengths(self.ring).max())

    def shifted(self, by: Floats) -> Patch:
        """The same, moved."""
        return Patch(self.ring + by)

    def outline(self) -> Any:
        """The polygon."""
        return shapely.Polygon(self.ring)


@frozen(slots=False)
class Part:
    """A part of the station.

    Attributes:
        name: as the plan has it.
        shape: what it covers, east and north of the station's position.

    """

    name: str
    shape: Shape


def offset_m(bearing_deg: float, distance_m: float) -> Offset:
    """East and north of a point at a true bearing and a distance."""
    return distance_m * sin(radians(bearing_deg)), distance_m * cos(radians(bearing_deg))


def point_part(name: str, at_m: Offset) -> Part:
    """A part at one point."""
    return segment_part(name, at_m, at_m)


def segment_part(name: str, from_m: Offset, to_m: Offset) -> Part:
    """A straight part, such as a wire, between two points."""
    return path_part(name, [from_m, to_m])


def path_part(name: str, points_m: ArrayLike) -> Part:
    """A part that runs through points (n, 2), such as a wire with corners."""
    points = _checked(name, points_m)
    points = points if len(points) > 1 else np.concatenate([points, points])
    return Part(name, Strokes(np.stack([points[:-1], points[1:]], axis=1)))


def radials_part(name: str, centre_m: Offset, length_m: float, bearings_deg: Iterable[float]) -> Part:
    """Wires of one length from one point, at true bearings."""
    _positive(name, length_m)
    tips = [[centre_m[0] + east, centre_m[1] + north] for east, north in (offset_m(b, length_m) for b in bearings_deg)]
    ends = _checked(name, tips)
    return Part(name, Strokes(np.stack([np.broadcast_to(_checked(name, [centre_m]), ends.shape), ends], axis=1)))


def circle_part(name: str, centre_m: Offset, inner_radius_m: float, outer_radius_m: float) -> Part:
    """A part whose bearing is not known: it may be anywhere between its nearest and farthest distance."""
    _positive(name, inner_radius_m)
    _positive(name, outer_radius_m)
    near, far = sorted((float(inner_radius_m), float(outer_radius_m)))
    east, north = _checked(name, [centre_m])[0]
    return Part(name, Band((float(east), float(north)), near, far))


def polygon_part(name: str, ring_m: ArrayLike) -> Part:
    """A part that covers a filled polygon (n, 2); raises ValueError if its outline crosses itself."""
    ring = _checked(name, ring_m)
    if len(ring) < 3 or not shapely.Polygon(ring).is_valid:
        raise ValueError(f"the outline of {name!r} encloses nothing or crosses itself: list its corners in order")
    return Part(name, Patch(ring))


def reach_m(parts: Iterable[Part]) -> float:
    """Distance of the farthest point of the station from its position, metres."""
    return max((part.shape.reach_m() for part in parts), default=0.0)


def shifted(parts: Iterable[Part], east_m: float, north_m: float) -> list[Part]:
    """The same parts, with the station moved."""
    by = np.array([east_m, north_m])
    return [Part(part.name, part.shape.shifted(by)) for part in parts]


def _row(point: Offset) -> Floats:
    return np.array([point], float)


def _positive(name: str, length_m: float) -> None:
    if not (isfinite(length_m) and length_m >= 0):
        raise ValueError(f"{name!r} has a length of {length_m} m: it must be a number, 0 or more")


def _checked(name: str, points_m: ArrayLike) -> Floats:
    points = np.asarray(points_m, float)
    if points.ndim != 2 or points.shape[1] != 2 or not len(points) or not np.isfinite(points).all():
        raise ValueError(f"{name!r} needs points of [east, north] in metres, all finite")
    return points
