"""Every required rule of a trip as a region of what is free."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from afield.core.facts.graph import resting_on
from afield.core.facts.subjects import Subject
from afield.core.frozen import frozen
from afield.core.packs.columns import ColumnMaker
from afield.core.packs.lapses import lapse_of
from afield.core.packs.model import Pack, Rule
from afield.core.packs.selecting import judged_for
from afield.core.placing.folding import Folding
from afield.core.placing.regions import NOWHERE, AnyRegion, Sought, both
from afield.core.rules.conditions import leaves
from afield.core.rules.limits import is_in_force

if TYPE_CHECKING:
    from afield.core.packs.trip import Trip


@frozen
class Bounded:
    """Where one required rule would pass for one subject.

    Attributes:
        rule, subject: keys.
        region: EVERYWHERE, NOWHERE, or a plugin's.
        unsearched: what was not turned round; a candidate is judged by it all the same.
        against: why it is nowhere, if something does that has nothing to do with what is free.
        depends: whether anything in the rule depends on what is free.

    """

    rule: str
    subject: str
    region: AnyRegion
    unsearched: tuple[str, ...] = ()
    against: tuple[str, ...] = ()
    depends: bool = True


def solved(trip: Trip, sought: Sought) -> list[Bounded]:
    """The regions of all required rules, rule by rule; a rule that a person confirms is not among them."""
    stale = frozenset(resting_on(sought.facts, trip.world.facts))
    return [
        found for pack in trip.packs for rule in _searched(pack) for found in _of_rule(trip, pack, rule, sought, stale)
    ]


def _searched(pack: Pack) -> Iterator[Rule]:
    """Rules that a candidate must pass; what a person confirms is not searched."""
    return (rule for rule in pack.rules if rule.severity == "required" and rule.require is not None)


def _of_rule(trip: Trip, pack: Pack, rule: Rule, sought: Sought, stale: frozenset[str]) -> Iterator[Bounded]:
    for subject in judged_for(trip.world, pack, rule.for_each):
        by_day = [_on_day(trip, pack, rule, subject, sought, stale, day) for day in trip.days_for(pack)]
        told = [found for found in by_day if found is not None]
        if told:
            unsearched = tuple(dict.fromkeys(text for found in told for text in found.unsearched))
            against = tuple(dict.fromkeys(text for found in told for text in found.against))
            region = both(found.region for found in told)
            yield Bounded(rule.key, subject.key, region, unsearched, against, any(found.depends for found in told))


def _on_day(
    trip: Trip, pack: Pack, rule: Rule, subject: Subject, sought: Sought, stale: frozenset[str], day: date
) -> Bounded | None:
    if rule.require is None or not is_in_force(rule, day):
        return None
    claim = trip.subjects.get(subject.within("claim") or "")
    lapse = lapse_of(claim, pack, day) if claim is not None else None
    if lapse is not None:
        return Bounded(rule.key, subject.key, NOWHERE, (), (lapse.text,), depends=False)
    columns = ColumnMaker(trip.world, pack, [subject], {}, day)
    folding = Folding(trip.world, pack, columns, sought, stale)
    region = folding.rule(rule.require, rule.where)
    against = tuple(folding.against) if region is NOWHERE else ()
    conditions = [condition for condition in (rule.require, rule.where) if condition is not None]
    depends = any(folding.depends(leaf) for condition in conditions for leaf in leaves(condition))
    return Bounded(rule.key, subject.key, region, tuple(folding.unsearched), against, depends)
