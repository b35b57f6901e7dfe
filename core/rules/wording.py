"""Conditions and values as short phrases."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from afield.core.facts.declarations import Fact
from afield.core.language import _, marked
from afield.core.quantities import printed_interval
from afield.core.rules.conditions import Aggregate, Bound, FactOf, Leaf, Measure, VerdictOf
from afield.core.rules.limits import printed_figure

GATHERED = {
    "count": marked("the count of {kind}"),
    "sum": marked("the sum of {kind}"),
    "least": marked("the least of {kind}"),
    "greatest": marked("the greatest of {kind}"),
}
GATHERED_OF = {
    "count": marked("the count of {of} over each {kind}"),
    "sum": marked("the sum of {of} over each {kind}"),
    "least": marked("the least of {of} over each {kind}"),
    "greatest": marked("the greatest of {of} over each {kind}"),
}
"""How an aggregate gathers -> its phrase, without a fact and with one."""


def in_words(leaf: Leaf, facts: Mapping[str, Fact]) -> str:
    """The comparison: "the farthest part is at most the limit corridor"."""
    what = measure_in_words(leaf.measure, facts)
    if leaf.comparison == "exists":
        return f"{what} is {'stated' if leaf.bounds[0].value else 'not stated'}"
    joiner = " and " if leaf.comparison == "between" else ", "
    bounds = joiner.join(_bound_in_words(bound) for bound in leaf.bounds)
    comparison = "" if leaf.comparison == "is" else f" {leaf.comparison.replace('_', ' ')}"
    return f"{what} is{comparison} {bounds}"


def measure_in_words(measure: Measure, facts: Mapping[str, Fact]) -> str:
    """The measure as a noun phrase: a fact's title, "the count of contact"."""
    if isinstance(measure, FactOf):
        return _title(measure.name, facts)
    if isinstance(measure, VerdictOf):
        return _("the verdict on {rule}").format(rule=measure.rule)
    return _aggregate_in_words(measure, facts)


def value_in_words(
    value: Any, uncertainty: float | None, unit: str | None, low: float | None = None, high: float | None = None
) -> str:
    """A value with its uncertainty, or the ends of a lopsided interval, and unit, as on screen."""
    if isinstance(value, bool):
        return _("true") if value else _("false")
    if not isinstance(value, int | float):
        return _(str(value))
    return printed_interval(value, low, high, uncertainty, unit or "")


def _aggregate_in_words(aggregate: Aggregate, facts: Mapping[str, Fact]) -> str:
    if aggregate.of is None:
        return _(GATHERED[aggregate.how]).format(kind=_(aggregate.kind))
    return _(GATHERED_OF[aggregate.how]).format(of=_title(aggregate.of.name, facts), kind=_(aggregate.kind))


def _title(name: str, facts: Mapping[str, Fact]) -> str:
    fact = facts.get(name)
    return _(fact.title) if fact and fact.title else name


def _bound_in_words(bound: Bound) -> str:
    if bound.limit is not None:
        return f"the limit {bound.limit}"
    if isinstance(bound.value, Decimal):
        return printed_figure(bound.value, bound.unit)
    return value_in_words(bound.written, None, None)
