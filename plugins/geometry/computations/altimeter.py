"""Height and air pressure in the standard atmosphere, and what an error of pressure does to an altimeter."""

from __future__ import annotations

from math import exp, log
from typing import NamedTuple

from afield.plugins.geometry.computations.positions import checked_number

SEA_LEVEL_HPA = 1013.25
SEA_LEVEL_K = 288.15
LAPSE_K_PER_M = 0.0065
EARTH_RADIUS_M = 6_356_766.0
"""Nominal radius with which ICAO turns geometric into geopotential height (Doc 7488/3, section 2.3)."""
EXPONENT = 5.25588
TROPOPAUSE_M = 11_000.0
LOWEST_M = -5_000.0


class StandardAir(NamedTuple):
    """Air of the standard atmosphere."""

    geopotential_height_m: float
    temperature_c: float
    pressure_hpa: float


def isa_pressure(geometric_height_m: float) -> StandardAir:
    """Pressure and temperature of the standard atmosphere at a height above mean sea level.

    Formula: H = r z / (r + z); T = 288.15 - 0.0065 H; p = 1013.25 (1 - 0.0065 H / 288.15)^5.25588.
    Source: ICAO Doc 7488/3 (1993), Manual of the ICAO Standard Atmosphere, section 2 and table 1.
    Valid: -5,000 m to 11,000 m geopotential. Real air differs by tens of hPa and of kelvins.

    Args:
        geometric_height_m: height above mean sea level.

    Raises:
        ValueError: outside these heights.

    """
    height = checked_number(geometric_height_m, "height")
    geopotential = EARTH_RADIUS_M * height / (EARTH_RADIUS_M + height) if height > -EARTH_RADIUS_M else height
    if not LOWEST_M <= geopotential <= TROPOPAUSE_M:
        raise ValueError(f"height {height:g} m is outside {LOWEST_M:g} m to {TROPOPAUSE_M:g} m")
    kelvins = SEA_LEVEL_K - LAPSE_K_PER_M * geopotential
    return StandardAir(geopotential, kelvins - 273.15, SEA_LEVEL_HPA * exp(EXPONENT * log(kelvins / SEA_LEVEL_K)))


def altimeter_error(true_pressure_change_hpa: float, at_m: float) -> float:
    """How far an altimeter's height is off because the air's pressure is not the one that it was set for, metres.

    Formula: the difference of the heights at which the standard atmosphere has the pressures p and p - change. Positive
    where the pressure fell: the altimeter then shows too much.
    Source: relation of ICAO Doc 7488/3, as in `isa_pressure`.
    Valid: -500 m to 9,000 m, changes of up to 100 hPa.

    Args:
        true_pressure_change_hpa: by how much the pressure fell since the altimeter was set.
        at_m: geopotential height, metres (within 0.2 % of the height above mean sea level up to 9,000 m).

    Raises:
        ValueError: outside these heights or changes.

    """
    change, height = checked_number(true_pressure_change_hpa, "change"), checked_number(at_m, "height")
    if not -500 <= height <= 9_000 or abs(change) > 100:
        raise ValueError(f"a change of {change:g} hPa at {height:g} m is outside 100 hPa and -500 m to 9000 m")
    pressure = SEA_LEVEL_HPA * (1 - LAPSE_K_PER_M * height / SEA_LEVEL_K) ** EXPONENT
    return _height_m(pressure - change) - height


def _height_m(pressure_hpa: float) -> float:
    share: float = (pressure_hpa / SEA_LEVEL_HPA) ** (1 / EXPONENT)
    return SEA_LEVEL_K / LAPSE_K_PER_M * (1 - share)
