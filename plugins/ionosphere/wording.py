"""Numbers as the language of the reader writes them."""

from __future__ import annotations

from afield.core.api import local_digits


def plain(number: float) -> str:
    """A number with as many decimals as it has, to six digits: "0.5", "100"."""
    return local_digits(f"{number:g}")
