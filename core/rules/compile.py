"""A condition on one day -> closures over columns."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING, TypeAlias

from afield.core.facts.declarations import Fact
from afield.core.frozen import frozen
from afield.core.rules.bounds import BoundUsed, bound_used, comparable
from afield.core.rules.columns import KNOWN, NO_MEMBER, NOT_STATED, UNTOLD, Column
from afield.core.rules.comparisons import MARGINS, OUTCOMES, plain_outcomes, verdict_outcomes
from afield.core.rules.conditions import Aggregate, Condition, Leaf, Measure, VerdictOf
from afield.core.rules.judge import ColumnsFor, Judged, join, where_applies, without_margin
from afield.core.rules.limits import Limit
from afield.core.rules.outcomes import CANNOT_TELL, FAILED, NOT_APPLICABLE, PASSED

if TYPE_CHECKING:
    from afield.core.rules.explain import Explanation

DECISIONS = ("guarded", "simple")
"""guarded: the whole interval must meet the bound; simple: the value alone decides."""

Judge: TypeAlias = Callable[[ColumnsFor, int], Judged]


@frozen
class LeafInForce:
    """One comparison on the day of judging.

    Attributes:
        leaf: as written.
        index: its place among the rule's leaves.
        bounds: with the version in force of each limit.
        unit: to convert the measure to; None for text, bools and instants.
        negated: whether an odd number of `none` stands above it, so that its margin counts the other way round.

    """

    leaf: Leaf
    index: int
    bounds: tuple[BoundUsed, ...]
    unit: str | None
    negated: bool = False

    @property
    def absent(self) -> tuple[str, ...]:
        """The plugins without which the measure cannot be had."""
        return absent_plugins(self.leaf.measure)

    @property
    def silent(self) -> int | None:
        """The outcome for every subject where there is nothing to compare with; None where there is."""
        if self.absent or any(bound.missing for bound in self.bounds):
            return CANNOT_TELL
        return NOT_APPLICABLE if any(bound.value is None for bound in self.bounds) else None


@frozen
class CompiledRule:
    """A rule on one day.

    Attributes:
        condition, where: as written.
        day: whose limits are in force.
        decision: one of DECISIONS.
        facts: as declared, for the words of explanations.
        leaves: the comparisons of the condition, then those of `where`; deciders index it.
        required: how many of them belong to the condition.
        judge_leaves, judge_condition, judge_where: the closures.

    """

    condition: Condition
    where: Condition | None
    day: date
    decision: str
    facts: Mapping[str, Fact]
    leaves: tuple[LeafInForce, ...]
    required: int
    judge_leaves: tuple[Judge, ...]
    judge_condition: Judge
    judge_where: Judge | None

    def judge(self, columns_for: ColumnsFor, n: int, applies: Judged | None = None) -> Judged:
        """The verdicts on n subjects.

        Args:
            columns_for: gives each measure's column, all of n entries in the same order of subjects.
            n: how many subjects.
            applies: what `applicability` gave, if it was asked before.

        """
        required = self.judge_condition(columns_for, n)
        applicable = applies or self.applicability(columns_for, n)
        return where_applies(applicable, required) if any(applicable.outcome) else required

    def explain(self, index: int, columns_for: ColumnsFor) -> Explanation:
        """The verdict on one subject with every comparison; see `explain.Explanation`."""
        from afield.core.rules.explain import explain

        return explain(self, index, columns_for)

    def applicability(self, columns_for: ColumnsFor, n: int) -> Judged:
        """Whether the rule applies to each subject; passed for all where it has no `where`.

        Asked first, it allows the condition's facts to be left unasked of subjects to which the rule does not apply.
        """
        return self.judge_where(columns_for, n) if self.judge_where else without_margin(bytes(n), 0)


def compile_rule(
    condition: Condition,
    where: Condition | None,
    day: date,
    limits: Mapping[str, Limit],
    facts: Mapping[str, Fact],
    decision: str = "guarded",
) -> CompiledRule:
    """The rule with the limits in force on the day, ready to judge columns.

    A comparison with a limit without a version in force is cannot tell; one whose version says that there is no limit
    is not applicable.
    """
    compiler = _Compiler(day, limits, decision == "simple", [], [])
    judge_condition = compiler.condition(condition, negated=False)
    required = len(compiler.leaves)
    judge_where = compiler.condition(where, negated=False) if where is not None else None
    return CompiledRule(
        condition, where, day, decision, facts, tuple(compiler.leaves), required, tuple(compiler.judges),
        judge_condition, judge_where,
    )  # fmt: skip


def absent_plugins(measure: Measure) -> tuple[str, ...]:
    """The plugins that are not there and without which the measure cannot be had."""
    if isinstance(measure, VerdictOf):
        return ()
    parts = (measure.of, *measure.distinct) if isinstance(measure, Aggregate) else ()
    inner = [name for part in parts if part is not None for name in part.absent]
    return tuple(dict.fromkeys([*measure.absent, *inner]))


@frozen
class _Compiler:
    day: date
    limits: Mapping[str, Limit]
    simple: bool
    leaves: list[LeafInForce]
    judges: list[Judge]

    def condition(self, condition: Condition, negated: bool) -> Judge:
        if isinstance(condition, Leaf):
            return self._leaf(condition, negated)
        below = negated != (condition.operator == "none")
        return _group(condition.operator, [self.condition(child, below) for child in condition.children])

    def _leaf(self, leaf: Leaf, negated: bool) -> Judge:
        bounds = tuple(bound_used(bound, self.limits, self.day) for bound in leaf.bounds)
        numeric = isinstance(bounds[0].value, Decimal)
        used = LeafInForce(leaf, len(self.leaves), bounds, bounds[0].unit if numeric else None, negated)
        self.leaves.append(used)
        self.judges.append(_judge_of(used, self.simple))
        return self.judges[-1]


def _group(operator: str, children: Sequence[Judge]) -> Judge:
    return lambda columns_for, n: join(operator, [child(columns_for, n) for child in children])


def _judge_of(used: LeafInForce, simple: bool) -> Judge:
    silent = used.silent
    if silent is not None:
        always = bytes([silent])
        return lambda columns_for, n: without_margin(always * n, used.index)
    if used.leaf.comparison == "exists":
        return _existence(used)
    if isinstance(used.bounds[0].value, Decimal | datetime):
        return _numbers(used, simple)
    return _plain(used)


def _numbers(used: LeafInForce, simple: bool) -> Judge:
    measure, unit, index = used.leaf.measure, used.unit, used.index
    compare, room = OUTCOMES[used.leaf.comparison], MARGINS[used.leaf.comparison]
    bounds = comparable(used.bounds)

    def judge(columns_for: ColumnsFor, n: int) -> Judged:
        column = columns_for(measure, unit)
        low, high = (column.value, column.value) if simple else (column.low, column.high)
        judged = Judged(compare(low, high, bounds), room(column.value, bounds), column.uncertainty, [index] * n)
        return judged if column.all_known else _silenced(judged, column)

    return judge


def _plain(used: LeafInForce) -> Judge:
    measure, index, bounds = used.leaf.measure, used.index, comparable(used.bounds)
    compare = verdict_outcomes if isinstance(measure, VerdictOf) else plain_outcomes

    def judge(columns_for: ColumnsFor, n: int) -> Judged:
        column = columns_for(measure, None)
        judged = without_margin(compare(column.value, bounds), index)
        return judged if column.all_known else _silenced(judged, column)

    return judge


_OF_STATE = {KNOWN: None, UNTOLD: CANNOT_TELL, NOT_STATED: CANNOT_TELL, NO_MEMBER: NOT_APPLICABLE}
_STATED = bytes.maketrans(bytes([KNOWN, UNTOLD, NOT_STATED]), bytes([PASSED, CANNOT_TELL, FAILED]))
_LEFT_OUT = bytes.maketrans(bytes([KNOWN, UNTOLD, NOT_STATED]), bytes([FAILED, CANNOT_TELL, PASSED]))


def _existence(used: LeafInForce) -> Judge:
    """A fact is missing only where it is definitely not stated; one that could not be found may still exist."""
    measure, index = used.leaf.measure, used.index
    outcome_of_state = _STATED if used.bounds[0].value else _LEFT_OUT
    return lambda columns_for, n: without_margin(columns_for(measure, None).state.translate(outcome_of_state), index)


def _silenced(judged: Judged, column: Column) -> Judged:
    """The verdicts with those on unknown values replaced, and their margins taken away."""
    outcome = bytearray(judged.outcome)
    margin, uncertainty = list(judged.margin), list(judged.uncertainty)
    for index, state in enumerate(column.state):
        instead = _OF_STATE[state]
        if instead is not None:
            outcome[index] = instead
            margin[index] = uncertainty[index] = None
    return Judged(bytes(outcome), margin, uncertainty, judged.decider)
