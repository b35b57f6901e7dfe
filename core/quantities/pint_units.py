"""Units outside the table of `units`, looked up in pint, which is imported only then."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from afield.core.quantities.units import DIMENSIONS, Unit

if TYPE_CHECKING:
    from pint import UnitRegistry

_PINT_NAMES = {"charge": "A * hour", "energy": "W * hour", "temperature": "delta_degC", "area": "mm ** 2"}
_FIXED_DIMENSIONS = ("angle", "ratio", "level", "money", "count")
"""All of these are one dimension (none) to pint, so it cannot tell them apart."""
_UNIT_WORD = re.compile(r"[A-Za-zµμ°/*^0-9 ]{1,30}")


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[float]:
    """Pint's units, from its cache folder where there is one; reading the definitions afresh takes 0.3 s."""
    from pint import UnitRegistry

    try:
        return UnitRegistry(cache_folder=":auto:")
    except OSError:  # the cache folder cannot be written
        return UnitRegistry()


@lru_cache(maxsize=256)
def pint_unit(word: str) -> Unit | None:
    """The unit of that name, None if pint has none or one of no known dimension."""
    if not _UNIT_WORD.fullmatch(word):
        return None
    try:
        return _related_unit(word)
    except Exception:  # pint's parser raises its own errors, and those of Python's tokenizer, for words that are none
        return None


def _related_unit(word: str) -> Unit | None:
    """The unit related to the reference unit of the same dimension."""
    one = _registry().Quantity(1, word)
    for dimension, reference in DIMENSIONS.items():
        if dimension in _FIXED_DIMENSIONS:
            continue
        due = _PINT_NAMES.get(dimension, reference)
        if one.is_compatible_with(due):
            return Unit(word, dimension, Fraction(repr(float(one.to(due).magnitude))))
    return None
