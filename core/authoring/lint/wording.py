"""Texts that are never shown, or only sometimes; assumptions that are not written down."""

from __future__ import annotations

import re
from collections.abc import Iterator

from afield.core.authoring.lint.bench import LintBench, conditions_of
from afield.core.authoring.lint.findings import Finding, either, finding
from afield.core.packs.model import TEXTS, Rule
from afield.core.rules.conditions import Aggregate, FactOf, Leaf, leaves

_FIELD = re.compile(r"{{[^{}]*}}")
_DETAIL = re.compile(r"{{\s*detail\.(\w+)\s*}}")


def text_findings(bench: LintBench) -> Iterator[Finding]:
    """Of each rule that the pack writes: its texts and its assumptions."""
    for rule in bench.own_rules:
        yield from _details_elsewhere(rule, bench)
        yield from _braces(rule, bench)
        yield from _never_shown(rule, bench)
        yield from _no_assumption(rule, bench)
        yield from _cut_assumptions(rule, bench)


def _details_elsewhere(rule: Rule, bench: LintBench) -> Iterator[Finding]:
    """A comparison decides whose details there are; where another one decides, the text is left out."""
    required = list(leaves(rule.require)) if rule.require is not None else []
    for name, text in rule.texts.items():
        for detail in dict.fromkeys(_DETAIL.findall(text)):
            lacking = sorted({_name(leaf) for leaf in required if not _offers(leaf, detail, bench)})
            if lacking and len(required) > 1:
                what = f"{name} uses detail.{detail}, which {either(lacking, 'and')} has not"
                advice = "Where that comparison decides, the text is left out; word it without the detail."
                yield finding("detail-elsewhere", bench.rules_file, (*rule.path, name), what, advice, {"rule": rule.id})


def _name(leaf: Leaf) -> str:
    return leaf.measure.name if isinstance(leaf.measure, FactOf) else "what is counted or judged elsewhere"


def _offers(leaf: Leaf, detail: str, bench: LintBench) -> bool:
    declared = bench.registry.facts.get(leaf.measure.name) if isinstance(leaf.measure, FactOf) else None
    absent = isinstance(leaf.measure, FactOf) and declared is None
    return absent or (declared is not None and detail in declared.detail)


def _braces(rule: Rule, bench: LintBench) -> Iterator[Finding]:
    """A field in single braces is no field, and loading lets it through as any other text."""
    written = {"title": rule.title, "why": rule.why, "confirm": rule.confirm, "evidence": rule.evidence, **rule.texts}
    for name, text in written.items():
        if text and re.search(r"[{}]", _FIELD.sub("", text)):
            what = f"{name} of the rule {rule.id} holds single braces, which are printed as they stand"
            advice = f"Write a field as `{{{{ short_by }}}}`, in {either(list(TEXTS))}; leave braces out elsewhere."
            yield finding("braces-left", bench.rules_file, (*rule.path, name), what, advice, {"rule": rule.id})


def _never_shown(rule: Rule, bench: LintBench) -> Iterator[Finding]:
    """if_cannot_tell tells how to measure; a checklist item shows its own words only."""
    if rule.confirm is not None:
        shown = dict.fromkeys(rule.texts, "a checklist item shows what is to be confirmed")
    elif not any(_can_be_measured(leaf, bench) for _, condition in conditions_of(rule) for leaf in leaves(condition)):
        shown = {"if_cannot_tell": "none of the rule's facts can be measured in the field"}
    else:
        return
    for name, why in shown.items():
        if name in rule.texts:
            what = f"{name} of the rule {rule.id} is never shown: {why}"
            advice = "Take the text out, and put what the reader needs into `why` or `assumes`."
            yield finding(
                "text-never-shown", bench.rules_file, (*rule.path, name), what, advice, {"rule": rule.id}, key=True
            )


def _can_be_measured(leaf: Leaf, bench: LintBench) -> bool:
    if not isinstance(leaf.measure, FactOf):
        return False
    declared = bench.registry.facts.get(leaf.measure.name)
    return declared is None or declared.tool is not None


def _no_assumption(rule: Rule, bench: LintBench) -> Iterator[Finding]:
    if rule.require is None or rule.assumes or not any(is_figure(leaf, bench) for leaf in leaves(rule.require)):
        return
    what = f"the rule {rule.id} compares figures and states no assumption"
    advice = "Write under `assumes:` what must hold for the figure to mean what the rule takes it to mean."
    yield finding("assumes-missing", bench.rules_file, rule.path, what, advice, {"rule": rule.id})


def _cut_assumptions(rule: Rule, bench: LintBench) -> Iterator[Finding]:
    """Between brackets a comma begins a new entry of the list, unless the sentence stands in quotes."""
    for index, text in enumerate(rule.assumes):
        if index and text[:1].islower():
            what = f"an assumption of the rule {rule.id} begins in the middle of a sentence: '{text}'"
            advice = "Put the whole sentence in quotes, so that its comma does not begin another entry."
            path = (*rule.path, "assumes", index)
            yield finding("assumption-cut", bench.rules_file, path, what, advice, {"rule": rule.id})


def is_figure(leaf: Leaf, bench: LintBench) -> bool:
    """Whether the comparison is one of numbers."""
    if isinstance(leaf.measure, Aggregate):
        return True
    declared = bench.registry.facts.get(leaf.measure.name) if isinstance(leaf.measure, FactOf) else None
    return declared is not None and declared.type == "number" and leaf.comparison != "exists"
