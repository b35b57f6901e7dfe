"""Guessing what a writer meant."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def did_you_mean(word: str, choices: Iterable[str]) -> str | None:
    """The choice that the word may be a misspelling of, None if none is near."""
    names = list(choices)
    folded = {_folded(name): name for name in reversed(names)}
    near = get_close_matches(_folded(word), list(folded), n=1, cutoff=0.6)
    return folded[near[0]] if near else None


def quoted_list(words: Iterable[str], at_most: int = 12) -> str:
    """The words in quotes with commas, and how many more there are."""
    names = list(words)
    more = [f"and {len(names) - at_most} more"] if len(names) > at_most else []
    return ", ".join([f'"{name}"' for name in names[:at_most]] + more)


def _folded(word: str) -> str:
    return word.lower().replace("_", " ").replace("-", " ")
