"""American wire gauge: diameters and areas, and the smaller wire that carries the same numbers on boats and cars."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

MM_PER_MIL = 0.0254

SAE_CIRCULAR_MILS = {
    18: 1537, 16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 24538, 4: 37360, 2: 62450, 1: 77790, 0: 98980,
    -1: 125100, -2: 158600, -3: 205500,
}  # fmt: skip
"""Least area of SAE conductors by gauge, in circular mils; 0 is 1/0, -1 is 2/0 and so on to -3, which is 4/0."""


class Diameter(NamedTuple):
    """Diameter of a solid wire."""

    diameter_mil: float
    diameter_mm: float


def awg_diameter(awg: int) -> Diameter:
    """Diameter of a solid wire of an American wire gauge.

    Formula: d = 5 mil x 92^((36 - n) / 39).
    Source: ASTM B258, the gauge series (its printed values read in public copies).
    Valid: 4/0 (written -3) to 56; solid wire. A stranded conductor of the same gauge is wider.

    Args:
        awg: gauge; 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0.

    Raises:
        ValueError: there is no such gauge.

    """
    mils = 5 * 92 ** ((36 - checked_gauge(awg)) / 39)
    return Diameter(mils, mils * MM_PER_MIL)


def awg_circular_mils(awg: int) -> float:
    """Area of a wire of an American wire gauge in circular mils.

    Formula: the square of the diameter in mils.
    Source: ASTM B258.
    Valid: 4/0 (written -3) to 56, solid or stranded. Marine and automotive SAE wire of the same number has less.

    Args:
        awg: gauge; 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0.

    Raises:
        ValueError: there is no such gauge.

    """
    return awg_diameter(awg).diameter_mil ** 2


def awg_area(awg: int) -> float:
    """Area of a wire of an American wire gauge in square millimetres.

    Formula: pi / 4 d^2.
    Source: ASTM B258.
    Valid: 4/0 (written -3) to 56, solid or stranded.

    Args:
        awg: gauge; 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0.

    Raises:
        ValueError: there is no such gauge.

    """
    return pi / 4 * awg_diameter(awg).diameter_mm ** 2


def checked_gauge(awg: int) -> int:
    """The same gauge.

    Raises:
        ValueError: there is no such gauge.

    """
    if awg not in range(-3, 57):
        raise ValueError(f"AWG {awg} does not exist; gauges are -3 (4/0), -2 (3/0), -1 (2/0), 0 (1/0) and 1 to 56")
    return int(awg)


def gauge_name(awg: int) -> str:
    """The gauge as it is printed: 12 AWG, 1/0 AWG."""
    return f"{awg} AWG" if awg > 0 else f"{1 - awg}/0 AWG"
