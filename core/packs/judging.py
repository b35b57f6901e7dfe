"""Judges subjects by packs: exactly one verdict for every rule and subject, whatever fails on the way."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from afield.core.facts.measured import Reason
from afield.core.facts.subjects import Subject
from afield.core.facts.world import World
from afield.core.host.registry import Registry
from afield.core.language import _, marked
from afield.core.packs.asking import ask_elsewhere
from afield.core.packs.columns import ColumnMaker, Heard
from afield.core.packs.lapses import lapses
from afield.core.packs.model import Pack, Rule
from afield.core.packs.selecting import days_of, judged_for
from afield.core.packs.utc_days import own_utc_days
from afield.core.packs.verdicts import CANNOT_TELL, NOT_APPLICABLE, PASSED, Verdict
from afield.core.rules.aggregates import judging_order
from afield.core.rules.compile import CompiledRule, compile_rule
from afield.core.rules.conditions import Condition, verdicts_asked
from afield.core.rules.judge import Judged, agree, disagreement, narrowed, without_margin
from afield.core.rules.limits import is_in_force


@dataclass
class Bench:
    """What is judged with: the World, what plugins declare, and the plan's confirmations.

    Attributes:
        days: under whose rules each pack judges, by its id; those of a pack that is not named are all that the plan's
            date may mean.
        told: outcomes that are given and not judged, by (rule id, subject key); cases give them.

    """

    world: World
    registry: Registry
    day: date
    confirmed: set[str] = field(default_factory=set)
    days: Mapping[str, Sequence[date]] = field(default_factory=dict)
    told: Mapping[tuple[str, str], tuple[int, Reason | None]] = field(default_factory=dict)


def verdicts_of_all(packs: Sequence[Pack], bench: Bench) -> list[Verdict]:
    """The verdicts of all the packs that judge a trip, pack by pack."""
    if not ask_elsewhere(packs):
        return [verdict for pack in packs for verdict in verdicts_of(pack, bench)]
    from afield.core.packs.together import verdicts_together

    return verdicts_together(packs, bench)


def verdicts_of(pack: Pack, bench: Bench, rules: Iterable[str] | None = None) -> list[Verdict]:
    """The verdicts of a pack, rule by rule in their written order.

    Args:
        pack: whose rules judge.
        bench: what they judge with.
        rules: ids of the rules that are wanted; those whose verdicts they need are judged too. All if left out.

    """
    by_id = {rule.id: rule for rule in pack.rules}
    wanted = set(by_id if rules is None else rules)
    judge = PackJudge(pack, bench)
    found = {rule_id: judge.rule(by_id[rule_id]) for rule_id in _order(pack, wanted, bench)}
    return [verdict for rule in pack.rules if rule.id in wanted for verdict in found[rule.id]]


def _order(pack: Pack, wanted: set[str], bench: Bench) -> list[str]:
    """The wanted rules and those whose verdicts they need, unless these are told, each after what it needs."""
    told = {rule_id for rule_id, _ in bench.told}
    conditions = {rule.id: _conditions(rule) for rule in pack.rules}
    needed, waiting = set[str](), [name for name in conditions if name in wanted]
    while waiting:
        name = waiting.pop()
        if name not in needed:
            needed.add(name)
            asked = [rule for condition in conditions[name] for rule in verdicts_asked(condition)]
            waiting.extend(rule for rule in asked if rule in conditions and rule not in told)
    return judging_order({name: given for name, given in conditions.items() if name in needed})


def _conditions(rule: Rule) -> list[Condition]:
    return [condition for condition in (rule.require, rule.where) if condition is not None]


class PackJudge:
    """Judges by one pack, rule after rule, each after those whose verdicts it asks for."""

    def __init__(self, pack: Pack, bench: Bench) -> None:
        self.pack, self.bench = pack, bench
        self.days = list(bench.days.get(pack.id) or days_of(pack, bench.day))
        self.outcomes = dict(bench.told)
        self.heard: dict[str, Heard] = {}

    def hear(self, name: str, told: Reason | tuple[Rule, PackJudge]) -> None:
        """Take over the verdicts of a rule of another pack, under the name by which this one asks for them.

        Args:
            name: "pack/rule".
            told: the rule that it means, judged, with the judge; or why there is none.

        """
        if isinstance(told, Reason):
            self.heard[name] = Heard(told=told)
            return
        rule, judge = told
        self.heard[name] = Heard(rule.key, judge.pack)
        mine = {key: found for (rule_id, key), found in judge.outcomes.items() if rule_id == rule.id}
        self.outcomes |= {(name, key): found for key, found in mine.items()}

    def rule(self, rule: Rule) -> list[Verdict]:
        """The verdicts of one of the pack's rules."""
        found = self._verdicts(rule)
        for verdict in found:
            self.outcomes[rule.id, verdict.subject.key] = (verdict.outcome, verdict.reason)
        return found

    def _verdicts(self, rule: Rule) -> list[Verdict]:
        trip = self.bench.world.subjects["trip"]
        silence = self._no_subjects(rule)
        if silence is not None:
            return [Verdict(rule, self.pack, trip, CANNOT_TELL, self.days[0], silence)]
        subjects = judged_for(self.bench.world, self.pack, rule.for_each)
        if not subjects:
            text = _("the plan has no {kind} that it could be judged for").format(kind=_(rule.for_each))
            return [Verdict(rule, self.pack, trip, NOT_APPLICABLE, self.days[0], Reason("applicability", text))]
        return self._judged(rule, subjects)

    def _no_subjects(self, rule: Rule) -> Reason | None:
        if rule.for_each not in self.bench.registry.kinds:
            failed = self._failure(self.pack.absent)
            if failed is not None:
                return failed
            return self._kind_absent(rule.for_each)
        return self.bench.world.failed_kinds.get(rule.for_each)

    def _kind_absent(self, kind: str) -> Reason:
        absent = self.pack.absent
        told = NAMED_ABSENT if absent else UNNAMED_ABSENT
        text = _(told).format(kind=kind, plugins=_(" and ").join(absent))
        return Reason("kind absent", text, f"plugin {' and '.join(absent) or 'that declares it'}")

    def _failure(self, plugins: Iterable[str]) -> Reason | None:
        """Why something is not there, if one of the plugins failed to declare it."""
        broken = self.bench.registry.broken
        failed = [broken[name].text for name in plugins if name in broken]
        return Reason("plugin failed", "; ".join(failed), f"plugin {' and '.join(plugins)}") if failed else None

    def blamed(self, reason: Reason | None) -> Reason | None:
        """The reason, a plugin that is there but failed not called absent."""
        if reason is None or reason.code != "plugin absent":
            return reason
        return self._failure(self.pack.absent) or reason

    def _judged(self, rule: Rule, subjects: Sequence[Subject]) -> list[Verdict]:
        days = [_DayOfRule(self, rule, subjects, day) for day in self.days]
        joint = agree([day.judged for day in days])
        if _differ(days):
            joint = self._by_own_days(subjects, joint, days)
        return [self._verdict(rule, subjects, index, joint, days) for index in range(len(subjects))]

    def _by_own_days(self, subjects: Sequence[Subject], joint: Judged, days: Sequence[_DayOfRule]) -> Judged:
        """The verdicts, where the days differ: each under the days of the subject itself, if these are known."""
        told = [own_utc_days(subject, self.bench.world) for subject in subjects]
        own = {index: [at for at, day in enumerate(days) if day.day in dates] for index, dates in enumerate(told)}
        return narrowed(joint, [day.judged for day in days], {index: at for index, at in own.items() if at})

    def _verdict(
        self, rule: Rule, subjects: Sequence[Subject], index: int, joint: Judged, days: Sequence[_DayOfRule]
    ) -> Verdict:
        chosen = joint.chosen[index]
        if chosen < 0:
            told = sorted((day.day, day.judged.outcome[index]) for day in days)
            return Verdict(rule, self.pack, subjects[index], CANNOT_TELL, self.days[0], disagreement(told))
        return days[chosen].verdict(index)


NAMED_ABSENT = marked("no installed plugin declares the kind {kind}; the plugin {plugins} is not there")
UNNAMED_ABSENT = marked("no installed plugin declares the kind {kind}; the plugin that declares it is not there")


def _differ(days: Sequence[_DayOfRule]) -> bool:
    """Whether it matters under the rules of which day a subject is judged."""
    first = days[0].judged
    return any((day.judged.outcome, day.judged.margin) != (first.outcome, first.margin) for day in days[1:])


class _DayOfRule:
    """One rule on one day, for all its subjects."""

    def __init__(self, judge: PackJudge, rule: Rule, subjects: Sequence[Subject], day: date) -> None:
        self.judge, self.rule, self.subjects, self.day = judge, rule, subjects, day
        self.columns = ColumnMaker(judge.bench.world, judge.pack, subjects, judge.outcomes, day, judge.heard)
        self.in_force = is_in_force(rule, day)
        self.compiled: CompiledRule | None = None
        self.lapses = lapses(judge.bench.world, judge.pack, subjects, day)
        self.judged = self._with_lapses(self._judged())

    def _with_lapses(self, judged: Judged) -> Judged:
        """The verdicts, those cannot tell whose reference is none on this day; checklist items stay as they are."""
        if not any(self.lapses) or not self.in_force or self.rule.confirm is not None:
            return judged
        told = zip(judged.outcome, judged.margin, self.lapses, strict=True)
        rows = [(CANNOT_TELL, None) if lapse else (outcome, margin) for outcome, margin, lapse in told]
        return replace(judged, outcome=bytes(outcome for outcome, _ in rows), margin=[margin for _, margin in rows])

    def _judged(self) -> Judged:
        count = len(self.subjects)
        if not self.in_force:
            return without_margin(bytes([NOT_APPLICABLE] * count), 0)
        if self.rule.confirm is not None:
            return self._confirmations(count)
        self.compiled = self._compile(self.rule.require, self.rule.where)
        applies = self.compiled.applicability(self.columns, count)
        # What `where` asked has been answered; the condition's facts are asked only where the rule may apply.
        self.columns = replace(self.columns, asked=[outcome in (PASSED, CANNOT_TELL) for outcome in applies.outcome])
        return self.compiled.judge(self.columns, count, applies)

    def _compile(self, require: Condition | None, where: Condition | None) -> CompiledRule:
        assert require is not None
        facts, limits = self.judge.bench.world.facts, self.judge.pack.limits
        return compile_rule(require, where, self.day, limits, facts, self.rule.decision)

    def _confirmations(self, count: int) -> Judged:
        """A checklist item: its `where` says whether it applies, the plan whether it is done."""
        done = PASSED if self._is_confirmed() else CANNOT_TELL
        if self.rule.where is None:
            return without_margin(bytes([done] * count), 0)
        self.compiled = self._compile(self.rule.where, None)
        applies = self.compiled.judge(self.columns, count)
        open_or_done = bytes({0: done, 1: NOT_APPLICABLE}.get(code, code) for code in applies.outcome)
        return replace(applies, outcome=open_or_done)

    def _is_confirmed(self) -> bool:
        return self.rule.key in self.judge.bench.confirmed

    def verdict(self, index: int) -> Verdict:
        """The verdict on one subject on this day."""
        subject, outcome = self.subjects[index], self.judged.outcome[index]
        verdict = Verdict(self.rule, self.judge.pack, subject, outcome, self.day, confirmed=self._is_confirmed())
        if not self.in_force:
            text = _("the rule is not in force on {day}").format(day=self.day)
            return replace(verdict, reason=Reason("no value in force", text))
        if self.rule.confirm is not None:
            return self._confirmation(verdict, index)
        if self.lapses[index] is not None:
            return replace(verdict, reason=self.lapses[index])
        assert self.compiled is not None
        explanation = self.compiled.explain(index, self.columns)
        return replace(verdict, reason=self.judge.blamed(explanation.reason), explanation=explanation)

    def _confirmation(self, verdict: Verdict, index: int) -> Verdict:
        if verdict.outcome == PASSED:
            return verdict
        if self.compiled is None:
            return replace(verdict, reason=Reason("to be confirmed", _("to be confirmed"), self.rule.key))
        explanation = self.compiled.explain(index, self.columns)
        if verdict.outcome == NOT_APPLICABLE:
            return replace(verdict, reason=Reason("applicability", _("it does not apply to this plan")))
        if explanation.reason is not None:
            reason = replace(explanation.reason, code="applicability")
            return replace(verdict, reason=reason)
        return replace(verdict, reason=Reason("to be confirmed", _("to be confirmed"), self.rule.key))
