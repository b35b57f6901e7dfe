"""The case that tells a pack from a changed version of it: looked for, written, and run on both."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from itertools import product
from typing import Any

from afield.core.authoring.mutation.mutants import Mutant
from afield.core.authoring.sampling.scenes import NO_DAY, Scenes, made_case
from afield.core.authoring.sampling.verdicts import ASPECTS, seen
from afield.core.authoring.sampling.writing import case_yaml
from afield.core.documents import check_schema, read_text
from afield.core.frozen import frozen
from afield.core.host.composition import shipped_schema
from afield.core.host.registry import Registry
from afield.core.packs.cases import Case
from afield.core.packs.dated import said_on
from afield.core.packs.loading import common_schemas
from afield.core.packs.model import Pack, Rule


@frozen
class Told:
    """What was found out about a change that no case catches.

    Attributes:
        case: YAML of a case that passes on the pack and fails on the changed one; None where none was found.
        tried: combinations of facts and days that were judged by both.
        proved: why nothing can tell the two apart; None where that is not known.

    """

    case: str | None
    tried: int = 0
    proved: str | None = None


def told_apart(mutant: Mutant, pack: Pack, registry: Registry, cases: Sequence[Case]) -> Told:
    """The case that would catch a change, or how far none was found."""
    if not mutant.rules:
        return _told_by_program(mutant, pack, registry, cases)
    tried, whole = 0, True
    for rule in mutant.rules:
        scenes = _scenes(mutant, rule, pack, registry, cases)
        found, count = _search(mutant, scenes)
        if found is not None:
            return Told(found, tried + count)
        tried, whole = tried + count, whole and scenes.is_exhaustive
    return Told(None, tried, _all_alike(tried) if whole else None)


def _all_alike(tried: int) -> str:
    return f"all {tried} combinations of what its comparisons can tell apart give the same verdict"


def _scenes(mutant: Mutant, rule: str, pack: Pack, registry: Registry, cases: Sequence[Case]) -> Scenes:
    judgings = [(each, _rule_of(each, rule)) for each in (pack, mutant.pack)]
    return Scenes(pack, judgings, registry, cases)


def _rule_of(pack: Pack, name: str) -> Rule:
    return next(rule for rule in pack.rules if rule.id == name)


def _search(mutant: Mutant, scenes: Scenes) -> tuple[str | None, int]:
    """The plainest case whose outcome differs; else one whose reason, severity or margin does; and how many it took."""
    lesser: dict[str, Mapping[str, Any]] = {}
    tried = 0
    for data in scenes.tried():
        tried += 1
        case = made_case(scenes.pack, scenes.registry, data)
        before, after = seen(case, scenes.pack), seen(case, mutant.pack)
        difference = before.difference(after)
        if difference is None or before.outcome is None:
            continue
        lesser.setdefault(difference, {**data, "expect": before.expectation(difference)})
        if difference in ("outcome", "severity"):
            break
    best = next((lesser[aspect] for aspect in ASPECTS if aspect in lesser), None)
    return (_written(best, mutant, scenes.pack, scenes.registry) if best else None), tried


def _written(data: Mapping[str, Any], mutant: Mutant, pack: Pack, registry: Registry) -> str | None:
    """The case as YAML, once that has been read again and run on both; None where it does not tell them apart."""
    text = case_yaml({"name": _name(mutant), **data})
    return text if catches(text, mutant, pack, registry) else None


def _name(mutant: Mutant) -> str:
    return f"{mutant.kind} {mutant.name} ({mutant.change})"


def catches(text: str, mutant: Mutant, pack: Pack, registry: Registry) -> bool:
    """Whether the YAML of a case passes on the pack and fails on the changed one."""
    document = read_text(f"cases:\n{text}")
    if check_schema(document, shipped_schema("cases"), common_schemas()):
        return False
    case = Case(pack, registry, document, 0, document.data["cases"][0])
    return case.result().right and bool(case.differences_under(mutant.pack))


def _told_by_program(mutant: Mutant, pack: Pack, registry: Registry, cases: Sequence[Case]) -> Told:
    """A case says what the program says of itself on a day on which the two packs differ in that."""
    names = [mutant.name] if mutant.kind == "fact" else _facts_that_take(mutant.name, pack)
    if not names:
        return Told(None, 0, "no rule and no fact of the program asks for it")
    days = _days(names, mutant, pack, cases)
    for tried, (name, day) in enumerate(product(names, days), 1):
        if said_on(pack, name, day) != said_on(mutant.pack, name, day):
            data = _with_program(name, day, pack, registry, cases)
            return Told(_written(data, mutant, pack, registry) if data else None, tried)
    return Told(None, len(names) * len(days), "it is in force on no day")


def _facts_that_take(limit: str, pack: Pack) -> list[str]:
    return [name for name, versions in pack.facts.items() if any(version.limit == limit for version in versions)]


def _days(names: Sequence[str], mutant: Mutant, pack: Pack, cases: Sequence[Case]) -> list[date]:
    """A day of some case, and every day on which what the program says of itself may change."""
    ends: list[date | None] = []
    for each in (pack, mutant.pack):
        for version in (version for name in names for version in each.facts[name]):
            ends += [version.from_, version.until]
            limit = each.limits.get(version.limit or "")
            ends += [day for dated in (limit.versions if limit else ()) for day in (dated.from_, dated.until)]
    usual = max((case.day for case in cases), default=date.fromisoformat(NO_DAY))
    return [usual, *sorted({day for day in ends if day is not None})]


def _with_program(
    name: str, day: date, pack: Pack, registry: Registry, cases: Sequence[Case]
) -> Mapping[str, Any] | None:
    """A case of the pack's first rule that expects also what the program says; None for a pack without rules."""
    if not pack.rules:
        return None
    plainest = next(iter(Scenes(pack, [(pack, pack.rules[0])], registry, cases).tried()))
    data = {**plainest, "date": str(day)}
    expected = seen(made_case(pack, registry, data), pack).expectation("outcome")
    return {**data, "expect": {**expected, "program": {name: said_on(pack, name, day)}}}
