"""What a rule compares its facts with, in every version of its limits, and on which days that changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any, TypeAlias

from afield.core.frozen import frozen
from afield.core.packs.model import Pack, Rule
from afield.core.rules.conditions import Aggregate, Bound, FactOf, Leaf, VerdictOf, facts_asked, leaves, nested_leaves

Judging: TypeAlias = tuple[Pack, Rule]
"""A rule with the pack in which it judges: its limits count."""


@frozen
class Figure:
    """A number that a measure is compared with; unit "" for a count."""

    value: Decimal
    unit: str


def leaves_of(judging: Judging) -> list[Leaf]:
    """Every comparison of the rule, those inside aggregates included."""
    rule = judging[1]
    conditions = [condition for condition in (rule.where, rule.require) if condition is not None]
    return [leaf for condition in conditions for leaf in nested_leaves(condition)]


def facts_of(judgings: Iterable[Judging]) -> list[str]:
    """The facts that the rules ask of the subject that they judge, or of one around it."""
    measures = [leaf.measure for judging in judgings for leaf in _outer_leaves(judging)]
    return list(dict.fromkeys(measure.name for measure in measures if isinstance(measure, FactOf)))


def verdicts_of(judgings: Iterable[Judging]) -> list[str]:
    """The rules whose verdicts the rules ask of the subject that they judge."""
    measures = [leaf.measure for judging in judgings for leaf in _outer_leaves(judging)]
    return list(dict.fromkeys(measure.rule for measure in measures if isinstance(measure, VerdictOf)))


def gathers(judgings: Iterable[Judging]) -> list[Aggregate]:
    """What the rules gather over subjects."""
    measures = [leaf.measure for judging in judgings for leaf in _outer_leaves(judging)]
    return list(dict.fromkeys(measure for measure in measures if isinstance(measure, Aggregate)))


def gathered_facts(judgings: Iterable[Judging]) -> list[str]:
    """The facts that say which subjects count for what the rules gather."""
    wheres = [measure.where for measure in gathers(judgings) if measure.where is not None]
    return list(dict.fromkeys(name for where in wheres for name in facts_asked(where)))


def _outer_leaves(judging: Judging) -> Iterator[Leaf]:
    for condition in (judging[1].where, judging[1].require):
        if condition is not None:
            yield from leaves(condition)


def compared_with(name: str, judgings: Iterable[Judging]) -> list[Any]:
    """The bounds of a fact, as Figure, text, bool or datetime; each once, those of `require` last."""
    found: dict[Any, None] = {}
    for judging in judgings:
        for leaf in leaves_of(judging):
            if _is_about(leaf, name) and leaf.comparison != "exists":
                found |= dict.fromkeys(value for bound in leaf.bounds for value in _values(bound, judging[0]))
    return list(found)


def gathered_bounds(measure: Aggregate, judgings: Iterable[Judging]) -> list[Figure]:
    """The figures that an aggregate of that kind is compared with."""
    all_leaves = [(leaf, judging[0]) for judging in judgings for leaf in leaves_of(judging)]
    alike = [(leaf, pack) for leaf, pack in all_leaves if _gathers_alike(leaf, measure)]
    values = [value for leaf, pack in alike for bound in leaf.bounds for value in _values(bound, pack)]
    return [value for value in dict.fromkeys(values) if isinstance(value, Figure)]


def _gathers_alike(leaf: Leaf, measure: Aggregate) -> bool:
    other = leaf.measure
    return isinstance(other, Aggregate) and (other.how, other.kind, other.of) == (measure.how, measure.kind, measure.of)


def _is_about(leaf: Leaf, name: str) -> bool:
    measure = leaf.measure
    if isinstance(measure, Aggregate):
        return measure.of is not None and measure.of.name == name
    return isinstance(measure, FactOf) and measure.name == name


def _values(bound: Bound, pack: Pack) -> Iterator[Any]:
    if bound.limit is not None:
        versions = pack.limits[bound.limit].versions if bound.limit in pack.limits else ()
        yield from (Figure(version.value, version.unit) for version in versions if version.value is not None)
    elif isinstance(bound.value, Decimal):
        yield Figure(bound.value, bound.unit)
    elif isinstance(bound.value, str | bool | datetime):
        yield bound.value


def days_of_change(judgings: Iterable[Judging]) -> list[date]:
    """The days on which the rule or one of its limits begins or ceases to be in force."""
    found: set[date | None] = set()
    for pack, rule in judgings:
        found |= {rule.from_, rule.until}
        names = {bound.limit for leaf in leaves_of((pack, rule)) for bound in leaf.bounds if bound.limit in pack.limits}
        for name in names:
            assert name is not None
            found |= {day for version in pack.limits[name].versions for day in (version.from_, version.until)}
    return sorted(day for day in found if day is not None)
