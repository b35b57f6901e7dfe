"""The refusal of figures that a formula does not hold for."""

from __future__ import annotations

from math import inf, isfinite


class OutOfRange(ValueError):
    """A figure outside the limits of a formula; what it is called, and the limits."""

    def __init__(self, least: float, most: float, number: float, name: str, unit: str) -> None:
        super().__init__(f"{_shown(name, number, unit)} is outside {least:g} to {most:g}")
        self.least, self.most, self.number, self.name = least, most, number, name


def finite(value: float, name: str, unit: str = "") -> float:
    """The value as a float.

    Raises:
        ValueError: infinite or not a number.

    """
    number = float(value)
    if not isfinite(number):
        raise ValueError(f"{_shown(name, number, unit)} is not a finite number")
    return number


def positive(value: float, name: str, unit: str = "") -> float:
    """The value as a float.

    Raises:
        ValueError: zero, negative or not finite.

    """
    number = finite(value, name, unit)
    if number <= 0:
        raise ValueError(f"{_shown(name, number, unit)} is not above 0")
    return number


def at_least(least: float, value: float, name: str, unit: str = "") -> float:
    """The value as a float.

    Raises:
        ValueError: below the least or not finite.

    """
    number = finite(value, name, unit)
    if number < least:
        raise ValueError(f"{_shown(name, number, unit)} is below {least:g}")
    return number


def within(least: float, most: float, value: float, name: str, unit: str = "") -> float:
    """The value as a float.

    Raises:
        OutOfRange: outside the two limits, which count as inside.
        ValueError: not finite.

    """
    number = finite(value, name, unit)
    if not least <= number <= most:
        raise OutOfRange(least, most, number, name, unit)
    return number


def standing_wave_ratio(swr: float, or_infinite: bool = False) -> float:
    """The standing wave ratio as a float.

    Args:
        swr: the ratio of the greatest to the least voltage on the line.
        or_infinite: an open, a short circuit or a pure reactance counts too.

    Raises:
        ValueError: below 1, not a number, or infinite where that means nothing.

    """
    if or_infinite and float(swr) == inf:
        return inf
    return at_least(1, swr, "SWR")


def _shown(name: str, number: float, unit: str) -> str:
    return " ".join(part for part in (name, f"{number:.12g}", unit) if part)
