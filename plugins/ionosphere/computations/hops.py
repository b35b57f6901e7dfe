"""The geometry of one hop over a round earth, by a mirror at one height."""

from __future__ import annotations

from math import acos, asin, atan2, cos, degrees, hypot, radians, sin

from afield.plugins.ionosphere.computations.checked import within

EARTH_KM = 6371.0
LOWEST_ELEVATION_DEG = 3.0
"""Least elevation of a ray in ITU-R P.533, section 5.2.1."""


def secant_law_ratio(distance_km: float, virtual_height_km: float, earth_radius_km: float = EARTH_KM) -> float:
    """How many times the critical frequency a hop carries, by the secant law.

    Formula: MUF / fo = sec phi; tan phi = sin(D / 2R) / (1 + h / R - cos(D / 2R)).
    Source: Davies, Ionospheric Radio (1990), section 6.2, the secant law over a curved earth.
    Valid: a mirror above the horizon at mid-path. The true layer is thick: from 2,000 km on this is too high by up to
    some 15 %; `muf_from_m3000` takes it in.

    Args:
        distance_km: length of the hop along the ground.
        virtual_height_km: height of the mirror, 60 to 800.
        earth_radius_km: 6,300 to 6,400.

    Raises:
        ValueError: a figure out of range, or a mirror that is below the horizon.

    """
    radius = within(6300, 6400, earth_radius_km, "earth radius", "km")
    half, height = _half_angle(distance_km, radius), _height(virtual_height_km)
    rise = 1 + height / radius - cos(half)
    if cos(half) < radius / (radius + height):
        raise ValueError(f"the mirror at {height:g} km is below the horizon of a hop of {distance_km:g} km; take two")
    return hypot(rise, sin(half)) / rise


def hop_elevation(hop_km: float, height_km: float) -> float:
    """Elevation at which a hop leaves the ground, in degrees; negative where its mirror is below the horizon.

    Formula: tan e = cot(D / 2R) - R / ((R + h) sin(D / 2R)).
    Source: ITU-R P.533-14, section 5.1, equation (13).
    Valid: a mirror at one height, 60 to 800 km; hops of 0 to 6,000 km.

    Args:
        hop_km: length of the hop along the ground.
        height_km: height of the mirror.

    Raises:
        ValueError: a figure out of range.

    """
    half, height = _half_angle(hop_km, EARTH_KM), _height(height_km)
    return degrees(atan2(cos(half) - EARTH_KM / (EARTH_KM + height), sin(half)))


def hop_length(elevation_deg: float, height_km: float) -> float:
    """How far along the ground one hop goes that leaves at an elevation, in km.

    Formula: D = 2 R (arccos(R cos e / (R + h)) - e).
    Source: the triangle of ITU-R P.533-14, section 5.1, solved for D.
    Valid: elevations of 0 to 90 degrees; a mirror at one height, 60 to 800 km.

    Args:
        elevation_deg: elevation at the ground.
        height_km: height of the mirror.

    Raises:
        ValueError: a figure out of range.

    """
    elevation = radians(within(0, 90, elevation_deg, "elevation", "deg"))
    return 2 * EARTH_KM * (acos(EARTH_KM * cos(elevation) / (EARTH_KM + _height(height_km))) - elevation)


def incidence(elevation_deg: float, height_km: float) -> float:
    """Angle from the vertical at which a ray meets a height, in degrees.

    Formula: sin i = R cos e / (R + h).
    Source: ITU-R P.533-14, section 4, equation (12).
    Valid: as `hop_length`.

    Args:
        elevation_deg: elevation at the ground, 0 to 90.
        height_km: the height, 60 to 800.

    Raises:
        ValueError: a figure out of range.

    """
    elevation = radians(within(0, 90, elevation_deg, "elevation", "deg"))
    return degrees(asin(EARTH_KM * cos(elevation) / (EARTH_KM + _height(height_km))))


def slant_range(hop_km: float, height_km: float) -> float:
    """Way of a ray up to the mirror and down again, in km.

    Formula: 2 sqrt(R^2 + (R + h)^2 - 2 R (R + h) cos(D / 2R)), the virtual slant range.
    Source: ITU-R P.533-14, section 5.2.2, equation (19).
    Valid: as `hop_elevation`.

    Args:
        hop_km: length of the hop along the ground.
        height_km: height of the mirror.

    Raises:
        ValueError: a figure out of range.

    """
    half, top = _half_angle(hop_km, EARTH_KM), EARTH_KM + _height(height_km)
    return 2 * hypot(EARTH_KM * sin(half), top - EARTH_KM * cos(half))


def _half_angle(distance_km: float, radius_km: float) -> float:
    return within(0, 6000, distance_km, "hop", "km") / (2 * radius_km)


def _height(height_km: float) -> float:
    return within(60, 800, height_km, "height", "km")
