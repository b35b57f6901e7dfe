"""Lists and numbers as the language of the reader writes them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

from afield.core.api import _, local_digits


def all_of(words: Sequence[str]) -> str:
    """The words in a row, joined by "and"."""
    return reduce(lambda one, other: _("{one} and {other}").format(one=one, other=other), words)


def grouped(number: float) -> str:
    """A number without decimals, its thousands apart: "1,000"; where a comma is the decimal sign "1000", "10 000".

    The space is that of ISO 80000-1, 7.3.1; four digits need none.
    """
    digits = f"{number:,.0f}"
    if local_digits(".") == ".":
        return digits
    return digits.replace(",", "\N{NO-BREAK SPACE}" if abs(number) >= 10_000 else "")


def plain(number: float) -> str:
    """A number with as many decimals as it has, to six digits: "0.5", "100"."""
    return local_digits(f"{number:g}")
