"""Judges a trip by several packs, whose rules may ask for each other's verdicts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from graphlib import TopologicalSorter

from afield.core.documents import InputError, Problem
from afield.core.facts.graph import first_cycle
from afield.core.facts.measured import Reason
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.language import _
from afield.core.packs.asking import asked_by_rule, asked_elsewhere
from afield.core.packs.fences import gathers_claims, leak
from afield.core.packs.judging import Bench, PackJudge
from afield.core.packs.model import Pack, Rule
from afield.core.packs.outlines import RuleElsewhere
from afield.core.packs.rings import ring_words
from afield.core.packs.verdicts import Verdict
from afield.core.rules.complaint import meant
from afield.core.rules.conditions import to_json


def verdicts_together(packs: Sequence[Pack], bench: Bench) -> list[Verdict]:
    """The verdicts of all the packs, pack by pack, rule by rule in their written order.

    A rule that asks for another pack's verdict is judged after that. A pack that is not there is no error: its verdict
    cannot be told.
    """
    together = Together(packs)
    judges = {pack.id: PackJudge(pack, bench) for pack in packs}
    found: dict[str, list[Verdict]] = {}
    for key in together.order():
        pack, rule = together.rules[key]
        for name in asked_elsewhere(rule):
            judges[pack.id].hear(name, _told(together.meant(name), judges))
        found[key] = judges[pack.id].rule(rule)
    return [verdict for pack in packs for rule in pack.rules for verdict in found[rule.key]]


def _told(meant_by: Rule | Reason, judges: Mapping[str, PackJudge]) -> Reason | tuple[Rule, PackJudge]:
    return meant_by if isinstance(meant_by, Reason) else (meant_by, judges[meant_by.pack])


@frozen(slots=False)
class Together:
    """Packs that judge one trip."""

    packs: Sequence[Pack]

    @cached_property
    def rules(self) -> dict[str, tuple[Pack, Rule]]:
        """Every rule by its key, with its pack."""
        return {rule.key: (pack, rule) for pack in self.packs for rule in pack.rules}

    def meant(self, name: str) -> Rule | Reason:
        """The rule that "pack/rule" means on this trip, or why none is meant.

        A pack that extends the named one stands for it.
        """
        pack_id, rule_id = name.partition("/")[::2]
        standing = [pack for pack in self.packs if pack.id == pack_id] or [
            pack for pack in self.packs if pack_id in [each.id for each in pack.lineage()]
        ]
        if not standing:
            told = _("the pack {pack}, whose verdict {rule} is asked, judges nothing on this trip")
            return Reason("pack absent", told.format(pack=pack_id, rule=name), pack_id)
        if len(standing) > 1:
            listed = _(" and ").join(pack.id for pack in standing)
            told = _("{packs} both extend {pack}: whose verdict is meant by {rule} cannot be told")
            return Reason("cannot be computed", told.format(packs=listed, pack=pack_id, rule=name))
        found = self.rules.get(f"{standing[0].id}/{rule_id}")
        absent = _("{pack} has no rule {rule}").format(pack=standing[0].name, rule=rule_id)
        return found[1] if found else Reason("cannot be computed", absent)

    @cached_property
    def edges(self) -> dict[str, list[str]]:
        """Rule -> the rules whose verdicts it asks for, by their keys, those that are there."""
        return {key: list(self._asked(pack, rule)) for key, (pack, rule) in self.rules.items()}

    def _asked(self, pack: Pack, rule: Rule) -> Iterator[str]:
        for name in asked_by_rule(rule):
            found = self.meant(name) if "/" in name else f"{pack.id}/{name}"
            if not isinstance(found, Reason):
                yield found if isinstance(found, str) else found.key

    def order(self) -> list[str]:
        """The rules so ordered that each follows those whose verdicts it asks for."""
        return [key for key in TopologicalSorter(self.edges).static_order() if key in self.rules]


def refuse_unjudgeable(packs: Sequence[Pack], registry: Registry) -> None:
    """Refuse packs that name rules of each other which are not there, see what they must not, or wait for each other.

    Each pack was checked when it was read, against the others that lie beside it; those that judge the trip may be in
    other versions, or extend them.

    Raises:
        InputError: with the place in the pack that asks.

    """
    together = Together(packs)
    problems = [*_missing(together), *_leaks(together, registry), *_ring(together)]
    if problems:
        raise InputError(problems)


def _missing(together: Together) -> Iterator[Problem]:
    for pack, rule, name, named in _named(together):
        known = [one.id for one in named.rules]
        if isinstance(together.meant(name), Reason) and name.partition("/")[2] not in known:
            what = f"{rule.key} asks for the verdict of {name}, and {named.name} has no such rule"
            advice = meant(name, [f"{named.id}/{one}" for one in known], f"rules of {named.id}")
            yield _at(pack, rule, what, advice)


def _named(together: Together) -> Iterator[tuple[Pack, Rule, str, Pack]]:
    """Pack, rule, the name of a rule elsewhere whose verdict it asks for, and the pack of that one, if it is there."""
    there = {each.id: each for pack in together.packs for each in pack.lineage()}
    for pack, rule in together.rules.values():
        for name in asked_elsewhere(rule):
            if name.partition("/")[0] in there:
                yield pack, rule, name, there[name.partition("/")[0]]


def _leaks(together: Together, registry: Registry) -> Iterator[Problem]:
    def asked(one: RuleElsewhere) -> list[RuleElsewhere]:
        return [_outlined(*together.rules[key], registry) for key in together.edges[one.key] if key in together.rules]

    for pack, rule, name, _named_pack in _named(together):
        found = together.meant(name)
        if pack.judges == "program" and isinstance(found, Rule):
            ids = [each.id for each in pack.lineage()]
            seen = leak(name, _outlined(*together.rules[found.key], registry), ids, asked)
            if seen is not None:
                yield _at(pack, rule, *seen)


def _outlined(pack: Pack, rule: Rule, registry: Registry) -> RuleElsewhere:
    conditions = [to_json(condition) for condition in (rule.where, rule.require) if condition is not None]
    gathers = gathers_claims(conditions, registry)
    return RuleElsewhere(pack.id, rule.id, rule.title, rule.for_each, pack.judges, rule.place, gathers_claims=gathers)


def _ring(together: Together) -> Iterator[Problem]:
    ring = first_cycle(together.edges)
    if ring is not None:
        pack, rule = together.rules[ring[0]]
        yield _at(pack, rule, *ring_words(ring, {key: str(together.rules[key][1].place) for key in ring}))


def _at(pack: Pack, rule: Rule, what: str, advice: str) -> Problem:
    document = pack.writer(rule.by).documents["rules"]
    return Problem(rule.place, what, advice, document.line(rule.place))
