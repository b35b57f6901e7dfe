"""Columns of facts, verdicts and aggregates for the subjects that one rule is judged for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.facts.subjects import Subject, of_kind, share_ancestors
from afield.core.facts.world import World
from afield.core.packs.model import Pack
from afield.core.packs.selecting import visible
from afield.core.rules.aggregates import Gathered, Member, aggregate_column, aggregate_interval
from afield.core.rules.columns import Column, column_of
from afield.core.rules.compile import CompiledRule, compile_rule
from afield.core.rules.conditions import Aggregate, FactOf, Measure, VerdictOf
from afield.core.rules.outcomes import PASSED, WORDS

Outcomes = Mapping[tuple[str, str], tuple[int, Reason | None]]
"""(rule id, subject key) -> outcome code and reason, of the rules of the same pack that were judged before."""

NOT_ASKED = unknown(Reason("applicability", "the rule does not apply, so it was not asked"))


@dataclass
class ColumnMaker:
    """Makes the columns that a compiled rule asks for.

    Attributes:
        subjects: the rows.
        asked: which rows are worth asking; the facts of the others are left alone.
        outcomes: verdicts of rules judged before.
        day: whose limits are in force inside an aggregate's `where`.

    """

    world: World
    pack: Pack
    subjects: Sequence[Subject]
    outcomes: Outcomes
    day: date
    asked: Sequence[bool] | None = None
    _made: dict[tuple[Measure, str | None], Column] = field(default_factory=dict)

    def __call__(self, measure: Measure, unit: str | None) -> Column:
        """The measure's column in the unit."""
        key = (measure, unit)
        if key not in self._made:
            self._made[key] = self._column(measure, unit)
        return self._made[key]

    def _column(self, measure: Measure, unit: str | None) -> Column:
        if isinstance(measure, VerdictOf):
            return column_of([self._verdict(measure.rule, subject) for subject in self.subjects], None, "text")
        if isinstance(measure, Aggregate):
            return aggregate_column([self._gathered(measure, subject) for subject in self.subjects], unit)
        return column_of(self._records(measure), unit, self.world.facts[measure.name].type)

    def _records(self, measure: FactOf) -> list[Measured]:
        asked = self.asked or [True] * len(self.subjects)
        return [
            self.record(measure.name, subject) if wanted else NOT_ASKED
            for subject, wanted in zip(self.subjects, asked, strict=True)
        ]

    def record(self, fact: str, subject: Subject) -> Measured:
        """The fact of the subject, or of the one around it that has such a fact."""
        holder = subject.within(self.world.facts[fact].kind)
        if holder is None:
            text = f"{subject.key} lies within no {self.world.facts[fact].kind}"
            return unknown(Reason("kind absent", text, fact, subject.key))
        return self.world.value(holder, fact)

    def _verdict(self, rule: str, subject: Subject) -> Measured:
        for key in (subject.key, *subject.parents.values()):
            if (rule, key) in self.outcomes:
                return Measured(WORDS[self.outcomes[rule, key][0]], rank="computed", source=f"verdict on {rule}")
        return unknown(
            Reason("cannot be computed", f"there is no verdict of {rule} on {subject.key}", rule, subject.key)
        )

    def _gathered(self, measure: Aggregate, subject: Subject) -> Gathered:
        failed = self.world.failed_kinds.get(measure.kind)
        if failed is not None:
            # Members that could not be had are not the same as no members.
            return Gathered(unknown(failed))
        seen = of_kind(visible(self.world.subjects.values(), self.pack), measure.kind)
        members = [other for other in seen if share_ancestors(subject, other)]
        inner = ColumnMaker(self.world, self.pack, members, self.outcomes, self.day)
        return aggregate_interval(measure.how, inner.members(measure), distinct=bool(measure.distinct))

    def members(self, measure: Aggregate) -> list[Member]:
        """Every row as a member of the aggregate."""
        outcomes, reasons = self._counting(measure)
        return [
            Member(
                outcomes[index], self.record(measure.of.name, subject) if measure.of else None,
                tuple(self.record(fact.name, subject) for fact in measure.distinct), subject.key, reasons[index],
            )
            for index, subject in enumerate(self.subjects)
        ]  # fmt: skip

    def _counting(self, measure: Aggregate) -> tuple[bytes, list[Reason | None]]:
        count = len(self.subjects)
        if measure.where is None or not count:
            return bytes([PASSED] * count), [None] * count
        rule = self._compiled(measure)
        judged = rule.judge(self, count)
        return judged.outcome, [rule.explain(index, self).reason for index in range(count)]

    def _compiled(self, measure: Aggregate) -> CompiledRule:
        assert measure.where is not None
        return compile_rule(measure.where, None, self.day, self.pack.limits, self.world.facts)
