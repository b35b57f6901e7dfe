"""What the checks look at: the pack, what plugins declare, the day, and how the pack's cases came out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from functools import cached_property

from afield.core.documents import Document
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.cases import Case, CaseResult, read_cases
from afield.core.packs.model import Pack, Rule
from afield.core.packs.verdicts import Verdict
from afield.core.rules.conditions import Condition, facts_asked, limits_asked


@frozen
class Trial:
    """A case with how it came out; no verdict where it reaches no rule."""

    result: CaseResult
    verdict: Verdict | None
    case: Case


@frozen(slots=False)
class LintBench:
    """A pack on the bench.

    Attributes:
        pack: with what it takes over from the pack that it extends.
        registry: what plugins declare.
        now: the day from which ages and endings are counted.

    """

    pack: Pack
    registry: Registry
    now: date

    @property
    def rules_file(self) -> Document:
        """The pack's own rules.yaml."""
        return self.pack.documents["rules"]

    @cached_property
    def own_rules(self) -> list[Rule]:
        """The rules that the pack writes itself."""
        return [rule for rule in self.pack.rules if self.pack.writes(rule)]

    @cached_property
    def own_limits(self) -> list[str]:
        """The limits that the pack writes itself."""
        return [name for name, origin in self.pack.origins.items() if origin.by == self.pack.name]

    @cached_property
    def cases(self) -> list[Case]:
        """The pack's cases in written order."""
        return read_cases(self.pack, self.registry)

    @cached_property
    def trials(self) -> list[Trial]:
        """How the pack's cases came out, in written order; without those that need a plugin that is not there."""
        runnable = [case for case in self.cases if not self.pack.absent or self._can_run(case)]
        return [Trial(case.result(), case.verdict(self.pack), case) for case in runnable]

    def _can_run(self, case: Case) -> bool:
        subjects = case.data["subjects"]
        facts = [name for entry in subjects for name in entry.get("facts", {})]
        return self._declares(facts, [entry["kind"] for entry in subjects])

    def can_be_tried(self, rule: Rule) -> bool:
        """Whether installed plugins offer all that the rule asks for."""
        asked = [name for _, condition in conditions_of(rule) for name in facts_asked(condition)]
        return self._declares(asked, [rule.for_each])

    def _declares(self, facts: Iterable[str], kinds: Iterable[str]) -> bool:
        return all(name in self.registry.facts for name in facts) and all(kind in self.registry.kinds for kind in kinds)

    @cached_property
    def right(self) -> list[Trial]:
        """The cases that came out as they expect; others prove nothing."""
        return [trial for trial in self.trials if trial.result.right and trial.verdict is not None]

    @cached_property
    def comparing(self) -> list[Verdict]:
        """The verdicts of the right cases, those on checklist items with what `where` compares.

        The verdict of a checklist item carries no comparisons, so that its `where` is judged as a condition here.
        """
        asked = replace(self.pack, rules=tuple(_as_judged(rule) for rule in self.pack.rules))
        found = [trial.case.verdict(asked) if _is_item(trial) else trial.verdict for trial in self.right]
        return [verdict for verdict in found if verdict is not None]


def _is_item(trial: Trial) -> bool:
    return trial.verdict is not None and trial.verdict.rule.confirm is not None


def _as_judged(rule: Rule) -> Rule:
    if rule.confirm is None or rule.where is None:
        return rule
    return replace(rule, require=rule.where, where=None, confirm=None)


def conditions_of(rule: Rule) -> Iterator[tuple[str, Condition]]:
    """The rule's conditions by the keys under which they are written, in the order in which a verdict shows them."""
    for key, condition in (("require", rule.require), ("where", rule.where)):
        if condition is not None:
            yield key, condition


def limits_of(rule: Rule) -> list[str]:
    """The limits that a rule compares with, each once."""
    return list(dict.fromkeys(name for _, condition in conditions_of(rule) for name in limits_asked(condition)))
