"""Numbers gathered over many subjects, as intervals: which members count may itself be undecided."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from graphlib import TopologicalSorter
from typing import Any

from afield.core.facts.graph import first_cycle
from afield.core.facts.measured import Measured, Reason, root_sum_square
from afield.core.frozen import frozen
from afield.core.rules.columns import NO_MEMBER, Column, column_of
from afield.core.rules.conditions import Condition, verdicts_asked
from afield.core.rules.outcomes import CANNOT_TELL, PASSED


@frozen
class Member:
    """One subject that an aggregate may gather.

    Attributes:
        outcome: code of the aggregate's `where` for it; PASSED = it counts, CANNOT_TELL = undecided, else it does not.
        record: of the gathered fact; None for a count.
        distinct: records of the facts that make two members the same.
        subject: its key.
        reason: why it is undecided.

    """

    outcome: int = PASSED
    record: Measured | None = None
    distinct: tuple[Measured, ...] = ()
    subject: str = ""
    reason: Reason | None = None


@frozen
class Gathered:
    """An aggregate's value for one subject.

    Attributes:
        record: value, low and high; None where there is no member to take the least or greatest of (not applicable).
        doubt: what would settle it, should the bound lie inside the interval; None if every member is decided.

    """

    record: Measured | None
    doubt: Reason | None = None


def aggregate_interval(how: str, members: Sequence[Member], distinct: bool = False) -> Gathered:
    """The aggregate over the members.

    count: [those that count, those and the undecided]. sum: adds [min(0, low), max(0, high)] of each undecided.
    least, greatest: of those that count, drawn out by the undecided; without a sure member it cannot be told if any
    is undecided, and is not applicable otherwise.

    Args:
        how: count, sum, least or greatest.
        members: all subjects of the kind.
        distinct: whether members with equal `distinct` records count once (count only).

    """
    sure = [member for member in members if member.outcome == PASSED]
    undecided = [member for member in members if member.outcome == CANNOT_TELL]
    doubt = _doubt(undecided)
    if how == "count":
        return Gathered(_distinct_count(sure, undecided) if distinct else _count(sure, undecided), doubt)
    silent = next((record for record in _records((*sure, *undecided)) if not record.known), None)
    if silent is not None:
        return Gathered(_missing(silent))
    if how == "sum":
        return Gathered(_sum(_records(sure), _records(undecided)), doubt)
    return _extreme(how, _records(sure), _records(undecided), doubt)


def aggregate_column(gathered: Sequence[Gathered], unit: str | None) -> Column:
    """The column of an aggregate, one value a subject, in the unit of the bound."""
    empty = Measured(None, reason=Reason("applicability", "there is no member"))
    column = column_of([one.record or empty for one in gathered], unit, doubts=[one.doubt for one in gathered])
    state = bytes(NO_MEMBER if one.record is None else known for one, known in zip(gathered, column.state, strict=True))
    return Column(column.low, column.value, column.high, column.uncertainty, state, unit, column.records, column.doubts)


def cycles(rules: Mapping[str, Iterable[Condition]]) -> list[list[str]]:
    """Closed lists of rules that ask for each other's verdicts; none of them can be judged.

    Args:
        rules: name -> its conditions (`require` and `where`).

    Returns:
        One cycle of every knot, each as [a, b, ..., a].

    """
    edges = {name: _asked(conditions) for name, conditions in rules.items()}
    found: list[list[str]] = []
    while cycle := first_cycle(edges):
        found.append(cycle)
        edges = {name: asked for name, asked in edges.items() if name not in cycle}
    return found


def judging_order(rules: Mapping[str, Iterable[Condition]]) -> list[str]:
    """The rules so ordered that each follows those whose verdicts it asks for.

    Raises:
        graphlib.CycleError: `cycles` is not empty.

    """
    edges = {name: _asked(conditions) for name, conditions in rules.items()}
    return [name for name in TopologicalSorter(edges).static_order() if name in edges]


def _asked(conditions: Iterable[Condition]) -> list[str]:
    return list(dict.fromkeys(rule for condition in conditions for rule in verdicts_asked(condition)))


def _doubt(undecided: Sequence[Member]) -> Reason | None:
    if not undecided:
        return None
    first = undecided[0]
    others = f" and {len(undecided) - 1} more" if len(undecided) > 1 else ""
    why = f": {first.reason.text}" if first.reason else ""
    return Reason(
        "within uncertainty",
        f"whether {first.subject or 'a member'}{others} counts cannot be told{why}",
        first.reason.settle if first.reason else None,
        (first.reason.subject if first.reason else None) or first.subject or None,
    )


def _records(members: Iterable[Member]) -> list[Measured]:
    return [member.record for member in members if member.record is not None]


def _missing(silent: Measured) -> Measured:
    """A member's fact that is not stated is an input that the aggregate lacks, not a definite absence of it."""
    reason = silent.reason
    if reason is not None and reason.code == "not stated":
        reason = replace(reason, code="missing input")
    return Measured(None, unit=silent.unit, reason=reason)


def _interval(record: Measured) -> tuple[float, float]:
    """Low and high; an exact value is both."""
    return (
        record.value if record.low is None else record.low,
        record.value if record.high is None else record.high,
    )


def _number(value: float, low: float, high: float, unit: str | None, **more: Any) -> Measured:
    return Measured(value, unit, low, high, **more)


def _count(sure: Sequence[Member], undecided: Sequence[Member]) -> Measured:
    return _number(len(sure), len(sure), len(sure) + len(undecided), "")


def _distinct_count(sure: Sequence[Member], undecided: Sequence[Member]) -> Measured:
    """A member whose facts are not all known may equal another or be one more."""
    known = {_key(member) for member in sure if _key(member) is not None}
    unknown = sum(_key(member) is None for member in sure)
    possible = known | {_key(member) for member in undecided if _key(member) is not None}
    most = len(possible) + unknown + sum(_key(member) is None for member in undecided)
    least = max(len(known), 1 if unknown else 0)
    return _number(least, least, most, "")


def _key(member: Member) -> tuple[Any, ...] | None:
    if not all(record.known for record in member.distinct):
        return None
    return tuple(tuple(r.value) if isinstance(r.value, list) else r.value for r in member.distinct)


def _sum(sure: Sequence[Measured], undecided: Sequence[Measured]) -> Measured:
    """Errors with one origin are added with their signs; what an interval holds beyond its parts, at its full width."""
    value = sum(record.value for record in sure)
    parts: dict[str, float] = {}
    below = above = 0.0
    for record in sure:
        low, high = _interval(record)
        own = root_sum_square(record.parts)
        below += max(0.0, record.value - low - own)
        above += max(0.0, high - record.value - own)
        for origin, part in record.parts.items():
            parts[origin] = parts.get(origin, 0.0) + part
    joint = root_sum_square(parts)
    low = value - below - joint + sum(min(0.0, _interval(record)[0]) for record in undecided)
    high = value + above + joint + sum(max(0.0, _interval(record)[1]) for record in undecided)
    return _number(value, low, high, _unit(sure, undecided))


def _extreme(how: str, sure: Sequence[Measured], undecided: Sequence[Measured], doubt: Reason | None) -> Gathered:
    if not sure:
        return Gathered(Measured(None, reason=doubt) if doubt else None)
    first = min if how == "least" else max
    ends = [_interval(record) for record in sure]
    low, high = first(end[0] for end in ends), first(end[1] for end in ends)
    for record in undecided:
        possible = _interval(record)
        low, high = (min(low, possible[0]), high) if how == "least" else (low, max(high, possible[1]))
    value = first(record.value for record in sure)
    return Gathered(_number(value, low, high, _unit(sure, undecided)), doubt)


def _unit(*records: Sequence[Measured]) -> str | None:
    return next((record.unit for group in records for record in group), None)
