"""The plain tangent plane: no library, for looking through many places quickly."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, radians, sin, sqrt

_A_M = 6378137.0
_E2 = 0.0066943799901413165
"""WGS 84: semi-major axis and eccentricity squared (NGA.STND.0036)."""

Vector = tuple[float, float, float]


def tangent_offset_m(
    origin_lat_deg: float, origin_lon_deg: float, lat_deg: float, lon_deg: float
) -> tuple[float, float]:
    """East and north of a point in the plane that touches the ellipsoid at the origin, metres.

    Earth-centred coordinates turned to east and north (IOGP 373-7-2, geographic to geocentric to topocentric).
    Distances fall short by h^3 / (6 R^2): 4 mm at 10 km, 0.5 m at 50 km. Right at the poles and across 180 degrees.
    """
    dx, dy, dz = (
        there - here
        for there, here in zip(
            _earth_centred_m(lat_deg, lon_deg), _earth_centred_m(origin_lat_deg, origin_lon_deg), strict=True
        )
    )
    lat, lon = radians(origin_lat_deg), radians(origin_lon_deg)
    east = -sin(lon) * dx + cos(lon) * dy
    north = -sin(lat) * (cos(lon) * dx + sin(lon) * dy) + cos(lat) * dz
    return east, north


def local_plane(origin_lat_deg: float, origin_lon_deg: float) -> Callable[[float, float], tuple[float, float]]:
    """(latitude, longitude) -> east and north of a point, metres, with distances along the ground from the origin.

    Formula: the tangent plane, stretched away from the origin by asin(q) / q, q the distance in the plane by the radius
    of the sphere that fits the ellipsoid best there (sqrt(M N)); the series to q^6 stands for it.
    Source: own derivation.
    Valid: distances from the origin within 1 cm up to 50 km. Points beyond a quarter of the Earth are folded back:
    nothing is to be concluded from where they come out.
    """
    x, y, z = _earth_centred_m(origin_lat_deg, origin_lon_deg)
    lat, lon = radians(origin_lat_deg), radians(origin_lon_deg)
    sin_lat, cos_lat, sin_lon, cos_lon = sin(lat), cos(lat), sin(lon), cos(lon)
    by_radius = ((1 - _E2 * sin_lat**2) / (_A_M * sqrt(1 - _E2))) ** 2

    def offset_m(lat_deg: float, lon_deg: float) -> tuple[float, float]:
        there_x, there_y, there_z = _earth_centred_m(lat_deg, lon_deg)
        dx, dy = there_x - x, there_y - y
        east = cos_lon * dy - sin_lon * dx
        north = cos_lat * (there_z - z) - sin_lat * (cos_lon * dx + sin_lon * dy)
        square = (east * east + north * north) * by_radius
        stretch = 1 + square * (1 / 6 + square * (3 / 40 + square * (15 / 336)))
        return east * stretch, north * stretch

    return offset_m


def distance_to_segment_m(start_m: tuple[float, float], end_m: tuple[float, float]) -> float:
    """Distance of the origin from a segment of the plane, metres; a segment without length is a point."""
    along_east, along_north = end_m[0] - start_m[0], end_m[1] - start_m[1]
    square = along_east * along_east + along_north * along_north
    share = 0.0 if square == 0 else -(start_m[0] * along_east + start_m[1] * along_north) / square
    share = min(max(share, 0.0), 1.0)
    return hypot(start_m[0] + share * along_east, start_m[1] + share * along_north)


def _earth_centred_m(lat_deg: float, lon_deg: float) -> Vector:
    lat, lon = radians(lat_deg), radians(lon_deg)
    normal = _A_M / sqrt(1 - _E2 * sin(lat) ** 2)
    return normal * cos(lat) * cos(lon), normal * cos(lat) * sin(lon), normal * (1 - _E2) * sin(lat)
