"""A rule for one subject on one day -> the region where it passes, or does not apply."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal

from afield.core.facts.declarations import Fact
from afield.core.facts.measured import CannotTell
from afield.core.facts.resolver import Crash
from afield.core.facts.time_limit import not_leaving
from afield.core.facts.world import World
from afield.core.language import _, marked
from afield.core.packs.columns import ColumnMaker
from afield.core.packs.model import Pack
from afield.core.placing.regions import EVERYWHERE, NOWHERE, AnyRegion, Asked, Sought, both, either
from afield.core.placing.resting import rests_on_any
from afield.core.quantities import convert, to_12_digits
from afield.core.rules.bounds import BoundUsed, bound_used
from afield.core.rules.compile import compile_rule
from afield.core.rules.conditions import Condition, FactOf, Leaf, VerdictOf, facts_asked
from afield.core.rules.outcomes import FAILED, NOT_APPLICABLE, PASSED

ENDS = {"between": ("at_least", "at_most"), "is": ("at_least", "at_most")}
"""Comparisons that are two."""
OPPOSITE = {"at_most": "above", "at_least": "below", "below": "at_least", "above": "at_most"}
AGGREGATES = {
    "count": marked("count of {kind}"),
    "sum": marked("sum of {kind}"),
    "least": marked("least of {kind}"),
    "greatest": marked("greatest of {kind}"),
}
TOWARDS_LESS = ("at_most", "below")


@dataclass
class Folding:
    """Folds conditions for one subject (the only row of `columns`) on one day.

    Attributes:
        stale: names of the facts that depend on what is free.
        unsearched: what could not be turned round, or told, in words; it stands for everywhere.
        against: what keeps a rule from passing wherever one stands, in words.
        otherwise: what stands for a comparison that is not searched: everywhere in `require`, where the forward
            judgement has the last word; nowhere in `where`, from which a doubt exempts nobody.

    """

    world: World
    pack: Pack
    columns: ColumnMaker
    sought: Sought
    stale: frozenset[str]
    unsearched: list[str] = field(default_factory=list)
    against: list[str] = field(default_factory=list)
    otherwise: AnyRegion = EVERYWHERE

    def rule(self, require: Condition, where: Condition | None) -> AnyRegion:
        """Where the rule passes or does not apply: not `where`, or `require`."""
        exempt = NOWHERE if where is None else self.exempt(where)
        if exempt is EVERYWHERE:
            return EVERYWHERE
        passing = self.condition(require, negated=False)
        return either([exempt, EVERYWHERE if passing is None else passing])

    def exempt(self, where: Condition) -> AnyRegion:
        """Where the rule does not apply."""
        self.otherwise = NOWHERE
        region = self.condition(where, negated=True)
        self.otherwise = EVERYWHERE
        return NOWHERE if region is None else region

    def condition(self, condition: Condition, negated: bool) -> AnyRegion | None:
        """Where the condition holds, or does not; None where it is not applicable."""
        if isinstance(condition, Leaf):
            return self.leaf(condition, negated)
        inner = negated != (condition.operator == "none")
        regions = [self.condition(child, inner) for child in condition.children]
        told = [region for region in regions if region is not None]
        if not told:
            return None
        # Not (a or b) is (not a) and (not b): `any` and `none` change places with `all` as the negation moves inward.
        joins_all = (condition.operator == "any") == negated
        return both(told) if joins_all else either(told)

    def leaf(self, leaf: Leaf, negated: bool) -> AnyRegion | None:
        """One comparison: by the fact's inverse if it depends on what is free, else as it is judged."""
        if not self.depends(leaf):
            return self.judged(leaf, negated)
        declared = self.fact_of(leaf)
        bounds = [bound_used(bound, self.pack.limits, self.columns.day) for bound in leaf.bounds]
        if any(bound.version is not None and bound.value is None for bound in bounds):
            return None
        if declared is None or not all(isinstance(bound.value, Decimal) for bound in bounds):
            return self.not_searched(leaf, _("it cannot be turned round"))
        asked = self.asked(leaf.comparison, bounds, declared, negated)
        if not asked:
            why = _("{comparison} cannot be turned round").format(comparison=leaf.comparison)
            return self.not_searched(leaf, why)
        join = either if negated and len(asked) > 1 else both
        return join([self.inverse(leaf, declared, each) for each in asked])

    def depends(self, leaf: Leaf) -> bool:
        """Whether the comparison can change with what is free."""
        measure = leaf.measure
        if isinstance(measure, VerdictOf):
            return True
        if not self.stale.intersection(facts_asked(leaf)):
            return False
        if not isinstance(measure, FactOf):
            return True
        return rests_on_any(self.world, self.key_of(measure.name), self.sought.facts, self.stale)

    def key_of(self, name: str) -> tuple[str, str]:
        """The subject that has the fact for the one judged, and the fact's name."""
        (subject,) = self.columns.subjects
        return subject.within(self.world.facts[name].kind) or subject.key, name

    def fact_of(self, leaf: Leaf) -> Fact | None:
        """The fact compared, if it can be turned round."""
        if not isinstance(leaf.measure, FactOf):
            return None
        declared = self.world.facts.get(leaf.measure.name)
        return declared if declared is not None and declared.inverse is not None else None

    def judged(self, leaf: Leaf, negated: bool) -> AnyRegion | None:
        """The region of a comparison that is the same wherever one stands."""
        rule = compile_rule(leaf, None, self.columns.day, self.pack.limits, self.world.facts)
        outcome = rule.judge(self.columns, 1).outcome[0]
        if outcome == NOT_APPLICABLE:
            return None
        if outcome not in (PASSED, FAILED):
            reason = rule.explain(0, self.columns).reason
            return self.not_searched(leaf, reason.text if reason else _("it cannot be told"))
        holds = (outcome == PASSED) != negated
        if not holds and self.otherwise is EVERYWHERE:
            self.against.append(words(leaf))
        return EVERYWHERE if holds else NOWHERE

    def asked(self, comparison: str, bounds: Iterable[BoundUsed], declared: Fact, negated: bool) -> list[Asked]:
        """What the inverse is asked for each end of the comparison, the room taken off or given."""
        known = [name for name in ENDS.get(comparison, (comparison,)) if name in OPPOSITE]
        figures = list(bounds)
        figures = figures * len(known) if len(figures) < len(known) else figures
        return [self.end(name, bound, declared, negated) for name, bound in zip(known, figures, strict=False)]

    def end(self, comparison: str, bound: BoundUsed, declared: Fact, negated: bool) -> Asked:
        """One end."""
        name = OPPOSITE[comparison] if negated else comparison
        limit = to_12_digits(convert(float(str(bound.value)), bound.unit, declared.unit or bound.unit))
        room = self.sought.room
        return Asked(name, limit - room if name in TOWARDS_LESS else limit + room, self.sought.sure)

    def inverse(self, leaf: Leaf, declared: Fact, asked: Asked) -> AnyRegion:
        """What the fact's inverse answers."""
        assert declared.inverse is not None
        subject = self.world.subjects[self.columns.subjects[0].within(declared.kind) or "trip"]
        try:
            region: AnyRegion = not_leaving(declared.inverse, subject, asked, self.sought.free, self.world)
        except CannotTell as error:
            return self.not_searched(leaf, error.reason.text)
        except Exception as error:
            doing = _("turning {fact} round").format(fact=declared.name)
            crash = Crash(self.owner(declared), doing, f"{type(error).__name__}: {error}")
            self.world.crashes.append(crash)
            return self.not_searched(leaf, crash.text)
        return region

    def owner(self, declared: Fact) -> str:
        """The plugin that declares the fact, for messages."""
        return self.world.owners.get(declared.name) or _("an unnamed plugin")

    def not_searched(self, leaf: Leaf, why: str) -> AnyRegion:
        """What stands for a comparison that is not searched, with a word about it."""
        self.unsearched.append(f"{words(leaf)}: {why}")
        return self.otherwise


def words(leaf: Leaf) -> str:
    """The measure in words."""
    measure = leaf.measure
    if isinstance(measure, FactOf):
        return measure.name
    if isinstance(measure, VerdictOf):
        return _("the verdict on {rule}").format(rule=measure.rule)
    return _(AGGREGATES[measure.how]).format(kind=_(measure.kind))
