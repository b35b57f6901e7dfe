"""Small words of the messages: lists of names, counts, and a near name."""

from collections.abc import Iterable, Sequence
from difflib import get_close_matches

LISTED = 12


def counted(count: int, one: str, many: str) -> str:
    """The count with its noun: "1 line", "3 lines"."""
    return f"{count} {one if count == 1 else many}"


def quoted_list(names: Iterable[str]) -> str:
    """The distinct names in quotes, the first dozen of them."""
    distinct = list(dict.fromkeys(names))
    listed = ", ".join(f'"{name}"' for name in distinct[:LISTED])
    more = len(distinct) - LISTED
    return f"{listed} and {more} more" if more > 0 else listed


def near_name(word: str, names: Sequence[str]) -> str:
    """The sentence "Did you mean ...? " with the name closest to the word, or nothing."""
    by_folded = {name.casefold(): name for name in reversed(names)}
    found = get_close_matches(word.casefold(), list(by_folded), n=1)
    return f'Did you mean "{by_folded[found[0]]}"? ' if found else ""
