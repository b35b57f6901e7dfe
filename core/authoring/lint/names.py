"""Names that lead nowhere: facts and kinds of plugins that are not there, needs and limits that nothing uses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from afield.core.authoring.lint.bench import LintBench, conditions_of, limits_of
from afield.core.authoring.lint.findings import Finding, either, finding
from afield.core.host.registry import CORE
from afield.core.packs.model import Rule
from afield.core.quantities import same_dimension
from afield.core.rules.conditions import Aggregate, facts_asked, nested_leaves


def name_findings(bench: LintBench) -> Iterator[Finding]:
    """What the pack names without there being such a thing, and what it has without naming it."""
    for rule in bench.own_rules:
        yield from _absent(rule, bench)
    yield from _needs(bench)
    yield from _unused_limits(bench)
    for name in bench.own_limits:
        yield from _differing_units(name, bench)


def _absent(rule: Rule, bench: LintBench) -> Iterator[Finding]:
    plugins = either([*bench.pack.absent], "and") or "that offers it"
    advice = f"Install the plugin {plugins}, or ask for something else; until then the rule cannot be told."
    for key, condition in conditions_of(rule):
        for name in facts_asked(condition):
            if name not in bench.registry.facts:
                what = f"no installed plugin offers the fact {name}, which the rule {rule.id} asks for"
                about = {"rule": rule.id, "fact": name}
                yield finding("fact-absent", bench.rules_file, (*rule.path, key), what, advice, about)
    for path, kind in _kinds_named(rule):
        if kind not in bench.registry.kinds:
            what = f"no installed plugin offers the kind {kind}, which the rule {rule.id} names"
            yield finding("kind-absent", bench.rules_file, path, what, advice, {"rule": rule.id})


def _kinds_named(rule: Rule) -> Iterator[tuple[tuple[str | int, ...], str]]:
    yield (*rule.path, "for_each"), rule.for_each
    for _, condition in conditions_of(rule):
        for leaf in nested_leaves(condition):
            if isinstance(leaf.measure, Aggregate):
                yield leaf.path, leaf.measure.kind


def _needs(bench: LintBench) -> Iterator[Finding]:
    pack, document = bench.pack, bench.pack.documents["pack"]
    own = {name: pack.facts[name] for name in document.data.get("facts", {})}
    yield from _missing_needs(bench, _declared_names(own, bench.own_rules))
    used = _plugins_used(bench)
    for index, name in enumerate(document.data["needs"]):
        if name not in used and name not in pack.absent:
            what = f"the pack needs the plugin {name}, but uses none of its facts or kinds"
            yield finding("need-unused", document, ("needs", index), what, f"Take {name} out of `needs:`.")


def _missing_needs(bench: LintBench, names: Iterable[str]) -> Iterator[Finding]:
    for name in dict.fromkeys(names):
        owner = bench.registry.owners.get(name)
        if owner and owner != CORE and owner.name not in bench.pack.needs:
            thing = name.replace("kind:", "the kind ")
            what = f"the plugin {owner.name}, which offers {thing}, is not among the pack's needs"
            advice = f"Add {owner.name} under `needs:`, so that whoever lacks it is told so."
            about = {} if name.startswith("kind:") else {"fact": name}
            yield finding("need-missing", bench.pack.documents["pack"], ("needs",), what, advice, about)


def _plugins_used(bench: LintBench) -> set[str]:
    owners = bench.registry.owners
    used = {owners[name].name for name in _declared_names(bench.pack.facts, bench.pack.rules) if name in owners}
    if bench.pack.references:
        used |= {plugin.name for plugin, part in bench.registry.fragments if part.document == "references"}
    return used


def _declared_names(facts: Iterable[str], rules: Iterable[Rule]) -> list[str]:
    """Every fact and kind ("kind:NAME") that is named."""
    rules = list(rules)
    asked = [name for rule in rules for _, condition in conditions_of(rule) for name in facts_asked(condition)]
    return [*facts, *asked, *(f"kind:{kind}" for rule in rules for _, kind in _kinds_named(rule))]


def _unused_limits(bench: LintBench) -> Iterator[Finding]:
    used = {name for rule in bench.pack.rules for name in limits_of(rule)}
    used |= {version.limit for versions in bench.pack.facts.values() for version in versions if version.limit}
    for name in bench.own_limits:
        if name not in used:
            what = f"no rule and no fact of the program uses the limit {name}"
            advice = "Take it out, or compare something with it; a figure that judges nothing misleads its readers."
            yield finding("limit-unused", bench.rules_file, ("limits", name), what, advice, {"limit": name}, key=True)


def _differing_units(name: str, bench: LintBench) -> Iterator[Finding]:
    versions = [version for version in bench.pack.limits[name].versions if version.value is not None]
    for version in versions[1:]:
        if not same_dimension(version.unit, versions[0].unit):
            first = f"{versions[0].unit or 'no unit'} from {versions[0].from_}"
            what = f"the limit {name} is in {version.unit or 'no unit'} from {version.from_}, but in {first}"
            advice = "Give both values units of one kind, or make two limits of it."
            yield finding("units-differ", bench.rules_file, (*version.path, "unit"), what, advice, {"limit": name})
