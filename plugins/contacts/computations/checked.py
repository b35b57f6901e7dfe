"""The refusal of figures that a formula does not hold for."""

from __future__ import annotations

from math import isfinite

GREATEST_COUNT = 100_000
"""Sums of more terms take long and say nothing about an outing."""


def within(least: float, most: float, value: float, name: str, unit: str = "") -> float:
    """The value as a float.

    Raises:
        ValueError: not finite, or outside the two limits, which count as inside.

    """
    number = float(value)
    shown = " ".join(part for part in (name, f"{number:.12g}", unit) if part)
    if not isfinite(number):
        raise ValueError(f"{shown} is not a finite number")
    if not least <= number <= most:
        raise ValueError(f"{shown} is outside {least:g} to {most:g}")
    return number


def whole(least: int, value: float, name: str) -> int:
    """The value as a whole number.

    Raises:
        ValueError: not whole, below the least or above 100,000.

    """
    number = within(least, GREATEST_COUNT, value, name)
    if number != int(number):
        raise ValueError(f"{name} {number:.12g} is not a whole number")
    return int(number)


def chance(value: float, name: str = "probability") -> float:
    """The value as a float.

    Raises:
        ValueError: not above 0 and at most 0.9999: certainty takes no finite time.

    """
    number = within(0, 0.9999, value, name)
    if number == 0:
        raise ValueError(f"{name} 0 needs no time; give one above 0")
    return number


def clumping(dispersion_k: float | None) -> float:
    """One over the dispersion; 0 where there is none.

    Raises:
        ValueError: a dispersion that is not from 0.05 to 10^12.

    """
    return 0.0 if dispersion_k is None else 1 / within(0.05, 1e12, dispersion_k, "dispersion k")
