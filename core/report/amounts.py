"""How much room there is, or how much lacks: never more room and never less of a lack than there is."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from math import ceil, floor, isfinite, log10

from afield.core.language import local_digits
from afield.core.quantities import convert, convert_difference, printed, printed_digits, shown_unit, to_12_digits
from afield.core.quantities.printing import OTHER_SYSTEM

EXACT_DECIMALS = 3
"""Most decimals of a converted exact value; one below 1 has one significant figure more."""


def amount(size: float, uncertainty: float | None, unit: str, up: bool) -> str:
    """A size to the digits that its uncertainty justifies, a length in both systems, each from the same exact size.

    Args:
        size: at least 0, in `unit`.
        uncertainty: 95 %; None or 0 for an exact size.
        unit: the limit's.
        up: rounded up, as a lack is; else down, as room is.

    """
    if not isfinite(size) or size == 0:
        return printed(size, None, unit, also_imperial=True)
    place, other = _place(size, uncertainty), OTHER_SYSTEM.get(unit)
    if other is None:
        return _directed(size, place, up, unit)
    step = convert_difference(1.0, unit, other)
    turned, turned_place = size * step, _turned_place(size, uncertainty, step)
    # Were one unit printed much more coarsely than the other, the two would tell of different lengths.
    coarser = place + log10(step) - turned_place
    place, turned_place = place - _decades_over(coarser), turned_place - _decades_over(-coarser)
    return f"{_directed(size, place, up, unit)} ({_directed(turned, turned_place, up, other)})"


def shortened(value: float) -> float:
    """An exact value that was converted between units, without the digits that only the conversion made."""
    if not isfinite(value) or value == 0:
        return value
    return float(_digits(value).quantize(Decimal(1).scaleb(_place(value, None)), ROUND_HALF_EVEN))


def exact_words(value: float, unit: str) -> str:
    """An exact value in both systems, in neither with digits that only a conversion made."""
    other, short = OTHER_SYSTEM.get(unit), shortened(value)
    if short == value or other is None:
        return printed(short, None, unit, also_imperial=True)
    turned = shortened(convert(value, unit, other))
    return f"{printed(short, None, unit)} ({printed(turned, None, other)})"


def _digits(size: float) -> Decimal:
    return Decimal(repr(to_12_digits(size)))


def _place(size: float, uncertainty: float | None) -> int:
    """Power of ten of the last digit to print; whole units at the coarsest, so that both systems tell of one length."""
    digits = _digits(size)
    if uncertainty and isfinite(uncertainty):
        return int(Decimal(printed_digits(size, uncertainty)[1]).as_tuple().exponent)
    last = int(digits.normalize().as_tuple().exponent)
    return max(min(last, 0), min(digits.adjusted(), 0) - EXACT_DECIMALS)


def _turned_place(size: float, uncertainty: float | None, step: float) -> int:
    """The place in the other unit; of an exact size the one nearest to its own last place, for two figures at least."""
    if uncertainty:
        return _place(size * step, uncertainty * step)
    turned = _digits(size * step).adjusted()
    return max(min(floor(_place(size, None) + log10(step) + 0.5), turned - 1), min(turned, 0) - EXACT_DECIMALS)


def _decades_over(coarser: float) -> int:
    """By how many places to print more, where one unit's last place is more than four times the other's."""
    return max(ceil(coarser - log10(4)), 0)


def _directed(size: float, place: int, up: bool, unit: str) -> str:
    """The size rounded to its place; one smaller than that place keeps its first figure, so that it is not 0."""
    digits = _digits(size)
    step = Decimal(1).scaleb(min(place, digits.adjusted()))
    shown = f"{digits.quantize(step, ROUND_CEILING if up else ROUND_FLOOR):f}"
    return f"{local_digits(shown)} {shown_unit(unit)}".rstrip()
