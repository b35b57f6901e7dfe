"""Columns of facts, verdicts and aggregates for the subjects that one rule is judged for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.facts.subjects import Subject, of_kind, share_ancestors
from afield.core.facts.world import World
from afield.core.frozen import frozen
from afield.core.language import _
from afield.core.packs.model import Pack
from afield.core.packs.selecting import visible
from afield.core.rules.aggregates import Gathered, Member, aggregate_column, aggregate_interval
from afield.core.rules.columns import Column, column_of
from afield.core.rules.compile import CompiledRule, compile_rule
from afield.core.rules.conditions import Aggregate, FactOf, Measure, VerdictOf, verdicts_asked
from afield.core.rules.outcomes import CANNOT_TELL, NOT_APPLICABLE, PASSED, WORDS

Outcomes = Mapping[tuple[str, str], tuple[int, Reason | None]]
"""(rule id, subject key) -> outcome code and reason, of the rules of the same pack that were judged before."""


@frozen
class Heard:
    """What is known of a rule of another pack whose verdicts are asked for.

    Attributes:
        key: by which its verdicts go; the pack that stands for the named one has them.
        pack: which that is; None where there is none.
        told: why there is none.

    """

    key: str = ""
    pack: Pack | None = None
    told: Reason | None = None


OF_ITS_OWN = ("not stated", "applicability", "no value in force", "versions disagree")
"""Codes of reasons that say something of the rule itself; for one that asks its verdict they are a missing input."""


@dataclass
class ColumnMaker:
    """Makes the columns that a compiled rule asks for.

    Attributes:
        subjects: the rows.
        asked: which rows are worth asking; the facts of the others are left alone.
        outcomes: verdicts of rules judged before, those of other packs as "pack/rule".
        day: whose limits are in force inside an aggregate's `where`.
        heard: which rules of other packs these are.

    """

    world: World
    pack: Pack
    subjects: Sequence[Subject]
    outcomes: Outcomes
    day: date
    heard: Mapping[str, Heard] = field(default_factory=dict)
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
            records = [self._verdict(measure.rule, subject) for subject in self.subjects]
            doubts = [self._doubt(measure.rule, subject) for subject in self.subjects] if "/" in measure.rule else ()
            return column_of(records, None, "text", doubts)
        if isinstance(measure, Aggregate):
            return aggregate_column([self._gathered(measure, subject) for subject in self.subjects], unit)
        return column_of(self._records(measure), unit, self.world.facts[measure.name].type)

    def _records(self, measure: FactOf) -> list[Measured]:
        asked = self.asked or [True] * len(self.subjects)
        not_asked = unknown(Reason("applicability", _("the rule does not apply, so it was not asked")))
        return [
            self.record(measure.name, subject) if wanted else not_asked
            for subject, wanted in zip(self.subjects, asked, strict=True)
        ]

    def record(self, fact: str, subject: Subject) -> Measured:
        """The fact of the subject, or of the one around it that has such a fact."""
        holder = subject.within(self.world.facts[fact].kind)
        if holder is None:
            told = _("{subject} lies within no {kind}")
            text = told.format(subject=subject.key, kind=_(self.world.facts[fact].kind))
            return unknown(Reason("kind absent", text, fact, subject.key))
        return self.world.value(holder, fact)

    def _verdict(self, rule: str, subject: Subject) -> Measured:
        holder, heard = self._holder(rule, subject), self.heard.get(rule)
        if holder is not None:
            told = {"rule": heard.key if heard else self._key(rule), "subject": holder}
            word = WORDS[self.outcomes[rule, holder][0]]
            return Measured(word, rank="computed", source=f"verdict on {rule}", detail=told)
        if heard is not None and heard.told is not None:
            return unknown(heard.told)
        if heard is not None and heard.pack is not None and subject not in visible([subject], heard.pack):
            # A program's rules do not judge what belongs to another program.
            return Measured(WORDS[NOT_APPLICABLE], rank="computed", source=f"verdict on {rule}")
        text = _("there is no verdict of {rule} on {subject}").format(rule=rule, subject=subject.key)
        return unknown(Reason("cannot be computed", text, rule, subject.key))

    def _holder(self, rule: str, subject: Subject) -> str | None:
        """The subject, or the one around it, on which the rule gave a verdict."""
        return next((key for key in (subject.key, *subject.parents.values()) if (rule, key) in self.outcomes), None)

    def _key(self, rule: str) -> str:
        return rule if "/" in rule else f"{self.pack.id}/{rule}"

    def _doubt(self, rule: str, subject: Subject) -> Reason | None:
        """Why a verdict of another pack cannot be told, with what would settle it."""
        holder = self._holder(rule, subject)
        outcome, reason = self.outcomes[rule, holder] if holder is not None else (PASSED, None)
        if outcome != CANNOT_TELL or reason is None:
            return None
        code = "missing input" if reason.code in OF_ITS_OWN else reason.code
        text = _("the verdict on {rule} cannot be told: {why}").format(rule=rule, why=reason.text)
        return replace(reason, code=code, text=text)

    def _gathered(self, measure: Aggregate, subject: Subject) -> Gathered:
        failed = self.world.failed_kinds.get(measure.kind)
        if failed is not None:
            # Members that could not be had are not the same as no members.
            return Gathered(unknown(failed))
        seen = of_kind(visible(self.world.subjects.values(), self.pack), measure.kind)
        members = [other for other in seen if share_ancestors(subject, other)]
        inner = ColumnMaker(self.world, self.pack, members, self.outcomes, self.day, self.heard)
        gathered = aggregate_interval(measure.how, inner.members(measure), distinct=bool(measure.distinct))
        return self._with_verdicts(gathered, measure)

    def _with_verdicts(self, gathered: Gathered, measure: Aggregate) -> Gathered:
        """With the rules whose verdicts say which members count, for the reader who asks why."""
        names = verdicts_asked(measure.where) if measure.where is not None else []
        if not names or gathered.record is None:
            return gathered
        keys = [self.heard[name].key if name in self.heard else self._key(name) for name in names]
        return replace(gathered, record=replace(gathered.record, detail={"verdicts": [key for key in keys if key]}))

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
