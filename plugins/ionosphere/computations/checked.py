"""The refusal of figures that a formula does not hold for."""

from __future__ import annotations

from math import isfinite


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
