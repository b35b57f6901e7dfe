"""Where the sun stands: above a place by the library ephem (VSOP87), on the sphere by Meeus's short theory."""

from __future__ import annotations

from math import asin, atan2, cos, degrees, radians, sin, tan
from typing import Any, NamedTuple

from afield.plugins.timing.computations.calendar import DELTA_T_S, J2000, jd_of
from afield.plugins.timing.computations.zone_files import instant_of

YEARS = (1950, 2050)
YEARS_JD = (2433282.5, 2470173.5)
JD_OF_EPHEM = 2415020.0
"""Julian day of the library's day 0, noon of 31 December 1899."""


class Equatorial(NamedTuple):
    """The sun's apparent place, equinox of date; degrees and astronomical units."""

    true_longitude_deg: float
    apparent_longitude_deg: float
    ra_deg: float
    dec_deg: float
    distance_au: float


class SolarPosition(NamedTuple):
    """The sun above a place; degrees."""

    apparent_zenith_deg: float
    azimuth_deg: float
    true_elevation_deg: float


def solar_apparent_equatorial(jde: float) -> Equatorial:
    """The sun's apparent right ascension and declination.

    Args:
        jde: Julian day in terrestrial time.

    Source: J. Meeus, Astronomical Algorithms, 2nd ed. (1998), chapter 25, "Low accuracy" (0.01 degrees), obliquity by
    formula 22.2 with the correction of 25.8.

    Raises:
        ValueError: outside the years 1950 to 2050.

    """
    if not YEARS_JD[0] - 1 <= jde <= YEARS_JD[1] + 1:
        raise ValueError(f"Julian day {jde:g} is outside the years {YEARS[0]} to {YEARS[1]}")
    t = (jde - J2000) / 36525
    anomaly = radians(357.52911 + 35999.05029 * t - 0.0001537 * t * t)
    centre = _centre_deg(t, anomaly)
    true = _mean_longitude_deg(t) + centre
    node = radians(125.04 - 1934.136 * t)
    apparent = true - 0.00569 - 0.00478 * sin(node)
    tilt = radians(_mean_obliquity_deg(t) + 0.00256 * cos(node))
    ra = degrees(atan2(cos(tilt) * sin(radians(apparent)), cos(radians(apparent)))) % 360
    dec = degrees(asin(sin(tilt) * sin(radians(apparent))))
    return Equatorial(true % 360, apparent % 360, ra, dec, _distance_au(t, anomaly + radians(centre)))


def _mean_longitude_deg(t: float) -> float:
    return 280.46646 + 36000.76983 * t + 0.0003032 * t * t


def _centre_deg(t: float, anomaly: float) -> float:
    first = (1.914602 - 0.004817 * t - 0.000014 * t * t) * sin(anomaly)
    return first + (0.019993 - 0.000101 * t) * sin(2 * anomaly) + 0.000289 * sin(3 * anomaly)


def _distance_au(t: float, true_anomaly: float) -> float:
    eccentricity = 0.016708634 - 0.000042037 * t - 0.0000001267 * t * t
    return 1.000001018 * (1 - eccentricity**2) / (1 + eccentricity * cos(true_anomaly))


def _mean_obliquity_deg(t: float) -> float:
    return 23.4392911 - 0.0130042 * t - 1.64e-7 * t * t + 5.04e-7 * t**3


def equation_of_time(jd_ut: float) -> float:
    """Minutes by which a sundial is ahead of the mean sun.

    Args:
        jd_ut: Julian day in universal time.

    Source: J. Meeus, Astronomical Algorithms, 2nd ed. (1998), formula 28.1, nutation by its greatest term.

    Raises:
        ValueError: outside the years 1950 to 2050.

    """
    jde = jd_ut + DELTA_T_S / 86400
    t = (jde - J2000) / 36525
    sun = solar_apparent_equatorial(jde)
    nutation = -0.00478 * sin(radians(125.04 - 1934.136 * t)) * cos(radians(_mean_obliquity_deg(t)))
    difference = _mean_longitude_deg(t) - 0.0057183 - sun.ra_deg + nutation
    return 4 * ((difference + 180) % 360 - 180)


def elevation_deg(lat_deg: float, lon_deg: float, jd_ut: float) -> float:
    """True elevation of the sun's centre, parallax included, refraction not; degrees."""
    return _horizontal(lat_deg, lon_deg, jd_ut)[0]


def _horizontal(lat_deg: float, lon_deg: float, jd_ut: float) -> tuple[float, float]:
    """True elevation, and azimuth from north by east; degrees."""
    sun = _sun_seen(lat_deg, lon_deg, jd_ut)
    return degrees(sun.alt), degrees(sun.az)


def _sun_seen(lat_deg: float, lon_deg: float, jd_ut: float) -> Any:
    import ephem

    observer = ephem.Observer()
    observer.lat, observer.lon = radians(lat_deg), radians(lon_deg)
    # Without air there is no refraction: what it does is told apart, so that each figure is of one kind.
    observer.pressure, observer.elevation = 0, 0
    observer.date = jd_ut - JD_OF_EPHEM
    return ephem.Sun(observer)


def sun_position(
    lat_deg: float, lon_deg: float, time_utc: str, pressure_hpa: float = 1010.0, temperature_c: float = 10.0
) -> SolarPosition:
    """Zenith distance with refraction, azimuth, and elevation without refraction.

    Args:
        lat_deg, lon_deg: north and east positive.
        time_utc: "2003-10-17T19:30:30Z".
        pressure_hpa, temperature_c: of the air, for the refraction.

    Source: the library ephem (VSOP87, within an arc second from 1950 to 2050); refraction by Meeus (1998), formula 16.4
    (Saemundsson), for elevations above -1 degree; below that none is taken.

    Raises:
        ValueError: outside the years 1950 to 2050, a latitude beyond a pole, or a time without its zone.

    """
    instant = instant_of(time_utc)
    if not YEARS[0] <= instant.year <= YEARS[1]:
        raise ValueError(f"{time_utc} is outside the years {YEARS[0]} to {YEARS[1]}")
    if not -90 <= lat_deg <= 90:
        raise ValueError(f"the latitude {lat_deg:g} is outside -90 to 90")
    elevation, azimuth = _horizontal(lat_deg, lon_deg, jd_of(instant))
    shift = _refraction_deg(elevation, pressure_hpa, temperature_c) if elevation > -1 else 0.0
    return SolarPosition(90 - elevation - shift, azimuth, elevation)


def _refraction_deg(elevation: float, pressure_hpa: float, temperature_c: float) -> float:
    air = pressure_hpa / 1010 * 283 / (273 + temperature_c)
    return air * 1.02 / tan(radians(elevation + 10.3 / (elevation + 5.11))) / 60
