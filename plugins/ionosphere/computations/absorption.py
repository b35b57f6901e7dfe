"""What the lower ionosphere takes from a ray by day."""

from __future__ import annotations

from math import cos, radians

from afield.plugins.ionosphere.computations.absorption_data import (
    GREATEST_LATITUDE_DEG,
    LATITUDE_STEP_DEG,
    NOON,
    NOON_MONTH,
)
from afield.plugins.ionosphere.computations.checked import within
from afield.plugins.ionosphere.computations.hops import hop_elevation, incidence

E_KM = 110.0
EXPONENT = 1.3
"""About the middle of figure 3, whose exponents run from 0.7 near the magnetic equator to 1.7."""
LEAST_LIGHT, DARK_DEG = 0.02, 102.0
GREATEST_R12 = 160.0


def hop_absorption(
    frequency_mhz: float,
    hop_km: float,
    height_km: float,
    lat: float,
    month: int,
    zenith_deg: float,
    noon_zenith_deg: float,
    foE_mhz: float,  # noqa: N803 - the field's symbols
    longitudinal_mhz: float,
    r12: float,
) -> float:
    """Absorption of one hop, in dB.

    Formula: (1 + 0.0067 R12) A phi(fv / foE) F(z) / F(z noon) / ((f + fL)^2 cos i), i the incidence at 110 km,
    fv = f cos i, F(z) = cos(0.881 z)^p, at least 0.02; A and phi by figures 1 and 2.
    Source: ITU-R P.533-14, section 5.2.2, equations (20) and (21). p is taken as 1.3 in place of figure 3.
    Valid: one hop; R12 counts to 160. Beyond 70 degrees of latitude as at 70. Within 6 % of the reference software's
    shipped example; p matters in the morning and evening only. Auroral absorption and short fade-outs are not in it.

    Args:
        frequency_mhz: 1.6 to 30.
        hop_km: length of the hop.
        height_km: height of its mirror.
        lat: of the middle, degrees.
        month: 1 to 12.
        zenith_deg: the sun's distance from the zenith there, 0 to 180.
        noon_zenith_deg: the same at local noon.
        foE_mhz: critical frequency of the E layer there, above 0.1.
        longitudinal_mhz: gyrofrequency at 100 km times the sine of the dip, 0 to 2.
        r12: sunspot number, mean over 12 months, 0 to 250.

    Raises:
        ValueError: a figure out of range, or a mirror below the horizon.

    """
    frequency = within(1.6, 30, frequency_mhz, "frequency", "MHz")
    slant = cos(radians(incidence(hop_elevation(hop_km, height_km), E_KM)))
    light = _light(zenith_deg) / _light(noon_zenith_deg)
    activity = 1 + 0.0067 * min(within(0, 250, r12, "sunspot number"), GREATEST_R12)
    depth = penetration(frequency * slant / within(0.1, 8, foE_mhz, "foE", "MHz"))
    divisor = (frequency + within(0, 2, longitudinal_mhz, "fL", "MHz")) ** 2 * slant
    return activity * noon_factor(lat, month) * depth * light / divisor


def noon_factor(lat: float, month: int) -> float:
    """Absorption factor at local noon and R12 = 0, of figure 1, between its latitudes.

    The figure is of northern latitudes; south of the equator the month half a year away is taken.

    Raises:
        ValueError: a latitude or month out of range.

    """
    of_north = int(within(1, 12, month, "month")) - 1 + (6 if lat < 0 else 0)
    row = NOON[NOON_MONTH[of_north % 12]]
    place = min(abs(within(-90, 90, lat, "lat", "deg")), GREATEST_LATITUDE_DEG - 0.01) / LATITUDE_STEP_DEG
    step = int(place)
    return row[step] + (row[step + 1] - row[step]) * (place - step)


def penetration(ratio: float) -> float:
    """How far into the absorbing layer a wave gets, of figure 2: 1 for one that goes right through.

    The figure is a curve of the vertical frequency over foE, greatest near 1, fitted in three pieces.
    """
    if ratio <= 1:
        x = (ratio - 0.475) / 0.475
        value = 0.225 + x * (0.159 + x * (0.044 + x * (-0.027 + x * (0.127 + x * (0.04 - 0.093 * x)))))
    elif ratio <= 2.2:
        x = (ratio - 1.65) / 0.55
        value = 0.375 + x * (-0.049 + x * (0.054 + x * (0.034 + x * (-0.027 + x * (-0.07 + 0.043 * x)))))
    else:
        value = 0.34 + max(10 - ratio, 0) * 0.02 / 7.8
    return min(value, 0.53) / 0.34


def _light(zenith_deg: float) -> float:
    zenith = min(within(0, 180, zenith_deg, "zenith distance", "deg"), DARK_DEG)
    light: float = cos(radians(0.881 * zenith)) ** EXPONENT
    return max(light, LEAST_LIGHT)
