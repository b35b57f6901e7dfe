"""The four outcomes and how `all`, `any` and `none` join them.

Outcomes are held as codes in `bytes`, one a subject, so that a whole column is joined at once: every code becomes a
bit, the children's bits are gathered with one integer OR over the column, and a table maps each set of bits to the
outcome of the whole. Words: W3C, Evaluation and Report Language (EARL) 1.0, OutcomeValue. Joining: Kleene's strong
three-valued logic, with not-applicable children left out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf

from afield.core.language import marked

PASSED, FAILED, CANNOT_TELL, NOT_APPLICABLE = range(4)
WORDS = (marked("passed"), marked("failed"), marked("cannot tell"), marked("not applicable"))
"""Code -> word; `WORDS.index(word)` is the code."""
OPERATORS = ("all", "any", "none")

_BITS = bytes(1 << (code & 3) for code in range(256))
_SWAP = bytes([FAILED, PASSED, CANNOT_TELL, NOT_APPLICABLE, *range(4, 256)])
_PRECEDENCE = {"all": (FAILED, CANNOT_TELL, PASSED), "any": (PASSED, CANNOT_TELL, FAILED)}


def _table(operator: str) -> bytes:
    """Set of bits -> code: the first outcome in the operator's precedence that some child has."""
    order = _PRECEDENCE[operator]
    return bytes(next((code for code in order if bits >> code & 1), NOT_APPLICABLE) for bits in range(256))


_TABLES = {"all": _table("all"), "any": _table("any"), "none": _table("any").translate(_SWAP)}


def negated(outcomes: bytes) -> bytes:
    """Passed and failed exchanged; cannot tell and not applicable stay."""
    return outcomes.translate(_SWAP)


def joined(operator: str, children: Sequence[bytes]) -> bytes:
    """The outcome of `all`, `any` or `none` of the children, for every subject of the columns.

    Nothing is short-circuited: a failed child does not hide what the others say.
    """
    gathered = 0
    for child in children:
        gathered |= int.from_bytes(child.translate(_BITS), "little")
    return gathered.to_bytes(len(children[0]), "little").translate(_TABLES[operator])


def closeness(margin: float | None, uncertainty: float | None) -> float | None:
    """|margin| / U: how many of its own 95 % uncertainties a margin is wide; None if it is not numeric.

    An exact margin is infinitely wide, unless it is 0.
    """
    if margin is None:
        return None
    if not margin:
        return 0.0
    return abs(margin) / uncertainty if uncertainty else inf


def deciding(candidates: Sequence[int], closeness_of: Callable[[int], float | None]) -> int:
    """The one of the candidates that decides: the closest call, or the first written where not all are numeric."""
    if len(candidates) == 1:
        return candidates[0]
    widths = [closeness_of(candidate) for candidate in candidates]
    numeric = [width for width in widths if width is not None]
    return candidates[widths.index(min(numeric)) if len(numeric) == len(widths) else 0]
