"""Lengths of wire antennas by rule of thumb."""

from __future__ import annotations

from typing import Literal, NamedTuple

from afield.plugins.radio.computations.checked import within

Rule = Literal["468/f", "143/f"]
"""468/f in feet, or 143/f in metres: the whole wire of a half-wave dipole."""

FOOT_M = 0.3048
HALF_WAVE_M = {"468/f": 468 * FOOT_M, "143/f": 143.0}
QUARTER_WAVE_M = 234 * FOOT_M


class WireLength(NamedTuple):
    """One length in both units."""

    length_m: float
    length_ft: float


def half_wave_dipole_rule(frequency_mhz: float, rule: Rule = "468/f") -> WireLength:
    """Length of the whole wire of a half-wave dipole, by rule of thumb.

    Formula: 468 / f ft = 142.65 / f m, or 143 / f m.
    Source: common practice; both figures are 0.95 of half a wavelength in free space, 149.896 / f m.
    Valid: bare wire, 1.8 to 54 MHz. Thin wire far from the ground is resonant at 0.948 (radius 1/1000 wavelength) to
    0.976 (1/100,000), so the rule runs up to 3 % short for it: cut long, then trim. Insulation and ground shorten.

    Args:
        frequency_mhz: frequency of resonance.
        rule: `468/f` or `143/f`.

    Raises:
        ValueError: a frequency out of range, or an unknown rule.

    """
    if rule not in HALF_WAVE_M:
        raise ValueError(f'rule "{rule}" is not known; known are {", ".join(HALF_WAVE_M)}')
    return _divided(HALF_WAVE_M[rule], frequency_mhz)


def quarter_wave_rule(frequency_mhz: float) -> WireLength:
    """Length of a quarter-wave vertical over ground or radials, by rule of thumb.

    Formula: 234 / f ft = 71.32 / f m.
    Source: common practice; half of the rule 468 / f of the dipole.
    Valid: as `half_wave_dipole_rule`.

    Args:
        frequency_mhz: frequency of resonance.

    Raises:
        ValueError: a frequency out of range.

    """
    return _divided(QUARTER_WAVE_M, frequency_mhz)


def _divided(metre_megahertz: float, frequency_mhz: float) -> WireLength:
    length_m = metre_megahertz / within(1.8, 54, frequency_mhz, "frequency", "MHz")
    return WireLength(length_m, length_m / FOOT_M)
