"""Verdicts as JSON: every figure and word that a page or a letter needs, so that none of them calculates."""

from __future__ import annotations

from typing import Any

from afield.core.facts.declarations import Fact
from afield.core.packs.texts import rendered
from afield.core.packs.verdicts import CANNOT_TELL, FAILED, PASSED, Verdict
from afield.core.report.margins import (
    COMPARISON_WORDS,
    detail_of,
    limit_words,
    margin_json,
    measured_words,
    short_by,
)
from afield.core.report.records import reason_json
from afield.core.report.settling import settle_json
from afield.core.report.sources import GRADES, sources_of_verdict
from afield.core.rules.conditions import FactOf
from afield.core.rules.explain import LeafResult
from afield.core.rules.outcomes import WORDS
from afield.core.rules.wording import measure_in_words

Json = dict[str, Any]
TEXT_OF = {FAILED: "if_failed", CANNOT_TELL: "if_cannot_tell", PASSED: "if_passed"}


def verdict_json(verdict: Verdict, facts: dict[str, Fact]) -> Json:
    """One verdict."""
    rule = verdict.rule
    decider = _decider(verdict)
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
        "comparison": COMPARISON_WORDS[decider.leaf.comparison] if decider else None,
        "limit": limit_words(decider) if decider else None,
        "margin": _margin(verdict),
        "leaves": [_leaf_json(result, facts) for result in _leaves(verdict)],
        "settle": settle_json(verdict, facts),
        "text": text_of(verdict, decider),
        "warnings": list(verdict.explanation.warnings) if verdict.explanation else [],
        "sources": sources,
        "weakest_grade": weakest_grade(sources),
        "place": str(rule.place),
        "confirm": rule.confirm,
        "when": rule.when,
        "evidence": rule.evidence,
        "confirmed": verdict.confirmed,
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


def _margin(verdict: Verdict) -> Json | None:
    explanation = verdict.explanation
    if explanation is None:
        return None
    told = verdict.outcome != CANNOT_TELL
    return margin_json(explanation.margin, explanation.uncertainty, explanation.unit, told)


def _leaf_json(result: LeafResult, facts: dict[str, Fact]) -> Json:
    measure = result.leaf.measure
    declared = facts.get(measure.name) if isinstance(measure, FactOf) else None
    return {
        "fact": measure.name if isinstance(measure, FactOf) else None,
        "kind": declared.kind if declared else None,
        "title": declared.title if declared else measure_in_words(measure, facts),
        "comparison": COMPARISON_WORDS[result.leaf.comparison],
        "limit_name": next((bound.limit for bound in result.bounds if bound.limit), None),
        "limit": limit_words(result),
        "measured": measured_words(result),
        "outcome": WORDS[result.outcome],
        "margin": margin_json(result.margin, result.uncertainty, result.unit, result.outcome != CANNOT_TELL),
        "reason": reason_json(result.reason),
    }


def text_of(verdict: Verdict, decider: LeafResult | None) -> str | None:
    """The pack's own words for the outcome, with the figures filled in."""
    written = verdict.rule.texts.get(TEXT_OF.get(verdict.outcome, ""))
    if written is None:
        return None
    return rendered(written, fields_of(verdict, decider))


class _Detail(dict[str, Any]):
    """Detail fields for a text; one that this record lacks reads "not known", as load time has checked its name."""

    def __missing__(self, key: str) -> str:
        return "not known"

    def __getattr__(self, name: str) -> Any:
        return self[name]


def fields_of(verdict: Verdict, decider: LeafResult | None) -> Json:
    """The fields that a pack's text may use."""
    margin = verdict.explanation
    return {
        "value": (measured_words(decider) if decider else None) or "not known",
        "limit": (limit_words(decider) if decider else None) or "not known",
        "margin": (_margin(verdict) or {}).get("words", "not known"),
        "short_by": short_by(margin.margin, margin.uncertainty, margin.unit) if margin else "not known",
        "subject": verdict.subject.label,
        "detail": _Detail(detail_of(decider.record) if decider else {}),
    }
