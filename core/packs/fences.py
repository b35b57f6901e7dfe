"""A program's rules see its own claims only, also by way of the verdicts of other packs."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from afield.core.facts.graph import kinds_around
from afield.core.host.registry import Registry
from afield.core.rules.conditions import AGGREGATES

if TYPE_CHECKING:
    from afield.core.packs.outlines import RuleElsewhere

Words = tuple[str, str]


def gathers_claims(data: Any, registry: Registry) -> bool:
    """Whether conditions as written count claims, or what lies within them, or ask a fact that does."""
    if isinstance(data, list):
        return any(gathers_claims(item, registry) for item in data)
    if not isinstance(data, dict):
        return False
    kinds = [data[how] for how in AGGREGATES if how in data]
    facts = [registry.facts.get(data[key]) for key in ("fact", "of") if isinstance(data.get(key), str)]
    over = any("claim" in kinds_around(kind, registry.kinds) for kind in kinds if kind in registry.kinds)
    asked = any(fact.gathers_claims for fact in facts if fact is not None)
    return over or asked or any(gathers_claims(value, registry) for value in data.values())


def leak(
    name: str, rule: RuleElsewhere, ids: Iterable[str], asked: Callable[[RuleElsewhere], list[RuleElsewhere]]
) -> Words | None:
    """What is wrong with a program's rule that asks for a verdict, and what to do; None where it sees its own alone.

    Args:
        name: of the rule whose verdict is asked, as written.
        rule: what it means.
        ids: of the program's pack, and of those that it extends.
        asked: the rules whose verdicts a rule asks for in turn.

    """
    own = set(ids)
    if rule.judges == "program" and rule.pack not in own:
        advice = "A program's rules see its own claims only: name a rule of this pack or of a trip pack."
        return f"{name} is a rule of another program", advice
    waiting, seen = [rule], {rule.key}
    while waiting:
        one = waiting.pop()
        if one.gathers_claims or (one.judges == "program" and one.pack not in own):
            return _by_way(name, one)
        more = [other for other in asked(one) if other.key not in seen]
        seen.update(other.key for other in more)
        waiting += more
    return None


def _by_way(name: str, found: RuleElsewhere) -> Words:
    way = "" if found.key == name else f" by way of {found.key}"
    what = "gathers claims of all programs" if found.gathers_claims else "sees another program"
    advice = "A program's rules judge its own claims; move the rule to a pack that judges the trip."
    return f"{name} {what}{way}", advice
