"""Which areas a point is in, told from on their boundary and outside."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from typing import Literal, NamedTuple, TypeVar

import numpy as np
from numpy.typing import ArrayLike

from afield.plugins.geometry.computations.areas import area_around
from afield.plugins.geometry.computations.plane import plane_at

BOUNDARY_M = 0.001
"""A point no farther from the boundary than this is on it; 1e-8 degree is 1.1 mm."""

Class = Literal["inside", "boundary", "outside"]
Polygons = Sequence[Sequence[ArrayLike]]
Identity = TypeVar("Identity", bound=Hashable)


class Membership(NamedTuple):
    """What `point_in_polygon` finds."""

    where: Class
    inside: bool
    inside_or_boundary: bool
    distance_to_boundary_m: float


class Memberships(NamedTuple):
    """What `point_in_polygons` finds; an identity as it was given."""

    containing_ids: list[Hashable]
    nearest_boundary_m: float
    nearest_boundary_id: Hashable
    distance_to_boundary_m: dict[Hashable, float]


def point_in_polygon(
    point_lat_deg: float, point_lon_deg: float, polygons_lat_lon_deg: Polygons, edge_model: str = "lonlat"
) -> Membership:
    """Whether a point is inside an area, on its boundary or outside, and how far from the boundary.

    Formula: even-odd rule and least distance to the boundary, in the azimuthal equidistant plane of the point, after
    the area is dissolved and repaired: cuts in the data are no boundary. On the boundary is what lies within 1 mm of
    it. Source: own derivation; edges as RFC 7946, 3.1.1 ("lonlat"), as geodesics, or as rhumb lines.
    Valid: everywhere on WGS 84, across 180 degrees and at the poles. Error of the distance as in
    `point_to_polyline_distance`.

    Args:
        point_lat_deg, point_lon_deg: the point.
        polygons_lat_lon_deg: polygons of rings of [latitude, longitude], the outer ring first.
        edge_model: "lonlat", "geodesic" or "rhumb".

    Raises:
        ValueError: no ring that encloses anything, a position that is not on the Earth, an unknown edge model.

    """
    area = area_around(polygons_lat_lon_deg, plane_at(point_lat_deg, point_lon_deg), 0.0, edge_model)
    signed = float(area.signed_m(np.zeros((1, 2)))[0])
    found: Class = "boundary" if abs(signed) <= BOUNDARY_M else "inside" if signed > 0 else "outside"
    return Membership(found, found == "inside", found != "outside", abs(signed))


def point_in_polygon_class(
    points_lat_lon_deg: ArrayLike, polygons_lat_lon_deg: Polygons, edge_model: str = "lonlat"
) -> list[Class]:
    """Each point's class: "inside", "boundary" or "outside".

    Formula: as `point_in_polygon`, point by point; on the boundary is what lies within 1 mm of it.
    Source: own derivation; edges as RFC 7946, 3.1.1 ("lonlat"), as geodesics, or as rhumb lines.
    Valid: as `point_in_polygon`.

    Args:
        points_lat_lon_deg: (n, 2) [latitude, longitude].
        polygons_lat_lon_deg: polygons of rings of [latitude, longitude], the outer ring first.
        edge_model: "lonlat", "geodesic" or "rhumb".

    Raises:
        ValueError: as `point_in_polygon`.

    """
    points = np.asarray(points_lat_lon_deg, float).reshape(-1, 2)
    return [point_in_polygon(lat, lon, polygons_lat_lon_deg, edge_model).where for lat, lon in points]


def point_in_polygons(
    point_lat_deg: float,
    point_lon_deg: float,
    areas_lat_lon_deg: Mapping[Identity, Polygons],
    edge_model: str = "lonlat",
) -> Memberships:
    """Which of several areas hold a point (boundary included), and which boundary is nearest.

    Formula: `point_in_polygon` for each area.
    Source: own derivation; edges as RFC 7946, 3.1.1 ("lonlat"), as geodesics, or as rhumb lines.
    Valid: as `point_in_polygon`.

    Args:
        point_lat_deg, point_lon_deg: the point.
        areas_lat_lon_deg: the areas by their identity, polygons of rings of [latitude, longitude].
        edge_model: "lonlat", "geodesic" or "rhumb".

    Raises:
        ValueError: no area at all, and as `point_in_polygon`, naming the area.

    """
    if not areas_lat_lon_deg:
        raise ValueError("there is no area to look in")
    found: dict[Identity, Membership] = {}
    for identity, polygons in areas_lat_lon_deg.items():
        try:
            found[identity] = point_in_polygon(point_lat_deg, point_lon_deg, polygons, edge_model)
        except ValueError as problem:
            raise ValueError(f"area {identity}: {problem}") from problem
    nearest = min(found, key=lambda identity: found[identity].distance_to_boundary_m)
    return Memberships(
        [identity for identity, each in found.items() if each.inside_or_boundary],
        found[nearest].distance_to_boundary_m,
        nearest,
        {identity: each.distance_to_boundary_m for identity, each in found.items()},
    )
