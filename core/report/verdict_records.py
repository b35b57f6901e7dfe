"""Verdicts as JSON: every figure and word that a page or a letter needs, so that none of them calculates."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from afield.core.facts.declarations import Fact
from afield.core.language import _
from afield.core.packs.texts import rendered
from afield.core.packs.verdicts import CANNOT_TELL, FAILED, PASSED, Verdict
from afield.core.report.margins import (
    NO_SIDES,
    comparison_words,
    detail_of,
    limit_words,
    margin_json,
    margin_sides,
    measured_words,
    short_by,
)
from afield.core.report.overrides import override_words
from afield.core.report.records import reason_json
from afield.core.report.settling import negations, settle_json
from afield.core.report.sources import GRADES, sources_of_verdict
from afield.core.report.waivers import waived_json
from afield.core.rules.conditions import Aggregate, FactOf, Measure, VerdictOf
from afield.core.rules.explain import LeafResult
from afield.core.rules.outcomes import WORDS
from afield.core.rules.wording import measure_in_words

Json = dict[str, Any]
TURNED = {PASSED: FAILED, FAILED: PASSED}
"""Outcome of a comparison -> its outcome where `none` turns it round."""
TEXT_OF = {FAILED: "if_failed", CANNOT_TELL: "if_cannot_tell", PASSED: "if_passed"}


def verdict_json(verdict: Verdict, facts: dict[str, Fact]) -> Json:
    """One verdict."""
    rule = verdict.rule
    decider = _decider(verdict)
    turned = _turned(verdict)
    settle = settle_json(verdict, facts)
    sources = sources_of_verdict(verdict)
    return {
        "rule": rule.key,
        "subject": verdict.subject.key,
        "program": verdict.pack.id if verdict.pack.judges == "program" else None,
        "title": rule.title,
        "why": rule.why,
        "kind": "confirm" if rule.confirm is not None else "judge",
        "outcome": verdict.word,
        "severity": rule.severity,
        "day": verdict.day.isoformat(),
        "reason": reason_json(verdict.reason),
        "measured": measured_words(decider) if decider else None,
        "comparison": comparison_words(decider, turned[_decider_index(verdict)]) if decider else None,
        "limit": limit_words(decider) if decider else None,
        "margin": _margin(verdict),
        "leaves": [
            _leaf_json(result, facts, negated) for result, negated in zip(_leaves(verdict), turned, strict=True)
        ],
        "settle": settle,
        "text": text_of(verdict, decider, settle),
        "warnings": [*override_words(verdict), *(verdict.explanation.warnings if verdict.explanation else ())],
        "sources": sources,
        "weakest_grade": weakest_grade(sources),
        "place": str(rule.place),
        "confirm": rule.confirm,
        "when": rule.when,
        "evidence": rule.evidence,
        "confirmed": verdict.confirmed,
        "waived": waived_json(verdict),
    }


def weakest_grade(sources: list[Json]) -> str | None:
    """The grade that can be relied on least."""
    grades = [source["grade"] for source in sources if source["grade"] in GRADES]
    return max(grades, key=GRADES.index) if grades else None


def _leaves(verdict: Verdict) -> tuple[LeafResult, ...]:
    return verdict.explanation.leaves if verdict.explanation else ()


def _decider(verdict: Verdict) -> LeafResult | None:
    explanation = verdict.explanation
    return explanation.leaves[explanation.decider] if explanation and explanation.leaves else None


def _decider_index(verdict: Verdict) -> int:
    return verdict.explanation.decider if verdict.explanation else 0


def _turned(verdict: Verdict) -> list[bool]:
    """Of each comparison of the verdict, whether `none` turns it round."""
    conditions = (verdict.rule.require, verdict.rule.where)
    return [found for condition in conditions if condition for found in negations(condition)][: len(_leaves(verdict))]


def _margin(verdict: Verdict) -> Json | None:
    explanation = verdict.explanation
    if explanation is None:
        return None
    told, index = verdict.outcome != CANNOT_TELL, explanation.decider
    sides = margin_sides(explanation.leaves[index], _turned(verdict)[index]) if explanation.leaves else NO_SIDES
    return margin_json(explanation.margin, explanation.uncertainty, explanation.unit, told, sides)


def _leaf_json(result: LeafResult, facts: dict[str, Fact], negated: bool) -> Json:
    measure = result.leaf.measure
    declared = facts.get(measure.name) if isinstance(measure, FactOf) else None
    outcome = TURNED.get(result.outcome, result.outcome) if negated else result.outcome
    margin = 0.0 - result.margin if negated and result.margin is not None else result.margin
    return {
        "fact": measure.name if isinstance(measure, FactOf) else None,
        "kind": declared.kind if declared else None,
        "verdict": _asked_verdict(result),
        "counted_by": _counted_by(result),
        "gathers": _gathers(measure, facts),
        "title": _(declared.title) if declared and declared.title else measure_in_words(measure, facts),
        "comparison": comparison_words(result, negated),
        "limit_name": next((bound.limit for bound in result.bounds if bound.limit), None),
        "limit": limit_words(result),
        "measured": measured_words(result),
        "outcome": WORDS[outcome],
        "margin": margin_json(
            margin, result.uncertainty, result.unit, result.outcome != CANNOT_TELL, margin_sides(result, negated)
        ),
        "reason": reason_json(result.reason),
    }


def _asked_verdict(result: LeafResult) -> Json | None:
    """The verdict that the comparison is about; None for a comparison of something else, or where there is none."""
    record = result.record
    if not isinstance(result.leaf.measure, VerdictOf) or record is None or not record.detail:
        return None
    return {"rule": record.detail["rule"], "subject": record.detail["subject"]}


def _gathers(measure: Measure, facts: dict[str, Fact]) -> Json | None:
    """The fact that is gathered, its kind, and the kind of what it is gathered over; None for any other measure."""
    if not isinstance(measure, Aggregate) or measure.of is None or measure.of.name not in facts:
        return None
    return {"fact": measure.of.name, "kind": facts[measure.of.name].kind, "over": measure.kind}


def _counted_by(result: LeafResult) -> list[str]:
    """The rules whose verdicts say what counts for a number that is gathered."""
    gathered = isinstance(result.leaf.measure, Aggregate) and result.record is not None
    return list(result.record.detail.get("verdicts", ())) if gathered and result.record else []


def text_of(verdict: Verdict, decider: LeafResult | None, settle: Json | None) -> str | None:
    """The pack's own words for the outcome, with the figures filled in.

    None where a figure or detail that they use is not there, and where they tell how to measure what no measuring
    settles.
    """
    written = verdict.rule.texts.get(TEXT_OF.get(verdict.outcome, ""))
    if written is None or (verdict.outcome == CANNOT_TELL and (settle is None or settle["kind"] != "measure")):
        return None
    return _filled_in(written, fields_of(verdict, decider)) if "{{" in written else written


def _filled_in(written: str, fields: Json) -> str | None:
    from jinja2 import UndefinedError

    try:
        return rendered(written, fields)
    except UndefinedError:
        return None


def fields_of(verdict: Verdict, decider: LeafResult | None) -> Json:
    """The fields that a pack's text may use, those that are there."""
    explanation = verdict.explanation
    detail = detail_of(decider.record) if decider else {}
    fields = {
        "value": measured_words(decider) if decider else None,
        "limit": limit_words(decider) if decider else None,
        "margin": (_margin(verdict) or {}).get("words"),
        "short_by": short_by(explanation.margin, explanation.uncertainty, explanation.unit) if explanation else None,
        "subject": verdict.subject.label,
        # Not a mapping: a detail named `items` would be its method.
        "detail": SimpleNamespace(**{name: value for name, value in detail.items() if value not in (None, "")}),
    }
    return {name: value for name, value in fields.items() if value is not None}
