"""The refusal of amounts that cannot be: not finite, negative, or out of the range that a source covers."""

from __future__ import annotations

from math import isfinite


def positive(value: float, what: str, unit: str) -> float:
    """The value as a float.

    Raises:
        ValueError: zero, negative or not finite.

    """
    number = float(value)
    if not (isfinite(number) and number > 0):
        raise ValueError(f"{what} {number:g} {unit} must be a finite number above 0")
    return number


def not_negative(value: float, what: str, unit: str) -> float:
    """The value as a float.

    Raises:
        ValueError: negative or not finite.

    """
    number = float(value)
    if not (isfinite(number) and number >= 0):
        raise ValueError(f"{what} {number:g} {unit} must be a finite number, 0 or more")
    return number


def within(value: float, low: float, high: float, what: str, unit: str) -> float:
    """The value as a float.

    Raises:
        ValueError: below `low`, above `high` or not a number.

    """
    number = float(value)
    if not low <= number <= high:
        raise ValueError(f"{what} {number:g} {unit}".rstrip() + f" is outside {low:g} to {high:g} {unit}".rstrip())
    return number


def share(value: float, what: str) -> float:
    """The value as a float, a fraction of one.

    Raises:
        ValueError: not above 0 or more than 1; per cent are the usual slip.

    """
    number = float(value)
    if not 0 < number <= 1:
        raise ValueError(f"{what} {number:g} is not above 0 and up to 1; write 90 % as 0.9")
    return number
