"""What keeps a pack from loading, beyond its schema: limits, names, kinds, texts, sources, cycles."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.documents import Document, Problem
from afield.core.facts.declarations import Fact
from afield.core.host.given import refuse_unfit
from afield.core.host.registry import Registry
from afield.core.packs.model import TEXTS, DatedFact, Pack, Rule
from afield.core.packs.overriding import problems_of_overriding
from afield.core.packs.rules_file import problem_of
from afield.core.packs.texts import complaints_about_plain, complaints_about_text, in_each_language
from afield.core.quantities import QuantityError, dimension_of, phrase_of, same_dimension
from afield.core.rules.aggregates import cycles
from afield.core.rules.complaint import meant
from afield.core.rules.conditions import Aggregate, FactOf, Leaf, leaves
from afield.core.rules.limit_checks import date_complaints
from afield.core.rules.limits import Limit


def problems_of_pack(pack: Pack, registry: Registry, written: Document) -> list[Problem]:
    """Every problem of the pack's own files; those of a pack that it extends were found when that was read.

    Args:
        pack: with its texts in the language spoken now.
        registry: what plugins declare.
        written: its rules file, with its texts in every language.

    """
    return [
        *_rule_problems(pack, registry, written),
        *_cycle_problems(pack),
        *_fact_problems(pack, registry),
        *_reference_problems(pack),
        *problems_of_overriding(pack, registry),
    ]


def _rule_problems(pack: Pack, registry: Registry, written: Document) -> Iterator[Problem]:
    first: dict[str, Rule] = {rule.id: rule for rule in pack.base.rules} if pack.base else {}
    for rule in _own_rules(pack):
        if first.setdefault(rule.id, rule) is not rule:
            advice = f"The first is at {first[rule.id].place}. Give each rule its own id."
            yield _at(pack.documents["rules"], (*rule.path, "id"), f"a second rule {rule.id}", advice)
        yield from _kind_problems(rule, pack, registry)
        yield from _source_problems(rule, pack)
        yield from _text_problems(rule, written, registry)


def _own_rules(pack: Pack) -> list[Rule]:
    return [rule for rule in pack.rules if pack.writes(rule)]


def _kind_problems(rule: Rule, pack: Pack, registry: Registry) -> Iterator[Problem]:
    if rule.for_each not in registry.kinds and not pack.absent:
        what, advice = f"no plugin declares the kind {rule.for_each}", meant(rule.for_each, registry.kinds, "kinds")
        yield _at(pack.documents["rules"], (*rule.path, "for_each"), what, advice)


def _source_problems(rule: Rule, pack: Pack) -> Iterator[Problem]:
    if rule.source is not None:
        return
    bounds = [bound for leaf in _rule_leaves(rule) for bound in leaf.bounds]  # what `where` compares needs no source
    limits = [pack.limits[bound.limit] for bound in bounds if bound.limit]
    cited = bool(limits) and all(version.source is not None for limit in limits for version in limit.versions)
    if not cited or len(limits) < len(bounds):
        what = f"the rule {rule.id} has no source"
        advice = "Add `source: {document, section, grade, last_checked}`, or take all values from limits with a source."
        yield _at(pack.documents["rules"], rule.path, what, advice)


def _text_problems(rule: Rule, written: Document, registry: Registry) -> Iterator[Problem]:
    found = _rule_leaves(rule)
    declared = [_details(leaf, registry) for leaf in found]
    details = None if None in declared else [field for fields in declared for field in fields or ()]
    numeric = any(_is_numeric(leaf, registry) for leaf in found)
    entry = written.value(rule.path)
    for path, text in in_each_language(entry, ("title", "why", "confirm")):
        for what, advice in complaints_about_plain(text):
            yield _at(written, (*rule.path, *path), what, advice)
    for path, text in in_each_language(entry, TEXTS):
        for what, advice in complaints_about_text(text, details, numeric):
            yield _at(written, (*rule.path, *path), what, advice)


def _details(leaf: Leaf, registry: Registry) -> list[str] | None:
    """The fields of the fact's detail; None for a fact of an absent plugin."""
    if not isinstance(leaf.measure, FactOf):
        return []
    declared = registry.facts.get(leaf.measure.name)
    return list(declared.detail) if declared else None


def _is_numeric(leaf: Leaf, registry: Registry) -> bool:
    if not isinstance(leaf.measure, FactOf):
        return isinstance(leaf.measure, Aggregate)
    declared = registry.facts.get(leaf.measure.name)
    # A fact of an absent plugin could be a number; its texts are never filled in, so they are let through.
    return declared is None or (declared.type == "number" and leaf.comparison != "exists")


def _rule_leaves(rule: Rule) -> list[Leaf]:
    """The comparisons of the condition itself."""
    return list(leaves(rule.require)) if rule.require is not None else []


def _cycle_problems(pack: Pack) -> Iterator[Problem]:
    conditions = {rule.id: [c for c in (rule.where, rule.require) if c is not None] for rule in _own_rules(pack)}
    for cycle in cycles(conditions):
        rule = next(rule for rule in _own_rules(pack) if rule.id == cycle[0])
        what = f"the rules form a cycle: {' waits for '.join(cycle)}"
        yield _at(pack.documents["rules"], rule.path, what, "One of them must not use the next one's verdict.")


def _fact_problems(pack: Pack, registry: Registry) -> Iterator[Problem]:
    document = pack.documents["pack"]
    for name in document.data.get("facts", {}):
        declared, versions = registry.facts.get(name), pack.facts[name]
        if declared is None and not pack.absent:
            programs = [fact.name for fact in registry.facts.values() if fact.kind == "program"]
            advice = meant(name, programs, "facts of a program")
            yield _at(document, ("facts", name), f"no fact is called {name}", advice, key=True)
        elif declared is not None and (declared.kind != "program" or declared.function is not None):
            yield _at(document, ("facts", name), f"{name} is no fact that a program states", "Leave it out.", key=True)
        else:
            yield from _value_problems(declared, versions, document)
        yield from (problem_of(document, complaint) for complaint in date_complaints(versions))
        yield from _fact_limit_problems(declared, versions, pack)


def _value_problems(declared: Fact | None, versions: tuple[DatedFact, ...], document: Document) -> Iterator[Problem]:
    for version in versions:
        if declared is None or version.limit is not None:
            continue
        try:
            refuse_unfit(declared, version.value)
        except QuantityError as error:
            yield _at(document, version.value_path, error.what, error.advice)


def _fact_limit_problems(declared: Fact | None, versions: tuple[DatedFact, ...], pack: Pack) -> Iterator[Problem]:
    for version in versions:
        if version.limit is None:
            continue
        if version.limit not in pack.limits:
            advice = meant(version.limit, pack.limits, "limits")
            yield _at(pack.documents["pack"], version.value_path, f"no limit is called {version.limit}", advice)
        elif declared is not None and not _takes(declared, pack.limits[version.limit]):
            what = f"{declared.title or declared.name} cannot take the limit {version.limit}"
            advice = (
                f"It is {phrase_of(dimension_of(declared.unit))}; name a limit that is."
                if declared.unit
                else "Write a value instead."
            )
            yield _at(pack.documents["pack"], version.value_path, what, advice)


def _takes(declared: Fact, limit: Limit) -> bool:
    units = [version.unit for version in limit.versions if version.value is not None]
    return declared.type == "number" and all(same_dimension(unit, declared.unit or "") for unit in units)


def _reference_problems(pack: Pack) -> Iterator[Problem]:
    if pack.references is None or "references" not in pack.documents:
        return
    document = pack.documents["references"]
    for name in dict.fromkeys(entry.id for entry in pack.references):
        same = tuple(entry for entry in pack.references if entry.id == name)
        yield from (problem_of(document, complaint) for complaint in date_complaints(same))


def _at(document: Document, path: tuple[str | int, ...], what: str, advice: str, key: bool = False) -> Problem:
    place = document.key_place(path) if key else document.place(path)
    return Problem(place, what, advice, document.line(place))
