"""Changes of a rule: its conditions, severity, decision and days."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from afield.core.authoring.mutation.condition_changes import Turn, turns_of, turns_of_where
from afield.core.authoring.mutation.date_changes import shifted
from afield.core.authoring.mutation.mutants import Mutant, conditions_of, reached, with_rule
from afield.core.documents import Path, Place
from afield.core.packs.model import SEVERITIES, Pack, Rule
from afield.core.rules.conditions import ORDERED, nested_leaves

Maker = Callable[..., Mutant]


def rule_mutants(pack: Pack) -> Iterator[Mutant]:
    """Every change of the pack's own rules, and of the severities that it gives to those that it takes over."""
    for rule in pack.rules:
        if pack.writes(rule):
            yield from _of_rule(rule, partial(_mutant, pack, rule))
        elif rule.change is not None and rule.change.by == pack.name:
            changed = replace(rule, severity=rule.change.was, change=None)
            yield _mutant_at(pack, rule, rule.change.place, _severity_words(rule, changed), changed)


def _of_rule(rule: Rule, make: Maker) -> Iterator[Mutant]:
    if rule.require is not None:
        for turn in turns_of(rule.require):
            yield make(turn.path, _words("require", turn), replace(rule, require=turn.condition))
    if rule.where is not None:
        for turn in turns_of_where(rule.where):
            yield make(turn.path, _words("where", turn), replace(rule, where=turn.condition))
    other = SEVERITIES[(SEVERITIES.index(rule.severity) + 1) % len(SEVERITIES)]
    milder = replace(rule, severity=other)
    yield make((*rule.path, "severity"), _severity_words(rule, milder), milder)
    if any(_is_ordered(leaf.comparison) for condition in conditions_of(rule) for leaf in nested_leaves(condition)):
        decision = "simple" if rule.decision == "guarded" else "guarded"
        words = f"decision: {rule.decision} becomes {decision}"
        yield make((*rule.path, "decision"), words, replace(rule, decision=decision))
    for what, path, (moved,) in shifted((rule,)):
        yield make(path, what, moved)


def _is_ordered(comparison: str) -> bool:
    return comparison in ORDERED


def _words(part: str, turn: Turn) -> str:
    return f"{part} {turn.at}".rstrip() + f": {turn.what}"


def _severity_words(rule: Rule, changed: Rule) -> str:
    return f"severity: {rule.severity} becomes {changed.severity}"


def _mutant(pack: Pack, rule: Rule, path: Path, change: str, changed: Rule) -> Mutant:
    return _mutant_at(pack, rule, pack.documents["rules"].place(path), change, changed)


def _mutant_at(pack: Pack, rule: Rule, place: Place, change: str, changed: Rule) -> Mutant:
    return Mutant("rule", rule.id, change, place, with_rule(pack, changed), reached(pack, [rule.id]))
