"""Lists and thousands as the language of the reader writes them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from afield.core.language.speech import _, local_digits


def all_of(words: Iterable[str]) -> str:
    """The words in a row, joined by "and"; nothing where there is none."""
    return _joined(words, _("{one} and {other}"))


def any_of(words: Iterable[str]) -> str:
    """The words in a row, joined by "or"; nothing where there is none."""
    return _joined(words, _("{one} or {other}"))


def _joined(words: Iterable[str], pair: str) -> str:
    row = list(words)
    return reduce(lambda one, other: pair.format(one=one, other=other), row) if row else ""


def grouped(number: float) -> str:
    """A number without decimals, its thousands apart: "1,000"; where a comma is the decimal sign "1000", "10 000".

    The space is that of ISO 80000-1, 7.3.1; four digits need none.
    """
    digits = f"{number:,.0f}"
    if local_digits(".") == ".":
        return digits
    return digits.replace(",", "\N{NO-BREAK SPACE}" if abs(number) >= 10_000 else "")
