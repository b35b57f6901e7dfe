"""A value as it is printed: no more digits than its uncertainty justifies.

The uncertainty is stated at 95 % with at most two significant figures and the value to the same place (JCGM 100:2008,
7.2.6). ASCII "-" is the minus sign, so that what is printed can be pasted into a plan.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from math import floor, isfinite, log10

from afield.core.language import _, local_digits
from afield.core.quantities.converting import convert, convert_difference, to_12_digits
from afield.core.quantities.units import shown_unit

OTHER_SYSTEM = {
    "m": "ft",
    "km": "mi",
    "cm": "in",
    "mm": "in",
    "ft": "m",
    "yd": "m",
    "mi": "km",
    "in": "cm",
    "nmi": "km",
    "fathom": "m",
}
"""Metric unit of length -> the imperial one to print beside it, and the reverse."""


LOPSIDED = 2.0
"""How many times as wide the wider side of an interval must be for both ends to be printed (our choice)."""


def printed(value: float, uncertainty: float | None, unit: str, also_imperial: bool = False) -> str:
    """The value with its 95 % uncertainty: "21.3 m ± 0.2 m (95 %)".

    Args:
        value: in `unit`.
        uncertainty: 95 %, in `unit`; None or 0 for an exact value, printed with up to 12 significant digits.
        unit: "" for a count.
        also_imperial: whether a length is followed by the same in the other system of units.

    """
    if not uncertainty:
        return printed_both(value, unit) if also_imperial else _with_unit(trimmed(value), unit)
    pair = _pair(value, uncertainty, unit)
    if not also_imperial or unit not in OTHER_SYSTEM:
        return f"{pair} (95 %)"
    other = OTHER_SYSTEM[unit]
    other_pair = _pair(convert(value, unit, other), convert_difference(uncertainty, unit, other), other)
    return f"{pair} (95 %; {other_pair})"


def printed_interval(
    value: float,
    low: float | None,
    high: float | None,
    uncertainty: float | None,
    unit: str,
    also_imperial: bool = False,
) -> str:
    """The value with its ±; where the interval is lopsided, with both its ends: "84 %, from 2 % to 100 % (95 %)".

    Args:
        value, low, high, uncertainty: at 95 %, in `unit`; low and high None where only the ± is known.
        unit: "" for a count.
        also_imperial: whether a length is followed by the same in the other system of units.

    """
    if not uncertainty or low is None or high is None or not is_lopsided(value, low, high):
        return printed(value, uncertainty, unit, also_imperial)
    ends = _between(value, low, high, unit)
    if not also_imperial or unit not in OTHER_SYSTEM:
        return f"{ends} (95 %)"
    other = OTHER_SYSTEM[unit]
    turned, least, most = (convert(number, unit, other) for number in (value, low, high))
    return f"{ends} (95 %; {_between(turned, least, most, other)})"


def _between(value: float, low: float, high: float, unit: str) -> str:
    place = _place_between(value - low, high - value)
    digits = (_fixed(_without_noise(number, place), place) for number in (value, low, high))
    found, least, most = (_with_unit(shown, unit) for shown in digits)
    return _("{found}, from {least} to {most}").format(found=found, least=least, most=most)


def is_lopsided(value: float, low: float, high: float) -> bool:
    """Whether one side is more than LOPSIDED times as wide as the other, so that a single ± would mislead."""
    if not (isfinite(value) and isfinite(low) and isfinite(high)):
        return False
    narrow, wide = sorted((value - low, high - value))
    return narrow >= 0 and wide > LOPSIDED * narrow + abs(value) * 1e-9


def printed_both(value: float, unit: str = "m") -> str:
    """A length in both systems of units, as closely in the second as in the first: "24.4 m (80 ft)"."""
    digits = trimmed(value)
    if unit not in OTHER_SYSTEM or not isfinite(value):
        return _with_unit(digits, unit)
    other = OTHER_SYSTEM[unit]
    return f"{_with_unit(digits, unit)} ({_with_unit(_as_closely(digits, unit, other), other)})"


def trimmed(value: float) -> str:
    """The number with up to 12 significant digits, no exponent and no trailing zeros."""
    if not isfinite(value):
        return f"{value}"
    return _plain(Decimal(repr(to_12_digits(value))))


def printed_digits(value: float, uncertainty: float) -> tuple[str, str]:
    """The digits of the value and of its uncertainty, both to the place that the uncertainty justifies."""
    if not (isfinite(value) and isfinite(uncertainty)):
        return trimmed(value), trimmed(uncertainty)
    size = Decimal(repr(to_12_digits(abs(uncertainty))))
    place = _place(_rounded(size, _place(size)))
    return _fixed(_without_noise(value, place), place), _fixed(size, place)


def _without_noise(value: float, place: int) -> Decimal:
    """The value without the noise of binary arithmetic (21.345 is meant, not 21.3449999999999989).

    Where the printed place is close to that noise, the value as it is: to round twice would move it too far.
    """
    shortened = Decimal(f"{value:.14e}")
    return shortened if shortened.adjusted() - place < 13 else Decimal(value)


def _pair(value: float, uncertainty: float, unit: str) -> str:
    digits, size = printed_digits(value, uncertainty)
    return f"{_with_unit(digits, unit)} ± {_with_unit(size, unit)}"


def _place(size: Decimal) -> int:
    """Power of ten of the last digit to print: the second figure if the first is 1 or 2 and the second is not 0."""
    two_figures = _rounded(size, size.adjusted() - 1).normalize()
    digits = two_figures.as_tuple().digits
    return two_figures.adjusted() - (1 if len(digits) == 2 and digits[0] < 3 else 0)


def _place_between(below: float, above: float) -> int:
    """The place that the narrower side justifies, but at most one figure more than the wider one does."""
    narrow, wide = sorted((below, above))
    widest = _place(Decimal(repr(to_12_digits(wide))))
    return max(_place(Decimal(repr(to_12_digits(narrow)))), widest - 1) if narrow > 0 else widest - 1


def _rounded(number: Decimal, place: int) -> Decimal:
    return number.quantize(Decimal(1).scaleb(place), rounding=ROUND_HALF_UP)


def _fixed(number: Decimal, place: int) -> str:
    rounded = _rounded(number, place)
    return f"{rounded if rounded else abs(rounded):f}"


def _plain(number: Decimal) -> str:
    digits = f"{number:f}"
    digits = digits.rstrip("0").rstrip(".") if "." in digits else digits
    return "0" if digits in ("-0", "") else digits


def _as_closely(digits: str, unit: str, other: str) -> str:
    """The printed number in the other unit, to the place nearest to the first number's own last place."""
    last_place = Decimal(digits).as_tuple().exponent
    resolution = convert_difference(10.0 ** int(last_place), unit, other)
    turned = Decimal(repr(to_12_digits(convert(float(digits), unit, other))))
    # Two figures at least: 0.5 m is 1.6 ft, not 2 ft.
    place = min(floor(log10(resolution) + 0.5), turned.adjusted() - 1) if turned else 0
    return _plain(_rounded(turned, place))


def _with_unit(digits: str, unit: str) -> str:
    return f"{local_digits(digits)} {shown_unit(unit)}".rstrip()
