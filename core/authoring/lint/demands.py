"""What a condition demands of each fact on a day, as ranges and sets of words, as far as `all` alone joins it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction

from afield.core.facts.declarations import Fact
from afield.core.frozen import frozen
from afield.core.quantities import convert_exact
from afield.core.rules.bounds import BoundUsed, bound_used
from afield.core.rules.conditions import Aggregate, Condition, FactOf, Leaf
from afield.core.rules.limits import Limit
from afield.core.rules.wording import measure_in_words

Edge = tuple[Fraction, int]
"""An end of a range: the figure, and -1 just below it, 0 the figure itself, 1 just above it."""


@frozen
class Demand:
    """What a fact must be.

    Attributes:
        least, most: ends of a range, both inside it; None = open.
        words: what text and answers may be; None for numbers.

    """

    least: Edge | None = None
    most: Edge | None = None
    words: frozenset[object] | None = None

    def meets(self, other: Demand) -> Demand:
        """What both demand at once."""
        least = max((edge for edge in (self.least, other.least) if edge is not None), default=None)
        most = min((edge for edge in (self.most, other.most) if edge is not None), default=None)
        words = other.words if self.words is None else self.words
        if self.words is not None and other.words is not None:
            words = self.words & other.words
        return Demand(least, most, words)

    @property
    def is_empty(self) -> bool:
        """Whether nothing meets it."""
        reversed_ends = self.least is not None and self.most is not None and self.least > self.most
        return reversed_ends or self.words == frozenset()

    def excludes(self, other: Demand) -> bool:
        """Whether nothing meets both, though each can be met."""
        return self.meets(other).is_empty and not self.is_empty and not other.is_empty


@frozen
class Demands:
    """What a condition demands of each fact.

    Attributes:
        of: by the fact's name, or by words for what is counted or judged elsewhere.
        whole: whether this is all that the condition says; otherwise it demands more than is told here.

    """

    of: Mapping[str, Demand]
    whole: bool = True

    def excludes(self, other: Demands) -> list[str]:
        """The facts of which the two demand what cannot be at once."""
        return sorted(name for name in self.of.keys() & other.of.keys() if self.of[name].excludes(other.of[name]))


def demands_of(
    condition: Condition | None, day: date, limits: Mapping[str, Limit], facts: Mapping[str, Fact]
) -> Demands:
    """What the condition demands on a day; nothing where there is no condition."""
    found: dict[str, Demand] = {}
    whole = True
    for leaf in _joined(condition):
        demand = _demand(leaf, day, limits, facts) if leaf is not None else None
        if leaf is None or demand is None:
            whole = False
        else:
            name = _name(leaf)
            found[name] = found[name].meets(demand) if name in found else demand
    return Demands(found, whole)


def _joined(condition: Condition | None) -> Iterator[Leaf | None]:
    """The comparisons that must all be met; None for each part of which that cannot be said."""
    if condition is None:
        return
    if isinstance(condition, Leaf):
        yield condition
    elif condition.operator == "all" or (condition.operator == "any" and len(condition.children) == 1):
        for child in condition.children:
            yield from _joined(child)
    else:
        yield None


def _name(leaf: Leaf) -> str:
    name = leaf.measure.name if isinstance(leaf.measure, FactOf) else measure_in_words(leaf.measure, {})
    return f"whether {name} is stated" if leaf.comparison == "exists" else name


def _demand(leaf: Leaf, day: date, limits: Mapping[str, Limit], facts: Mapping[str, Fact]) -> Demand | None:
    bounds = [bound_used(bound, limits, day) for bound in leaf.bounds]
    if any(bound.value is None for bound in bounds):
        return None
    if not all(isinstance(bound.value, Decimal) for bound in bounds):
        values = frozenset(bound.value for bound in bounds)
        return Demand(words=values) if leaf.comparison in ("is", "one_of", "exists") else None
    unit = _unit(leaf, facts)
    figures = [_figure(bound, unit) for bound in bounds]
    return None if None in figures else _range(leaf.comparison, [figure for figure in figures if figure is not None])


def _unit(leaf: Leaf, facts: Mapping[str, Fact]) -> str | None:
    """The unit of what is compared; None where its plugin is absent."""
    measure = leaf.measure
    fact = measure.of if isinstance(measure, Aggregate) else measure
    if not isinstance(fact, FactOf):
        return ""
    return facts[fact.name].unit if fact.name in facts else None


def _figure(bound: BoundUsed, unit: str | None) -> Fraction | None:
    assert isinstance(bound.value, Decimal)
    return None if unit is None else Fraction(convert_exact(bound.value, bound.unit, unit))


def _range(comparison: str, figures: list[Fraction]) -> Demand | None:
    first, last = figures[0], figures[-1]
    return {
        "at_most": Demand(most=(first, 0)),
        "below": Demand(most=(first, -1)),
        "at_least": Demand(least=(first, 0)),
        "above": Demand(least=(first, 1)),
        "between": Demand(least=(first, 0), most=(last, 0)),
        "is": Demand(least=(first, 0), most=(first, 0)),
    }.get(comparison)
