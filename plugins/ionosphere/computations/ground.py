"""What the ground in front of an antenna does to its low angles."""

from __future__ import annotations

from cmath import exp, phase, sqrt
from math import cos, degrees, log10, pi, radians, sin
from typing import Literal, NamedTuple

from afield.plugins.ionosphere.computations.checked import within

LIGHT_M_MHZ = 299.792458
MOST_CONDUCTING = 1e8
CONSTANTS = {
    "Sea Water": (80.0, 5.0),
    "Fresh Water": (80.0, 0.002),
    "Wet": (30.0, 0.01),
    "Medium Dry": (15.0, 0.001),
    "Very Dry": (3.0, 0.0001),
}
"""Type -> relative permittivity and conductivity in S/m."""

Polarisation = Literal["vertical", "horizontal"]


class Ground(NamedTuple):
    """Relative permittivity, and conductivity in siemens per metre."""

    er: float
    sigma_s_per_m: float


class Reflection(NamedTuple):
    """Coefficients of plane waves, of vertical and of horizontal polarisation; magnitudes, and phases in degrees."""

    rv_mag: float
    rv_phase_deg: float
    rh_mag: float
    rh_phase_deg: float


def ground_constants(type: str) -> Ground:
    """Permittivity and conductivity of a kind of ground.

    Formula: a table.
    Source: ITU-R P.527-3, figure 1, as tabled with NEC-2; HF.
    Valid: 1.8 to 30 MHz, as an order of size: real soil changes threefold with rain. Fresh water is not sea, its
    conductivity is three orders lower; sea in front counts over many wavelengths, not a wet foot.

    Args:
        type: `Sea Water`, `Fresh Water`, `Wet`, `Medium Dry` or `Very Dry`.

    Raises:
        ValueError: another type.

    """
    if type not in CONSTANTS:
        raise ValueError(f'ground "{type}" is not known; known are {", ".join(CONSTANTS)}')
    return Ground(*CONSTANTS[type])


def fresnel_reflection(er: float, sigma_s_per_m: float, frequency_mhz: float, elevation_deg: float) -> Reflection:
    """Reflection coefficients of flat ground.

    Formula: e = er - j 60 sigma lambda; q = sqrt(e - cos^2 p); Rv = (e sin p - q) / (e sin p + q);
    Rh = (sin p - q) / (sin p + q), p the elevation.
    Source: ITU-R P.527; Jordan and Balmain, Electromagnetic Waves and Radiating Systems, 2nd edition (1968), section
    16.4.
    Valid: plane waves on flat, uniform ground, many wavelengths wide.

    Args:
        er: relative permittivity, 1 to 100.
        sigma_s_per_m: conductivity, 0 to 10^8 S/m: metal.
        frequency_mhz: 0.1 to 300.
        elevation_deg: above the horizon, 0 to 90.

    Raises:
        ValueError: a figure out of range.

    """
    vertical, horizontal = _coefficients(er, sigma_s_per_m, frequency_mhz, elevation_deg)
    return Reflection(abs(vertical), degrees(phase(vertical)), abs(horizontal), degrees(phase(horizontal)))


def pseudo_brewster_angle(er: float, sigma_s_per_m: float, frequency_mhz: float) -> float:
    """Elevation at which ground reflects vertical waves least, in degrees; below it vertical signals cancel.

    Formula: the elevation of the least |Rv| of `fresnel_reflection`, by narrowing.
    Source: as `fresnel_reflection`.
    Valid: as there.

    Args:
        er: relative permittivity, 1 to 100.
        sigma_s_per_m: conductivity, 0 to 10^8 S/m: metal.
        frequency_mhz: 0.1 to 300.

    Raises:
        ValueError: a figure out of range.

    """
    low, high = 0.0, 90.0
    while high - low > 1e-4:
        lower, upper = low + (high - low) / 3, high - (high - low) / 3
        found = [abs(_coefficients(er, sigma_s_per_m, frequency_mhz, angle)[0]) for angle in (lower, upper)]
        low, high = (low, upper) if found[0] < found[1] else (lower, high)
    return (low + high) / 2


def ground_gain(
    er: float,
    sigma_s_per_m: float,
    frequency_mhz: float,
    elevation_deg: float,
    height_m: float,
    polarisation: Polarisation,
) -> float:
    """What the reflection of ground adds to an antenna's field in one direction, in dB over free space.

    Formula: 20 log10 |1 + R exp(-j 4 pi h sin p / lambda)|, R of `fresnel_reflection`; -100 dB at the least.
    Source: Jordan and Balmain, as there, section 16.5.
    Valid: the pattern's shape: an antenna's own pattern is the same towards the image, as of a horizontal wire seen
    broadside, or of a vertical one. The power that near ground takes from a low antenna is not in it.

    Args:
        er: relative permittivity, 1 to 100.
        sigma_s_per_m: conductivity, 0 to 10^8 S/m: metal.
        frequency_mhz: 0.1 to 300.
        elevation_deg: above the horizon, 0 to 90.
        height_m: of the antenna's middle, 0 to 200.
        polarisation: `vertical` or `horizontal`.

    Raises:
        ValueError: a figure out of range, or another polarisation.

    """
    if polarisation not in ("vertical", "horizontal"):
        raise ValueError(f'polarisation "{polarisation}" is not known; give vertical or horizontal')
    vertical, horizontal = _coefficients(er, sigma_s_per_m, frequency_mhz, elevation_deg)
    way = 4 * pi * within(0, 200, height_m, "height", "m") * sin(radians(elevation_deg)) * frequency_mhz / LIGHT_M_MHZ
    field = abs(1 + (vertical if polarisation == "vertical" else horizontal) * exp(-1j * way))
    return 20 * log10(max(field, 1e-5))


def _coefficients(er: float, sigma: float, frequency_mhz: float, elevation_deg: float) -> tuple[complex, complex]:
    wavelength = LIGHT_M_MHZ / within(0.1, 300, frequency_mhz, "frequency", "MHz")
    loss = 60 * within(0, MOST_CONDUCTING, sigma, "conductivity", "S/m") * wavelength
    permittivity = within(1, 100, er, "permittivity") - 1j * loss
    elevation = radians(within(0, 90, elevation_deg, "elevation", "deg"))
    return reflection_of(permittivity, sin(elevation), cos(elevation) ** 2)


def reflection_of(permittivity: complex, rise: complex, level_squared: float) -> tuple[complex, complex]:
    """Rv and Rh of a plane wave, of figures that are checked already.

    `rise` is the sine of its elevation, `level_squared` the square of the cosine: above 1, and the sine then imaginary,
    for a wave that fades away from its source instead of leaving it.
    """
    root = sqrt(permittivity - level_squared)
    # Of the two roots that of a wave which fades with depth.
    root = -root if root.imag > 0 else root
    if root == 0 and rise == 0:
        return -1 + 0j, -1 + 0j
    return (permittivity * rise - root) / (permittivity * rise + root), (rise - root) / (rise + root)
