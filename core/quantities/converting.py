"""A value in one unit -> the same in another."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import isfinite

from afield.core.quantities.errors import QuantityError
from afield.core.quantities.units import COUNT, UNITS, Unit, nearest_unit, phrase_of


def unit_named(word: str) -> Unit:
    """The unit of that spelling.

    Raises:
        QuantityError: there is no such unit.

    """
    unit = UNITS.get(word) or (COUNT if word == "" else _from_pint(word))
    if unit is None:
        near = nearest_unit(word, "")
        raise QuantityError(
            f'"{word}" is not a known unit',
            f'Did you mean "{near}"?' if near else 'Units are written as "m", "V", "min".',
        )
    return unit


def dimension_of(unit: str) -> str:
    """The name of the unit's dimension, a key of `DIMENSIONS`; "count" for no unit. QuantityError: unknown unit."""
    return unit_named(unit).dimension


def same_dimension(unit_a: str, unit_b: str) -> bool:
    """Whether a value in one unit can be stated in the other. QuantityError: unknown unit."""
    return dimension_of(unit_a) == dimension_of(unit_b)


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """The value in another unit of the same dimension, rounded once; 77 degF is 25 degC.

    Raises:
        QuantityError: an unknown unit, or units of two dimensions.

    """
    if from_unit == to_unit:
        return value
    scale, offset = _relation(from_unit, to_unit)
    return float(Fraction(value) * scale + offset) if isfinite(value) else value


def convert_difference(value: float, from_unit: str, to_unit: str) -> float:
    """A difference or an uncertainty in another unit: 9 degF apart is 5 degC apart. Errors as in `convert`."""
    if from_unit == to_unit:
        return value
    scale, _ = _relation(from_unit, to_unit)
    return float(Fraction(value) * scale) if isfinite(value) else value


def convert_exact(digits: Decimal | str, from_unit: str, to_unit: str) -> Fraction:
    """The exact value in another unit: 100 ft is exactly 30.48 m. Errors as in `convert`.

    Exact for every listed unit but rad; a unit from pint is as exact as pint's definition printed in 17 digits.
    """
    scale, offset = _relation(from_unit, to_unit)
    return Fraction(digits) * scale + offset


def factor(from_unit: str, to_unit: str) -> Fraction:
    """What to multiply a value by to have it in the other unit.

    Raises:
        QuantityError: as in `convert`, and for temperatures, whose scales do not share their zero.

    """
    scale, offset = _relation(from_unit, to_unit)
    if offset:
        raise QuantityError(
            f"{from_unit} and {to_unit} do not share their zero", "Convert the value itself, or a difference of two."
        )
    return scale


def to_12_digits(value: float) -> float:
    """The value rounded to 12 significant digits, which drops the noise of binary arithmetic."""
    return float(f"{value:.11e}")


@lru_cache(maxsize=1024)
def _relation(from_unit: str, to_unit: str) -> tuple[Fraction, Fraction]:
    """(scale, offset) such that value * scale + offset is in the other unit."""
    source, target = unit_named(from_unit), unit_named(to_unit)
    if source.dimension != target.dimension:
        raise QuantityError(
            f'"{from_unit}" is the unit of {phrase_of(source.dimension)}, "{to_unit}" of {phrase_of(target.dimension)}',
            "Only values of one dimension can be converted.",
        )
    return source.scale / target.scale, (source.offset - target.offset) / target.scale


def _from_pint(word: str) -> Unit | None:
    from afield.core.quantities.pint_units import pint_unit

    return pint_unit(word)
