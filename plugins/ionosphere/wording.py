"""Lists and numbers as the language of the reader writes them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

from afield.core.api import _, local_digits


def all_of(words: Sequence[str]) -> str:
    """The words in a row, joined by "and"."""
    return reduce(lambda one, other: _("{one} and {other}").format(one=one, other=other), words)


def grouped(number: float) -> str:
    """A number without decimals, its thousands apart: by a comma, or where that is the decimal sign by a space."""
    digits = f"{number:,.0f}"
    return digits if local_digits(".") == "." else digits.replace(",", "\N{NO-BREAK SPACE}")


def plain(number: float) -> str:
    """A number with as many decimals as it has, to six digits: "0.5", "100"."""
    return local_digits(f"{number:g}")
