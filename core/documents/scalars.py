"""Plain text -> value by the core schema of YAML 1.2.2, section 10.3.2, which has no dates and no `yes` or `on`."""

from __future__ import annotations

import re
from math import isfinite

Scalar = str | int | float | bool | None


class WrittenFloat(float):
    """A number that remembers how it was written; in all else a float.

    Attributes:
        written: the text, in which trailing noughts still count: "39.9040".

    """

    written: str

    def __new__(cls, written: str) -> WrittenFloat:
        """The number that the text states. Raises ValueError where it states none."""
        made = super().__new__(cls, written)
        made.written = written
        return made

    def __getnewargs__(self) -> tuple[str]:  # type: ignore[override]
        """The text, from which copies are made."""
        return (self.written,)


_WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL"), None),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_INTEGER = re.compile(r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_FIRST = frozenset("0123456789+-.~nNtTfF")
_LONGEST_NUMBER = 100


def plain_value(text: str) -> Scalar:
    """The value that an unquoted text stands for.

    Raises:
        ValueError: a number that is infinite, not a number, or longer than 100 characters; the text says which.

    """
    if text and text[0] not in _FIRST:
        return text
    if text in _WORDS:
        return _WORDS[text]
    if _INTEGER.fullmatch(text):
        return _integer(text)
    if _FLOAT.fullmatch(text):
        return _finite(text)
    if _NOT_FINITE.fullmatch(text):
        raise ValueError(f"{text} is no finite number")
    return text


def _integer(text: str) -> int:
    if len(text) > _LONGEST_NUMBER:
        raise ValueError(f"a number of {len(text)} digits is too long")
    base = {"0o": 8, "0x": 16}.get(text[:2], 10)
    return int(text, base)


def _finite(text: str) -> float:
    number = float(text)
    if len(text) > _LONGEST_NUMBER or not isfinite(number):
        raise ValueError(f"{text[:20]} is no finite number")
    return number if repr(number) == text else WrittenFloat(text)
