"""What would settle a verdict that cannot be told: one measurement with its figures, one thing to state, to confirm or to renew."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Reason
from afield.core.packs.verdicts import CANNOT_TELL, Verdict
from afield.core.quantities import convert, convert_difference, shown_unit
from afield.core.quantities.printing import OTHER_SYSTEM
from afield.core.report.margins import bound_words
from afield.core.rules.conditions import FactOf
from afield.core.rules.explain import LeafResult

Json = dict[str, Any]

READABLE = {"m": 2, "ft": 1, "km": 3, "cm": 1, "in": 1, "V": 2, "A": 2, "W": 1, "kg": 2, "degC": 1, "deg": 1}
"""Decimals to which a tool's reading is given, by unit; others get 2."""


def settle_json(verdict: Verdict, facts: dict[str, Fact]) -> Json | None:
    """What would settle the verdict; None if it needs nothing, or nothing is known that would."""
    if verdict.outcome != CANNOT_TELL or verdict.reason is None:
        return None
    measured = _by_measuring(verdict, facts)
    return measured or _by_other_means(verdict, verdict.reason, facts)


def _entry(kind: str, words: str, **more: Any) -> Json:
    empty = {
        "fact": None, "subject": None, "title": None, "input": None, "tool": None, "tool_uncertainty": None,
        "counts_if": None, "fails_if": None,
    }  # fmt: skip
    return {"kind": kind, "words": words, **empty, **more}


def _by_measuring(verdict: Verdict, facts: dict[str, Fact]) -> Json | None:
    explanation = verdict.explanation
    if explanation is None:
        return None
    result = explanation.leaves[explanation.decider]
    measure = result.leaf.measure
    declared = facts.get(measure.name) if isinstance(measure, FactOf) else None
    if declared is None or declared.tool is None or len(result.bounds) != 1 or result.bounds[0].version is None:
        return None
    counts, fails = _figures(result, declared)
    holder = verdict.subject.within(declared.kind)
    tool = declared.tool.name
    return _entry(
        "measure", f"Measure the {declared.title} with a {tool}; the limit is {bound_words(result.bounds[0])}.",
        fact=declared.name, subject=holder, title=declared.title, input=declared.name, tool=tool,
        tool_uncertainty=f"± {declared.tool.uncertainty:g} {shown_unit(declared.unit or '')} (95 %)",
        counts_if=counts, fails_if=fails,
    )  # fmt: skip


def _figures(result: LeafResult, declared: Fact) -> tuple[str, str]:
    """The readings at and beyond which it counts, and does not; each rounded to its own safe side."""
    assert declared.tool is not None
    version = result.bounds[0].version
    assert version is not None and version.value is not None
    unit = declared.unit or ""
    limit = convert(float(version.value), version.unit, unit)
    below, above = limit - declared.tool.uncertainty, limit + declared.tool.uncertainty
    if result.leaf.comparison in ("at_most", "below"):
        return (
            f"it reads {_reading(below, unit, ROUND_FLOOR)} or less",
            f"it reads {_reading(above, unit, ROUND_CEILING)} or more",
        )
    return (
        f"it reads {_reading(above, unit, ROUND_CEILING)} or more",
        f"it reads {_reading(below, unit, ROUND_FLOOR)} or less",
    )


def _reading(value: float, unit: str, rounding: str) -> str:
    figures = _rounded(value, unit, rounding)
    if unit not in OTHER_SYSTEM:
        return figures
    other = OTHER_SYSTEM[unit]
    return f"{figures} ({_rounded(convert_difference(value, unit, other), other, rounding)})"


def _rounded(value: float, unit: str, rounding: str) -> str:
    step = Decimal(1).scaleb(-READABLE.get(unit, 2))
    return f"{Decimal(repr(value)).quantize(step, rounding=rounding):f} {shown_unit(unit)}".rstrip()


def _by_other_means(verdict: Verdict, reason: Reason, facts: dict[str, Fact]) -> Json | None:
    if reason.code == "to be confirmed":
        return _entry("confirm", "Confirm it in the plan: add it under `confirmed:`.", input=verdict.rule.key)
    if reason.code in ("no value in force", "versions disagree"):
        return _entry("renew", _renewing(verdict, reason), input=reason.settle, subject=reason.subject)
    if reason.settle is None:
        return None
    declared = facts.get(reason.settle)
    title = declared.title if declared else reason.settle
    if reason.code in ("plugin absent", "kind absent"):
        return _entry("install", f"Install the {reason.settle}.", input=reason.settle)
    words = (
        f"Give `{reason.settle}` more exactly." if reason.code == "within uncertainty" else f"State `{reason.settle}`."
    )
    return _entry("state", words, input=reason.settle, subject=reason.subject, title=title,
                  fact=declared.name if declared else None)  # fmt: skip


def _renewing(verdict: Verdict, reason: Reason) -> str:
    if reason.code == "versions disagree":
        return "Make the date certain: the outcome changes with it."
    return f"Get a version of the pack {verdict.pack.id} that covers {verdict.day}."
