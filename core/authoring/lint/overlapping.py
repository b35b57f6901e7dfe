"""Rules that judge the same fact of the same subjects at once, and demand the opposite or the same."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import combinations

from afield.core.authoring.lint.bench import LintBench
from afield.core.authoring.lint.days import days_swept
from afield.core.authoring.lint.demands import demands_of
from afield.core.authoring.lint.findings import Finding, finding
from afield.core.packs.model import Rule
from afield.core.rules.conditions import to_json, verdicts_asked
from afield.core.rules.limits import is_in_force


def overlap_findings(bench: LintBench) -> Iterator[Finding]:
    """A finding for every pair of rules that contradict or repeat each other on some day, at the later name."""
    days = days_swept(bench)
    rules = sorted((rule for rule in bench.pack.rules if rule.require is not None), key=lambda rule: rule.id)
    for one, other in combinations(rules, 2):
        written_here = bench.pack.writes(one) or bench.pack.writes(other)
        if written_here and one.for_each == other.for_each and not _name_each_other(one, other):
            yield from _pair(one, other, days, bench)


def _name_each_other(one: Rule, other: Rule) -> bool:
    return _names(one, other) or _names(other, one)


def _names(rule: Rule, other: Rule) -> bool:
    """Whether the rule asks for the other's verdict, or names it in its reasons."""
    asked = [name for condition in (rule.require, rule.where) if condition for name in verdicts_asked(condition)]
    said = " ".join([rule.why, *rule.assumes]).split()
    return other.id in asked or other.id in [word.strip(".,;:()`\"'") for word in said]


def _pair(one: Rule, other: Rule, days: list[date], bench: LintBench) -> Iterator[Finding]:
    known = bench.pack.limits, bench.registry.facts
    for day in days:
        if not (is_in_force(one, day) and is_in_force(other, day)):
            continue
        # What `where` asks may keep the two from ever applying to one subject.
        if demands_of(one.where, day, *known).excludes(demands_of(other.where, day, *known)):
            continue
        first, second = demands_of(one.require, day, *known), demands_of(other.require, day, *known)
        against = first.excludes(second)
        if against:
            yield _contradiction(one, other, against[0], day, bench)
            return
        if _one_covers_the_other(one, other) and (_same_words(one, other) or (first.whole and first == second)):
            yield _repetition(one, other, day, bench)
            return


def _one_covers_the_other(one: Rule, other: Rule) -> bool:
    """Whether one of them applies wherever the other does."""
    wheres = [to_json(rule.where) if rule.where is not None else None for rule in (one, other)]
    return None in wheres or wheres[0] == wheres[1]


def _same_words(one: Rule, other: Rule) -> bool:
    assert one.require is not None and other.require is not None
    return to_json(one.require) == to_json(other.require)


def _contradiction(one: Rule, other: Rule, fact: str, day: date, bench: LintBench) -> Finding:
    what = f"the rules {one.id} and {other.id} cannot both be passed: what they demand of {fact} excludes each other"
    advice = f"It is so on {day}. Let `where` keep them apart, correct one, or let one name the other in its `why`."
    return _at(one, other, "rules-contradict", what, advice, bench)


def _repetition(one: Rule, other: Rule, day: date, bench: LintBench) -> Finding:
    what = f"the rules {one.id} and {other.id} demand the same"
    advice = f"It is so on {day}. Keep one of the two, or let one name the other in its `why`."
    return _at(one, other, "rules-repeat", what, advice, bench)


def _at(one: Rule, other: Rule, code: str, what: str, advice: str, bench: LintBench) -> Finding:
    rule = other if bench.pack.writes(other) else one
    return finding(code, bench.rules_file, rule.path, what, advice, {"rule": rule.id})
