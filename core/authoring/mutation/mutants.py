"""A changed version of a pack, and all of them for one pack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from afield.core.documents import Place
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.model import Pack, Rule
from afield.core.rules.conditions import Condition, limits_asked, verdicts_asked
from afield.core.rules.limits import Limit


@frozen
class Mutant:
    """A pack with one change.

    Attributes:
        kind: what is changed: "rule", "limit" or "fact" (of the program).
        name: its id or name.
        change: in words; no other change of it is called so.
        place: where that is written.
        pack: the pack as changed; its documents are those of the pack as written.
        rules: ids of the rules whose verdicts could come out otherwise.

    """

    kind: str
    name: str
    change: str
    place: Place
    pack: Pack
    rules: tuple[str, ...]

    @property
    def title(self) -> str:
        """Which change of what."""
        return f"{self.kind} {self.name}: {self.change}"


def mutants_of(pack: Pack, registry: Registry) -> list[Mutant]:
    """Every systematic change of what the pack writes itself, in the order of its files.

    What it takes over from a pack that it extends is left alone: that pack's own cases try it.
    """
    from afield.core.authoring.mutation.fact_changes import fact_mutants
    from afield.core.authoring.mutation.limit_changes import limit_mutants
    from afield.core.authoring.mutation.rule_changes import rule_mutants

    found = [*rule_mutants(pack), *limit_mutants(pack), *fact_mutants(pack, registry)]
    changed = [mutant for mutant in found if _meaning(mutant.pack) != _meaning(pack)]
    return list({(mutant.kind, mutant.name, mutant.change): mutant for mutant in changed}.values())


def _meaning(pack: Pack) -> tuple[object, ...]:
    return pack.rules, pack.limits, pack.facts


def with_rule(pack: Pack, changed: Rule) -> Pack:
    """The pack with the rule in place of that of its id."""
    return replace(pack, rules=tuple(changed if rule.id == changed.id else rule for rule in pack.rules))


def with_limit(pack: Pack, changed: Limit) -> Pack:
    """The pack with the limit in place of that of its name."""
    return replace(pack, limits={**pack.limits, changed.name: changed})


def conditions_of(rule: Rule) -> list[Condition]:
    """The rule's conditions: what it applies to, and what it requires."""
    return [condition for condition in (rule.where, rule.require) if condition is not None]


def limits_of(rule: Rule) -> list[str]:
    """Names of the limits that the rule compares with, each once."""
    return list(dict.fromkeys(name for condition in conditions_of(rule) for name in limits_asked(condition)))


def reached(pack: Pack, changed: Iterable[str]) -> tuple[str, ...]:
    """The changed rules, and those that ask for their verdicts, for the verdicts of these, and so on."""
    found = set(changed)
    while more := {rule.id for rule in pack.rules if rule.id not in found and found & set(_asked(rule))}:
        found |= more
    return tuple(rule.id for rule in pack.rules if rule.id in found)


def _asked(rule: Rule) -> Iterator[str]:
    for condition in conditions_of(rule):
        yield from verdicts_asked(condition)
