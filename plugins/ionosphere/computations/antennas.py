"""Gain of a wire dipole over real ground, the ground's own loss taken in."""

from __future__ import annotations

from cmath import cos as complex_cos
from cmath import exp
from collections.abc import Callable
from math import asinh, cos, cosh, log10, pi, radians, sin, sinh, sqrt
from typing import Any, NamedTuple

from afield.plugins.ionosphere.computations.checked import within
from afield.plugins.ionosphere.computations.ground import LIGHT_M_MHZ, MOST_CONDUCTING, reflection_of

ETA_OHM = 376.730313668
NEAR_END = 18.0
"""Exponent at which the near field's part of the ground's effect is cut off: e^-18 is nothing."""


class Gain(NamedTuple):
    """Gain in dBi at 5 and 10 degrees, the greatest and at which whole degree it is, and the resistance at the feed."""

    gain_5deg_dbi: float
    gain_10deg_dbi: float
    max_gain_dbi: float
    elevation_of_max_deg: int
    r_ohm: float


class _Dipole(NamedTuple):
    """A half of the dipole's length and the height of its middle, in radians of wave, over a ground."""

    half: float
    height: float
    permittivity: complex


def upright_dipole_over_ground(
    length_wavelengths: float, lower_end_m: float, er: float, sigma_s_per_m: float, frequency_mhz: float
) -> Gain:
    """Gain of an upright dipole, fed in the middle, over flat ground.

    Formula: G = (eta / pi) (N / sin t)^2 |1 + Rv e^(-2jkh cos t)|^2 / (R sin^2(kL/2)), t from the zenith,
    N = cos(kL/2 cos t) - cos(kL/2); R is that of free space and the real part of
    (eta / pi) / sin^2(kL/2) times the integral of Rv N^2 e^(-2jkh c) / (s c) over s from 0 to infinity, c^2 = 1 - s^2.
    Source: Jordan and Balmain, Electromagnetic Waves and Radiating Systems, 2nd edition (1968), sections 14.5 and 16.5,
    with Sommerfeld's integral for the ground.
    Valid: thin wire of 0.3 to 0.6 wavelengths with a current of the form of a sine, its lower end 0.05 to 100 m above
    flat ground; no loss in the wire. Agrees with the method of moments to 0.1 dB.

    Args:
        length_wavelengths: whole length.
        lower_end_m: height of the lower end.
        er: relative permittivity of the ground, 1 to 100.
        sigma_s_per_m: its conductivity, 0 to 10^8.
        frequency_mhz: 1.6 to 60.

    Raises:
        ValueError: a figure out of range.

    """
    low = within(0.05, 100, lower_end_m, "lower end", "m")
    wire = _dipole(length_wavelengths, low, er, sigma_s_per_m, frequency_mhz, upright=True)
    resistance = _free_resistance(wire) + _upright_change(wire)
    return _gains(lambda elevation: _upright_power(wire, elevation), wire, resistance)


def level_dipole_over_ground(
    length_wavelengths: float, height_m: float, er: float, sigma_s_per_m: float, frequency_mhz: float
) -> Gain:
    """Gain of a level dipole, fed in the middle, over flat ground, broadside to the wire.

    Formula: G = (eta / pi) (1 - cos(kL/2))^2 |1 + Rh e^(-2jkh cos t)|^2 / (R sin^2(kL/2)); R is that of free space and
    the real part of the double integral of the wave's spectrum, with Rh and Rv by the share of each direction.
    Source: as `upright_dipole_over_ground`.
    Valid: as there, 0.05 to 3 wavelengths high. Agrees with the method of moments to 0.1 dB in gain; the resistance at
    the feed, of a current of the form of a sine, is 5 to 10 % below.

    Args:
        length_wavelengths: whole length.
        height_m: height of the wire.
        er: relative permittivity of the ground, 1 to 100.
        sigma_s_per_m: its conductivity, 0 to 10^8.
        frequency_mhz: 1.6 to 60.

    Raises:
        ValueError: a figure out of range.

    """
    wire = _dipole(length_wavelengths, height_m, er, sigma_s_per_m, frequency_mhz, upright=False)
    within(0.05, 3, wire.height / (2 * pi), "height", "wavelengths")
    resistance = _free_resistance(wire) + _level_change(wire)
    return _gains(lambda elevation: _level_power(wire, elevation), wire, resistance)


def _dipole(length: float, low_m: float, er: float, sigma: float, frequency_mhz: float, upright: bool) -> _Dipole:
    wavelength = LIGHT_M_MHZ / within(1.6, 60, frequency_mhz, "frequency", "MHz")
    loss = 60 * within(0, MOST_CONDUCTING, sigma, "conductivity", "S/m") * wavelength
    half = pi * within(0.3, 0.6, length, "length", "wavelengths")
    height = 2 * pi * within(0, 500, low_m, "height", "m") / wavelength + (half if upright else 0)
    return _Dipole(half, height, within(1, 100, er, "permittivity") - 1j * loss)


def _gains(power: Callable[[float], float], wire: _Dipole, resistance: float) -> Gain:
    def gain(elevation: float) -> float:
        relative = ETA_OHM / pi * power(radians(elevation)) / (resistance * sin(wire.half) ** 2)
        return 10 * log10(max(relative, 1e-12))

    best = max(range(1, 91), key=gain)
    return Gain(gain(5), gain(10), gain(best), best, resistance)


def _upright_power(wire: _Dipole, elevation: float) -> float:
    c, s = sin(elevation), cos(elevation)
    if s < 1e-9:
        return 0.0
    vertical, _ = reflection_of(wire.permittivity, c, s * s)
    return abs(_pattern(wire, c) / s * (1 + vertical * exp(-2j * wire.height * c))) ** 2


def _level_power(wire: _Dipole, elevation: float) -> float:
    c, s = sin(elevation), cos(elevation)
    _, horizontal = reflection_of(wire.permittivity, c, s * s)
    return abs((1 - cos(wire.half)) * (1 + horizontal * exp(-2j * wire.height * c))) ** 2


def _pattern(wire: _Dipole, along: complex) -> complex:
    return complex_cos(along * wire.half) - cos(wire.half)


def _free_resistance(wire: _Dipole) -> float:
    def density(angle: float) -> float:
        return abs(_pattern(wire, cos(angle))) ** 2 / sin(angle) if angle > 1e-6 else 0.0

    return ETA_OHM / pi * _simpson(density, pi / 2, 400) / sin(wire.half) ** 2


def _upright_change(wire: _Dipole) -> float:
    """What the ground changes of the resistance: by rays up to grazing, then by the near field."""

    def rays(u: float) -> float:
        # Squares crowd the steps near grazing, where the reflection turns quickly.
        c, s = sin(u * u), cos(u * u)
        if s < 1e-6:
            return 0.0
        vertical, _ = reflection_of(wire.permittivity, c, s * s)
        return float((vertical * exp(-2j * wire.height * c) * _pattern(wire, c) ** 2 / s * 2 * u).real)

    def near(u: float) -> float:
        depth, wide = sinh(u * u), cosh(u * u)
        vertical, _ = reflection_of(wire.permittivity, -1j * depth, wide * wide)
        growing = exp((wire.half - wire.height) * depth) + exp(-(wire.half + wire.height) * depth)
        pattern = growing / 2 - cos(wire.half) * exp(-wire.height * depth)
        return float((1j * vertical * pattern**2 / wide * 2 * u).real)

    end = sqrt(asinh(NEAR_END / (2 * (wire.height - wire.half))))
    total = _simpson(rays, sqrt(pi / 2), 1000) + _simpson(near, end, 2000)
    return ETA_OHM / pi * total / sin(wire.half) ** 2


def _level_change(wire: _Dipole) -> float:
    def rays(u: float) -> float:
        c, s = sin(u * u), cos(u * u)
        return float((_around(wire, c, s) * s * exp(-2j * wire.height * c) * 2 * u).real)

    def near(u: float) -> float:
        depth, wide = sinh(u * u), cosh(u * u)
        return float((1j * _around(wire, -1j * depth, wide) * wide * exp(-2 * wire.height * depth) * 2 * u).real)

    total = _simpson(rays, sqrt(pi / 2), 120) + _simpson(near, sqrt(asinh(NEAR_END / (2 * wire.height))), 240)
    return ETA_OHM / (2 * pi * pi) * total / sin(wire.half) ** 2


def _around(wire: _Dipole, c: complex, s: float, steps: int = 40) -> complex:
    """The waves of one elevation in all directions: reflected with Rh across the wire, with Rv along it."""
    vertical, horizontal = reflection_of(wire.permittivity, c, s * s)
    total: complex = 0
    for step in range(steps):
        along = cos(pi / 2 * (step + 0.5) / steps) ** 2
        shape = (_pattern(wire, s * sqrt(along)) / (1 - s * s * along)) ** 2
        total += shape * (horizontal * (1 - along) - vertical * along * c * c)
    return total * 2 * pi / steps


def _simpson(density: Callable[[float], Any], end: float, steps: int) -> float:
    width = end / steps
    inner = sum((4 if step % 2 else 2) * density(step * width) for step in range(1, steps))
    return float(width / 3 * (density(0.0) + inner + density(end)))
