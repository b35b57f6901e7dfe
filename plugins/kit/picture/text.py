"""Texts of the picture: how wide they are, and how they are broken or cut to a width."""

from __future__ import annotations

from itertools import accumulate
from unicodedata import combining, east_asian_width

WIDE = frozenset("MWmw@%—")
NARROW = frozenset("iIjlt.,:;'!|()[] ")
ELLIPSIS = "…"


BOLD = 1.14
"""How much wider bold letters are."""


def width_of(text: str, size: float) -> float:
    """Width of a text in the units of its size, more than that of common sans-serif letters rather than less."""
    return size * sum(_share(character) for character in text)


def _share(character: str) -> float:
    if combining(character):
        return 0.0
    if east_asian_width(character) in "WF":
        return 1.0
    if character in NARROW:
        return 0.4
    return 1.0 if character in WIDE else 0.78 if character.isupper() else 0.64


def cut(text: str, size: float, width: float) -> str:
    """The text, or as much of it as fits with an ellipsis."""
    if width_of(text, size) <= width:
        return text
    widths = accumulate(size * _share(character) for character in text)
    room = width - width_of(ELLIPSIS, size)
    return text[: sum(reached <= room for reached in widths)].rstrip() + ELLIPSIS


def wrapped(text: str, size: float, width: float, most: int) -> list[str]:
    """The text on at most so many lines, broken at blanks; the last is cut if there is more."""
    lines: list[str] = []
    rest = text.split()
    while rest and len(lines) < most - 1:
        widths = accumulate(width_of(f"{word} ", size) for word in rest)
        taken = max(1, sum(reached - width_of(" ", size) <= width for reached in widths))
        lines.append(cut(" ".join(rest[:taken]), size, width))
        rest = rest[taken:]
    return [*lines, cut(" ".join(rest), size, width)] if rest else lines
