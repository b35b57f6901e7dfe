"""Distances, bearings and areas on the ellipsoid."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from afield.plugins.geometry.computations.positions import (
    Position,
    checked_number,
    checked_position,
    wrapped_360,
)

if TYPE_CHECKING:
    from pyproj import Geod

WGS84_SEMI_MAJOR_M = 6378137.0
"""Semi-major axis of WGS 84 (NGA.STND.0036, table 3.1)."""

WGS84_INVERSE_FLATTENING = 298.257223563
"""Inverse flattening of WGS 84 (NGA.STND.0036, table 3.1)."""


class Geodesic(NamedTuple):
    """The shortest line from point 1 to point 2; azimuths clockwise from true north, 0 to 360."""

    distance_m: float
    azimuth_1_2_deg: float
    azimuth_2_1_deg: float
    azimuth_at_p2_forward_deg: float


class PerimeterArea(NamedTuple):
    """Length of a ring's edge and the ground that it encloses."""

    perimeter_m: float
    area_m2: float


def geodesic_inverse(
    lat_1_deg: float,
    lon_1_deg: float,
    lat_2_deg: float,
    lon_2_deg: float,
    semi_major_m: float = WGS84_SEMI_MAJOR_M,
    inverse_flattening: float = WGS84_INVERSE_FLATTENING,
) -> Geodesic:
    """Distance and bearings of the shortest line between two positions.

    Formula: Karney's solution of the inverse geodesic problem, which also converges for nearly antipodal points.
    Source: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), sections 4 and 5; as in PROJ.
    Valid: any two positions; good to 15 nm. Of coincident or exactly opposite points the bearings are one of many.

    Args:
        lat_1_deg: latitude of point 1.
        lon_1_deg: longitude of point 1.
        lat_2_deg: latitude of point 2.
        lon_2_deg: longitude of point 2.
        semi_major_m: the ellipsoid's semi-major axis.
        inverse_flattening: the ellipsoid's inverse flattening; infinity for a sphere.

    Raises:
        ValueError: a position is not on the Earth, or the ellipsoid is none.

    """
    first, second = checked_position(lat_1_deg, lon_1_deg), checked_position(lat_2_deg, lon_2_deg)
    forward, back, distance = _ellipsoid(semi_major_m, inverse_flattening).inv(
        first.lon_deg, first.lat_deg, second.lon_deg, second.lat_deg
    )
    return Geodesic(float(distance), wrapped_360(forward), wrapped_360(back), wrapped_360(back + 180.0))


def geodesic_direct(
    lat_deg: float,
    lon_deg: float,
    azimuth_deg: float,
    distance_m: float,
    semi_major_m: float = WGS84_SEMI_MAJOR_M,
    inverse_flattening: float = WGS84_INVERSE_FLATTENING,
) -> Position:
    """The position a distance away along a bearing.

    Formula: Karney's solution of the direct geodesic problem.
    Source: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), section 3; as in PROJ.
    Valid: any finite distance; a negative one goes backwards.

    Args:
        lat_deg: latitude of the start.
        lon_deg: longitude of the start.
        azimuth_deg: bearing at the start, clockwise from true north.
        distance_m: length of the line.
        semi_major_m: the ellipsoid's semi-major axis.
        inverse_flattening: the ellipsoid's inverse flattening; infinity for a sphere.

    Raises:
        ValueError: the position is not on the Earth, a figure is not finite, or the ellipsoid is none.

    """
    start = checked_position(lat_deg, lon_deg)
    azimuth, distance = checked_number(azimuth_deg, "bearing"), checked_number(distance_m, "distance")
    lon, lat, _ = _ellipsoid(semi_major_m, inverse_flattening).fwd(start.lon_deg, start.lat_deg, azimuth, distance)
    return Position(float(lat), float(lon))


def polygon_perimeter_area(
    lats_deg: Sequence[float],
    lons_deg: Sequence[float],
    semi_major_m: float = WGS84_SEMI_MAJOR_M,
    inverse_flattening: float = WGS84_INVERSE_FLATTENING,
) -> PerimeterArea:
    """Perimeter and area of a ring whose edges are geodesics, in either sense of rotation, closed or not.

    Formula: sum of the areas between each geodesic edge and the equator.
    Source: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), section 6; as in PROJ.
    Valid: a simple ring that encloses less than half of the Earth; a pole or 180 degrees may lie inside.

    Args:
        lats_deg: latitudes of the corners in order.
        lons_deg: longitudes of the corners in order.
        semi_major_m: the ellipsoid's semi-major axis.
        inverse_flattening: the ellipsoid's inverse flattening; infinity for a sphere.

    Raises:
        ValueError: fewer than three corners, lists of unequal length, or a corner that is not on the Earth.

    """
    corners = [checked_position(lat, lon) for lat, lon in zip(lats_deg, lons_deg, strict=True)]
    if len(set(corners)) < 3:
        raise ValueError(f"a ring needs three different corners; {len(set(corners))} given")
    area, perimeter = _ellipsoid(semi_major_m, inverse_flattening).polygon_area_perimeter(
        [corner.lon_deg for corner in corners], [corner.lat_deg for corner in corners]
    )
    return PerimeterArea(float(perimeter), abs(float(area)))


@lru_cache(maxsize=8)
def _ellipsoid(semi_major_m: float, inverse_flattening: float) -> Geod:
    from pyproj import Geod

    if not 0 < semi_major_m < float("inf") or not inverse_flattening > 1:
        raise ValueError(
            f"no ellipsoid has semi-major axis {semi_major_m} m and inverse flattening {inverse_flattening}"
        )
    return Geod(a=semi_major_m, f=1.0 / inverse_flattening)
