"""Values of a fact that are worth trying: at its bounds and beside them, sure and unsure, and not known at all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from afield.core.authoring.sampling.bounds import Figure
from afield.core.facts.declarations import Fact
from afield.core.frozen import frozen
from afield.core.quantities import convert

SURE, UNSURE, UNTOLD, ABSENT = range(4)
"""How far a value is from what an author would write first."""

UNKNOWN = {"unknown": "missing input"}
NOT_STATED = {"not_stated": True}


@frozen
class Candidate:
    """One value to try.

    Attributes:
        written: as a case writes it.
        cost: from SURE upward; the cheaper combinations are tried first.

    """

    written: Any
    cost: int = SURE


def candidates_of(declared: Fact, bounds: Sequence[Any]) -> list[Candidate]:
    """What to try of a fact; empty for a fact that no case can give.

    Args:
        declared: the fact.
        bounds: what rules compare it with.

    """
    known = {
        "number": _numbers, "text": _texts, "bool": _bools, "instant": _instants, "list": _lists,
    }.get(declared.type)  # fmt: skip
    if known is None:
        return []
    return [*known(declared, bounds), Candidate(UNKNOWN, UNTOLD), Candidate(NOT_STATED, ABSENT)]


def is_finite(declared: Fact) -> bool:
    """Whether the candidates are all that a comparison can tell apart."""
    return declared.type in ("text", "bool", "list")


def last_place(figure: Decimal) -> Decimal:
    """One unit in the last printed place: 1 for 80, 0.1 for 24.4."""
    return Decimal(1).scaleb(int(figure.as_tuple().exponent))


def _numbers(declared: Fact, bounds: Sequence[Any]) -> Iterator[Candidate]:
    figures = [bound for bound in bounds if isinstance(bound, Figure)] or [Figure(Decimal(1), declared.unit or "")]
    for step in (0, -1, 1):
        for figure in figures:
            value = figure.value + step * last_place(figure.value)
            if _is_possible(declared, value, figure.unit):
                yield Candidate(_quantity(value, figure.unit))
    for figure in figures:
        around = last_place(figure.value)
        for offset in (0, -around, around):
            if _is_possible(declared, figure.value + offset - around, figure.unit):
                yield Candidate(_unsure(figure.value + offset, around, figure.unit), UNSURE)


def _is_possible(declared: Fact, value: Decimal, unit: str) -> bool:
    return declared.least is None or convert(float(value), unit, declared.unit or "") >= declared.least


def _quantity(value: Decimal, unit: str) -> Any:
    if unit:
        return f"{value:f} {unit}"
    return int(value) if value == int(value) else float(value)


def _unsure(value: Decimal, around: Decimal, unit: str) -> dict[str, Any]:
    """A value between two others; a count is never below 0."""
    low = value - around
    return {
        "value": _quantity(value, unit),
        "low": _quantity(low if unit or value < 0 else max(low, Decimal(0)), unit),
        "high": _quantity(value + around, unit),
    }


def _texts(declared: Fact, bounds: Sequence[Any]) -> Iterator[Candidate]:
    compared = [bound for bound in bounds if isinstance(bound, str)]
    others = [choice for choice in declared.choices if choice not in compared]
    if not declared.choices:
        others = ["something else" if "something else" not in compared else "something other"]
    yield from (Candidate(word) for word in (*compared, *others))


def _bools(declared: Fact, bounds: Sequence[Any]) -> Iterator[Candidate]:
    first = next((bound for bound in bounds if isinstance(bound, bool)), True)
    yield from (Candidate(first), Candidate(not first))


def _instants(declared: Fact, bounds: Sequence[Any]) -> Iterator[Candidate]:
    for bound in bounds:
        if isinstance(bound, datetime):
            for minutes in (0, -1, 1):
                yield Candidate((bound + timedelta(minutes=minutes)).isoformat())


def _lists(declared: Fact, bounds: Sequence[Any]) -> Iterator[Candidate]:
    yield Candidate([(*declared.choices, "something")[0]])
