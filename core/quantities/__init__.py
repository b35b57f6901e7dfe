"""Numbers with units: reading, converting, printing. Pint is imported only for a unit that is not listed here."""

from afield.core.quantities.converting import (
    convert,
    convert_difference,
    convert_exact,
    dimension_of,
    factor,
    same_dimension,
    to_12_digits,
)
from afield.core.quantities.errors import QuantityError
from afield.core.quantities.parsing import Quantity, amount_in, bare_number, example_of, parse_quantity
from afield.core.quantities.printing import (
    is_lopsided,
    printed,
    printed_both,
    printed_digits,
    printed_interval,
    trimmed,
)
from afield.core.quantities.units import DIMENSIONS, phrase_of, shown_unit, symbols_of

__all__ = [
    "DIMENSIONS",
    "Quantity",
    "QuantityError",
    "amount_in",
    "bare_number",
    "convert",
    "convert_difference",
    "convert_exact",
    "dimension_of",
    "example_of",
    "factor",
    "is_lopsided",
    "parse_quantity",
    "phrase_of",
    "printed",
    "printed_both",
    "printed_digits",
    "printed_interval",
    "same_dimension",
    "shown_unit",
    "symbols_of",
    "to_12_digits",
    "trimmed",
]
