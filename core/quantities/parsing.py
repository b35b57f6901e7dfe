"""Text such as "21.3 m" -> a number with its unit."""

from __future__ import annotations

import re
from decimal import Decimal

from afield.core.frozen import frozen
from afield.core.quantities.converting import convert, dimension_of, unit_named
from afield.core.quantities.errors import QuantityError
from afield.core.quantities.units import DIMENSIONS, UNITS, Unit, nearest_unit, phrase_of, symbols_of

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+(?![A-Za-z]))?")
_UNIT = re.compile(r"[^\W\d_][^\s±,;:]*(?: [A-Za-z*/]+)*|[%°Ω‰][A-Za-z]?")
_MINUS_SIGNS = "−–—‐‑﹣-"
_LONGEST_NUMBER = 30
_EXPONENTS = range(-30, 31)


@frozen
class Quantity:
    """A number with its unit, the digits as written.

    Attributes:
        digits: the exact number that was written.
        unit: the unit's symbol ("m" also where "metres" was written); "" for counts and money.

    """

    digits: Decimal
    unit: str

    @property
    def value(self) -> float:
        """The number in its own unit, as a float."""
        return float(self.digits)

    def __str__(self) -> str:
        return f"{self.digits:f} {self.unit}".rstrip()


def parse_quantity(text: str, unit_of: str) -> Quantity:
    """The quantity that the text states.

    Args:
        text: one number and one unit, such as "21.3 m", "98 %" or "14 °C".
        unit_of: the dimension that is due ("length"), or any unit of it ("ft").

    Raises:
        QuantityError: a bare number, an unknown unit, another dimension, or no number.

    """
    dimension = unit_of if unit_of in DIMENSIONS else dimension_of(unit_of)
    number, word = _number_and_unit(text.strip(), dimension)
    digits = _digits(number, text)
    if DIMENSIONS[dimension] == "":
        return _without_unit(digits, word, dimension)
    if not word:
        raise _bare_number(number, dimension)
    unit = UNITS.get(word) or _unlisted(word, dimension)
    if unit.dimension != dimension:
        raise _other_dimension(f"{number} {word}", unit.dimension, dimension)
    return Quantity(digits, unit.symbol)


def bare_number(number: float, dimension: str) -> QuantityError:
    """The error for a number where a quantity of the dimension is due."""
    return _bare_number(f"{number}", dimension)


def example_of(dimension: str, number: str = "5") -> str:
    """How a quantity of the dimension is written."""
    return f"{number} {DIMENSIONS[dimension]}".rstrip()


def _number_and_unit(text: str, dimension: str) -> tuple[str, str]:
    found = _NUMBER.match(text)
    if found is None:
        raise _no_number(text, dimension)
    word = text[found.end() :].strip()
    if word and not _UNIT.fullmatch(word):
        raise _unreadable(text, dimension)
    return found.group(), word


def _digits(number: str, text: str) -> Decimal:
    digits = Decimal(number)
    if len(number) > _LONGEST_NUMBER or digits.adjusted() not in _EXPONENTS:
        raise QuantityError(
            f'"{text[:40]}" is out of range', "Write a number between 1e-30 and 1e30, of 30 digits at most."
        )
    return digits


def _without_unit(digits: Decimal, word: str, dimension: str) -> Quantity:
    if word:
        raise QuantityError(
            f'"{digits} {word}" has a unit; {phrase_of(dimension)} is written without one', f'Write "{digits}".'
        )
    return Quantity(digits, "")


def _unlisted(word: str, dimension: str) -> Unit:
    try:
        return unit_named(word)
    except QuantityError:
        raise _unknown_unit(word, dimension) from None


def _bare_number(number: str, dimension: str) -> QuantityError:
    return QuantityError(
        f'{number} is a bare number: write its unit, for example "{example_of(dimension, number)}"',
        f"{_capital(phrase_of(dimension))} is written in {_choices(dimension)}.",
    )


def _unknown_unit(word: str, dimension: str) -> QuantityError:
    near = nearest_unit(word, dimension)
    meant = f'Did you mean "{near}"? ' if near else ""
    return QuantityError(
        f'"{word}" is not a known unit', f"{meant}{_capital(phrase_of(dimension))} is written in {_choices(dimension)}."
    )


def _other_dimension(text: str, found: str, due: str) -> QuantityError:
    return QuantityError(
        f"{text} is {phrase_of(found)}; {phrase_of(due)} is due",
        f'Write {phrase_of(due)}, for example "{example_of(due)}".',
    )


def _no_number(text: str, dimension: str) -> QuantityError:
    example = example_of(dimension)
    if text and text[0] in _MINUS_SIGNS:
        return QuantityError(
            f'"{text}" begins with "{text[0]}", which is not a minus sign here', 'Write "-", the hyphen.'
        )
    if not text:
        return QuantityError(f"nothing is written; {phrase_of(dimension)} is due", f'Write it as "{example}".')
    parts = "a number and its unit" if DIMENSIONS[dimension] else "a number"
    return QuantityError(f'"{text}" does not begin with a number', f'Write {parts}, for example "{example}".')


def _unreadable(text: str, dimension: str) -> QuantityError:
    example = example_of(dimension)
    if re.match(r"[+-]?[0-9]+(?:[,'’\s][0-9]{3})+(?![0-9])", text):
        return QuantityError(
            f'"{text}" has a separator in its number', 'Write the digits together, for example "1000 m".'
        )
    if re.match(r"[+-]?[0-9]+,[0-9]", text):
        return QuantityError(
            f'"{text}" has a comma in its number', f'Write a point, for example "{text.replace(",", ".")}".'
        )
    if "±" in text or "+/-" in text:
        return QuantityError(f'"{text}" states an uncertainty', "Write the uncertainty under its own key.")
    return QuantityError(f'"{text}" is not one number and one unit', f'Write one of each, for example "{example}".')


def _choices(dimension: str) -> str:
    symbols = symbols_of(dimension)
    return symbols[0] if len(symbols) == 1 else f"{', '.join(symbols[:-1])} or {symbols[-1]}"


def _capital(phrase: str) -> str:
    return phrase[0].upper() + phrase[1:]


def amount_in(text: str, unit: str) -> float:
    """The number in the unit of a quantity that is written with another or the same, such as a checked leaf of a plan.

    Raises:
        QuantityError: no quantity, or one of another dimension.

    """
    quantity = parse_quantity(text, unit)
    return convert(float(quantity.digits), quantity.unit, unit)
