"""Conditions: what a rule compares, kept as plain data so that it can be shown, inverted and asked for its leaves."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from typing import Any, TypeAlias

from afield.core.documents import Path
from afield.core.frozen import frozen

ORDERED = ("at_most", "at_least", "below", "above", "between")
COMPARISONS = (*ORDERED, "is", "one_of", "exists")
AGGREGATES = ("count", "sum", "least", "greatest")


@frozen
class FactOf:
    """A fact of the subject that is judged, or of one that encloses it.

    Attributes:
        name: the fact's.
        absent: the plugins that the pack needs and that are not there, where no plugin declares the fact.

    """

    name: str
    absent: tuple[str, ...] = ()


@frozen
class VerdictOf:
    """The outcome of another rule, as a word, for the same subject or one that encloses it.

    Attributes:
        rule: its id, or "pack/rule" for a rule of another pack.

    """

    rule: str


@frozen
class Aggregate:
    """A number gathered over the subjects of a kind.

    Attributes:
        how: count, sum, least or greatest.
        kind: of the members.
        of: the gathered fact; None for a count.
        where: which members count; None = all.
        distinct: members with equal values of all these facts count once.
        absent: as in `FactOf`, where the kind is not registered.

    """

    how: str
    kind: str
    of: FactOf | None = None
    where: Condition | None = None
    distinct: tuple[FactOf, ...] = ()
    absent: tuple[str, ...] = ()


Measure: TypeAlias = FactOf | VerdictOf | Aggregate


@frozen
class Bound:
    """What a measure is compared with: a named limit, or a value written in the rule.

    Attributes:
        limit: the limit's name, None for a written value.
        value: the written value; None for a limit.
        unit: of a written number; "" for a count.

    """

    limit: str | None = None
    value: Decimal | str | bool | datetime | None = None
    unit: str = ""

    @property
    def written(self) -> Any:
        """As a pack writes it."""
        if self.limit is not None:
            return {"limit": self.limit}
        if isinstance(self.value, datetime):
            return self.value.isoformat()
        if isinstance(self.value, Decimal):
            return f"{self.value:f} {self.unit}".rstrip()
        return self.value


@frozen
class Leaf:
    """One comparison of one measure."""

    measure: Measure
    comparison: str
    bounds: tuple[Bound, ...]
    path: Path = ()


@frozen
class Group:
    """Conditions joined by all, any or none."""

    operator: str
    children: tuple[Condition, ...]
    path: Path = ()


Condition: TypeAlias = Leaf | Group


def leaves(condition: Condition) -> Iterator[Leaf]:
    """The condition's comparisons in written order; those inside an aggregate's `where` are not among them."""
    if isinstance(condition, Leaf):
        yield condition
    else:
        for child in condition.children:
            yield from leaves(child)


def nested_leaves(condition: Condition) -> Iterator[Leaf]:
    """The condition's comparisons and, after each, those inside its aggregate's `where`."""
    for leaf in leaves(condition):
        yield leaf
        if isinstance(leaf.measure, Aggregate) and leaf.measure.where is not None:
            yield from nested_leaves(leaf.measure.where)


def facts_asked(condition: Condition) -> list[str]:
    """Names of all facts that the condition asks, each once, those asked of members included."""
    measures = [leaf.measure for leaf in nested_leaves(condition)]
    names: list[str] = []
    for measure in measures:
        if isinstance(measure, FactOf):
            names.append(measure.name)
        elif isinstance(measure, Aggregate):
            names.extend(fact.name for fact in (measure.of, *measure.distinct) if fact is not None)
    return list(dict.fromkeys(names))


def verdicts_asked(condition: Condition) -> list[str]:
    """The rules whose verdicts the condition asks, each once."""
    measures = [leaf.measure for leaf in nested_leaves(condition)]
    return list(dict.fromkeys(measure.rule for measure in measures if isinstance(measure, VerdictOf)))


def limits_asked(condition: Condition) -> list[str]:
    """Names of the limits that the condition compares with, each once."""
    names = [bound.limit for leaf in nested_leaves(condition) for bound in leaf.bounds if bound.limit is not None]
    return list(dict.fromkeys(names))


def to_json(condition: Condition) -> dict[str, Any]:
    """The condition as a pack writes it; reading that back gives an equal condition."""
    if isinstance(condition, Group):
        return {condition.operator: [to_json(child) for child in condition.children]}
    written = [bound.written for bound in condition.bounds]
    several = condition.comparison in ("between", "one_of")
    return {**measure_json(condition.measure), condition.comparison: written if several else written[0]}


def measure_json(measure: Measure) -> dict[str, Any]:
    """The measure as a pack writes it."""
    if isinstance(measure, FactOf):
        return {"fact": measure.name}
    if isinstance(measure, VerdictOf):
        return {"verdict": measure.rule}
    parts: dict[str, Any] = {measure.how: measure.kind}
    if measure.of is not None:
        parts["of"] = measure.of.name
    if measure.where is not None:
        parts["where"] = to_json(measure.where)
    if measure.distinct:
        parts["distinct"] = [fact.name for fact in measure.distinct]
    return parts
