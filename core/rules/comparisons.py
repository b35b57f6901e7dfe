"""Each comparison as functions of whole columns: passed if every value in [low, high] meets it, failed if none does.

Every test is written so that it must come out true to give passed or failed: a value that is not a number gives cannot
tell. In the loops 0, 1 and 2 stand for PASSED, FAILED and CANNOT_TELL: looking the names up would cost a third of the
time (see tests/bench/verdicts.py).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeAlias

from afield.core.rules.outcomes import CANNOT_TELL, FAILED, PASSED, WORDS

Numbers: TypeAlias = Sequence[float]


def _at_most(low: Numbers, high: Numbers, bounds: Numbers) -> bytes:
    (most,) = bounds
    return bytes([0 if h <= most else 1 if lo > most else 2 for lo, h in zip(low, high, strict=True)])


def _at_least(low: Numbers, high: Numbers, bounds: Numbers) -> bytes:
    (least,) = bounds
    return bytes([0 if lo >= least else 1 if h < least else 2 for lo, h in zip(low, high, strict=True)])


def _below(low: Numbers, high: Numbers, bounds: Numbers) -> bytes:
    (end,) = bounds
    return bytes([0 if h < end else 1 if lo >= end else 2 for lo, h in zip(low, high, strict=True)])


def _above(low: Numbers, high: Numbers, bounds: Numbers) -> bytes:
    (end,) = bounds
    return bytes([0 if lo > end else 1 if h <= end else 2 for lo, h in zip(low, high, strict=True)])


def _between(low: Numbers, high: Numbers, bounds: Numbers) -> bytes:
    least, most = bounds
    return bytes(
        [
            0 if lo >= least and h <= most else 1 if h < least or lo > most else 2
            for lo, h in zip(low, high, strict=True)
        ]
    )


def _one_of(low: Numbers, high: Numbers, bounds: Numbers) -> bytes:
    choices = frozenset(bounds)
    return bytes([_among(lo, h, choices) for lo, h in zip(low, high, strict=True)])


def _among(low: float, high: float, choices: frozenset[float]) -> int:
    if low == high:
        return PASSED if low in choices else FAILED
    inside = any(low <= choice <= high for choice in choices)
    return FAILED if low < high and not inside else CANNOT_TELL


OUTCOMES: dict[str, Callable[[Numbers, Numbers, Numbers], bytes]] = {
    "at_most": _at_most,
    "at_least": _at_least,
    "below": _below,
    "above": _above,
    "between": _between,
    "is": _one_of,
    "one_of": _one_of,
}
"""Comparison -> (low, high, bounds) -> outcome codes; all in one unit."""


def _room_above(value: Numbers, bounds: Numbers) -> list[float]:
    bound = bounds[0]
    return [bound - v for v in value]


def _room_below(value: Numbers, bounds: Numbers) -> list[float]:
    bound = bounds[0]
    return [v - bound for v in value]


def _room_inside(value: Numbers, bounds: Numbers) -> list[float]:
    least, most = bounds
    return [min(v - least, most - v) for v in value]


def _distance_off(value: Numbers, bounds: Numbers) -> list[float]:
    return [0 - min(abs(v - bound) for bound in bounds) for v in value]  # floats or decimals; never -0.0


MARGINS: dict[str, Callable[[Numbers, Numbers], list[float]]] = {
    "at_most": _room_above,
    "below": _room_above,
    "at_least": _room_below,
    "above": _room_below,
    "between": _room_inside,
    "is": _distance_off,
    "one_of": _distance_off,
}
"""Comparison -> (value, bounds) -> margins: > 0 room, < 0 lack; a value that must be met exactly has no room."""


def plain_outcomes(value: Sequence[Any], bounds: Sequence[Any]) -> bytes:
    """Outcomes of `is` and `one_of` for text and bools."""
    if len(bounds) == 1:
        due = bounds[0]
        return bytes([0 if v == due else 1 for v in value])
    choices = frozenset(bounds)
    return bytes([0 if v in choices else 1 for v in value])


def verdict_outcomes(value: Sequence[Any], bounds: Sequence[Any]) -> bytes:
    """Outcomes of `is` and `one_of` for the words of verdicts: one that cannot be told decides nothing."""
    open_ = WORDS[CANNOT_TELL]
    if open_ in bounds:
        return plain_outcomes(value, bounds)
    return bytes([2 if v == open_ else code for v, code in zip(value, plain_outcomes(value, bounds), strict=True)])


def outcome_of(comparison: str, low: float, high: float, bounds: Numbers) -> int:
    """The outcome code of one interval."""
    return OUTCOMES[comparison]((low,), (high,), bounds)[0]
