"""Why one subject got its verdict: every comparison with its figures, and the reason where it cannot be told."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from afield.core.facts.measured import Measured, Reason
from afield.core.frozen import frozen
from afield.core.language import _, local_digits, marked
from afield.core.quantities import convert, to_12_digits
from afield.core.rules.bounds import BoundUsed, comparable
from afield.core.rules.columns import KNOWN, NO_MEMBER, Column
from afield.core.rules.comparisons import MARGINS, outcome_of
from afield.core.rules.compile import CompiledRule, LeafInForce
from afield.core.rules.conditions import FactOf, Leaf, Measure, VerdictOf
from afield.core.rules.governing import governing_unit_matters
from afield.core.rules.judge import ColumnsFor
from afield.core.rules.outcomes import CANNOT_TELL, NOT_APPLICABLE
from afield.core.rules.wording import measure_in_words, value_in_words

VALUE_ALONE = marked("Judged by the value alone, as the rule says: its whole range would not decide against {bounds}.")


@frozen
class LeafResult:
    """One comparison for one subject.

    Attributes:
        leaf: as written.
        outcome: code.
        value, low, high, uncertainty: in `unit`; None where not known or no number.
        margin: in `unit`, exact to the last of its 12 digits; None where there is none.
        unit: of the bound; None for text and bools, "min" for the margin of an instant.
        bounds: with their limits' versions and figures as printed.
        record: of the World, where the columns carry records.
        reason: why it cannot be told, or is not applicable; None otherwise.
        warnings: where a printed equivalent would decide otherwise.

    """

    leaf: Leaf
    outcome: int
    value: Any = None
    low: Any = None
    high: Any = None
    uncertainty: float | None = None
    margin: float | None = None
    unit: str | None = None
    bounds: tuple[BoundUsed, ...] = ()
    record: Measured | None = None
    reason: Reason | None = None
    warnings: tuple[str, ...] = ()

    @property
    def bound_printed(self) -> str:
        """The bounds as their sources print them: "80 ft", "1 m and 5 m"."""
        joiner = " and " if self.leaf.comparison == "between" else ", "
        return joiner.join(bound.printed for bound in self.bounds)


@frozen
class Explanation:
    """One verdict with all that it rests on.

    Attributes:
        outcome: code.
        margin, uncertainty, unit: of the decider, the margin negated where `none` negates it.
        decider: index into `leaves`.
        leaves: of the condition, then of `where`.
        required: how many of them belong to the condition.
        reason: why it cannot be told or is not applicable; None otherwise.
        warnings: of all comparisons.

    """

    outcome: int
    margin: float | None
    uncertainty: float | None
    unit: str | None
    decider: int
    leaves: tuple[LeafResult, ...]
    required: int
    reason: Reason | None
    warnings: tuple[str, ...]


def explain(rule: CompiledRule, index: int, columns_for: ColumnsFor) -> Explanation:
    """The verdict on the subject at that index of the columns, as `judge` gives it, with its comparisons."""

    def columns_of_one(measure: Measure, unit: str | None) -> Column:
        return columns_for(measure, unit).at(index)

    judged = rule.judge(columns_of_one, 1)
    results = tuple(_leaf_result(rule, used, columns_of_one) for used in rule.leaves)
    decider, outcome = judged.decider[0], judged.outcome[0]
    decided, margin = results[decider], judged.margin[0]
    if margin is not None and decided.margin is not None:
        margin = 0.0 - decided.margin if rule.leaves[decider].negated else decided.margin
    return Explanation(
        outcome, margin, judged.uncertainty[0], decided.unit if margin is not None else None, decider, results,
        rule.required, _reason(rule, outcome, decider, decided),
        tuple(warning for result in results for warning in result.warnings),
    )  # fmt: skip


def _reason(rule: CompiledRule, outcome: int, decider: int, decided: LeafResult) -> Reason | None:
    if outcome not in (CANNOT_TELL, NOT_APPLICABLE):
        return None
    if decider < rule.required:
        return decided.reason
    if outcome == NOT_APPLICABLE:
        return decided.reason or Reason("applicability", _not_met(rule, decided))
    inner = decided.reason
    if inner is None:
        return Reason("applicability", _("whether it applies cannot be told"))
    text = _("whether it applies cannot be told: {why}").format(why=inner.text)
    return Reason("applicability", text, inner.settle, inner.subject)


def _not_met(rule: CompiledRule, decided: LeafResult) -> str:
    """Why the rule does not apply; a question with yes or no for an answer is told as what is, or is not."""
    what = measure_in_words(decided.leaf.measure, rule.facts)
    whether = _("whether ")
    if isinstance(decided.value, bool) and what.startswith(whether):
        told = _("it does not apply where {what}") if decided.value else _("it applies only where {what}")
        return told.format(what=what.removeprefix(whether))
    return _("it does not apply where {found}").format(found=_as_found(what, decided))


def _as_found(what: str, decided: LeafResult) -> str:
    """What made `where` not hold: the value found, whatever the condition's form."""
    if decided.leaf.comparison == "exists":
        return (_("{what} is not stated") if decided.leaf.bounds[0].value else _("{what} is stated")).format(what=what)
    value = value_in_words(decided.value, decided.uncertainty, decided.unit, decided.low, decided.high)
    return _("{what} is {value}").format(what=what, value=value)


def _leaf_result(rule: CompiledRule, used: LeafInForce, columns_for: ColumnsFor) -> LeafResult:
    if used.silent is not None:
        return LeafResult(used.leaf, used.silent, bounds=used.bounds, reason=_silent_reason(rule, used))
    column = columns_for(used.leaf.measure, used.unit)
    outcome = rule.judge_leaves[used.index](columns_for, 1).outcome[0]
    record = column.records[0] if column.records else None
    if column.state[0] != KNOWN:
        reason = _unknown_reason(rule, used, column, record) if outcome in (CANNOT_TELL, NOT_APPLICABLE) else None
        return LeafResult(used.leaf, outcome, unit=used.unit, bounds=used.bounds, record=record, reason=reason)
    return _known_result(rule, used, column, outcome, record)


def _known_result(
    rule: CompiledRule, used: LeafInForce, column: Column, outcome: int, record: Measured | None
) -> LeafResult:
    value, low, high = column.value[0], column.low[0], column.high[0]
    margin = exact_margin(used, value)
    unit = used.unit if used.unit is not None or margin is None else "min"
    return LeafResult(
        used.leaf, outcome, value, low, high, column.uncertainty[0] if margin is not None else None, margin, unit,
        used.bounds, record, _straddling_reason(rule, used, column) if outcome == CANNOT_TELL else None,
        (*_warnings(rule, used, low, value, high), *_overlooked(rule, used, column, outcome)),
    )  # fmt: skip


def _overlooked(rule: CompiledRule, used: LeafInForce, column: Column, outcome: int) -> tuple[str, ...]:
    """The note where a rule that takes the value alone decides what the whole interval would not."""
    bounds = comparable(used.bounds)
    if rule.decision != "simple" or outcome == CANNOT_TELL or not isinstance(bounds[0], float):
        return ()
    guarded = outcome_of(used.leaf.comparison, column.low[0], column.high[0], bounds)
    return (_(VALUE_ALONE).format(bounds=_shown(used)),) if guarded == CANNOT_TELL else ()


def _shown(used: LeafInForce) -> str:
    return _(" and ").join(local_digits(bound.printed) for bound in used.bounds)


def exact_margin(used: LeafInForce, value: Any) -> float | None:
    """The margin worked out in decimals, so that 30.5 less 30.48 is 0.02; None where it is not numeric."""
    bounds = comparable(used.bounds)
    if used.leaf.comparison == "exists" or not isinstance(bounds[0], float):
        return None
    room = MARGINS[used.leaf.comparison]
    digits: Any = [Decimal(repr(bound)) for bound in bounds]
    return float(room([Decimal(repr(value))], digits)[0])  # type: ignore[list-item]


def _silent_reason(rule: CompiledRule, used: LeafInForce) -> Reason:
    if used.absent:
        plugins = _(" and ").join(used.absent)
        what = measure_in_words(used.leaf.measure, rule.facts)
        text = _("{what} needs the plugin {plugins}, which is not there").format(what=what, plugins=plugins)
        return Reason("plugin absent", text, f"plugin {plugins}")
    missing = next((bound for bound in used.bounds if bound.missing), None)
    if missing is not None:
        text = _("the limit {limit} has no value in force on {day}").format(limit=missing.limit, day=rule.day)
        return Reason("no value in force", text)
    reasons = [bound.version.none for bound in used.bounds if bound.version is not None and bound.value is None]
    return Reason("no value in force", reasons[0] or "")


def _unknown_reason(rule: CompiledRule, used: LeafInForce, column: Column, record: Measured | None) -> Reason:
    if column.state[0] == NO_MEMBER:
        what = measure_in_words(used.leaf.measure, rule.facts)
        return Reason("applicability", _("there is nothing to take {what} of").format(what=what))
    if record is not None and record.reason is not None:
        return record.reason
    what = measure_in_words(used.leaf.measure, rule.facts)
    settle = used.leaf.measure.name if isinstance(used.leaf.measure, FactOf) else None
    return Reason("cannot be computed", _("{what} has no value that can be compared").format(what=what), settle)


def _straddling_reason(rule: CompiledRule, used: LeafInForce, column: Column) -> Reason:
    doubt = column.doubts[0] if column.doubts else None
    if doubt is not None:
        return doubt
    if isinstance(used.leaf.measure, VerdictOf):
        what = measure_in_words(used.leaf.measure, rule.facts)
        return Reason("missing input", _("{what} cannot be told").format(what=what))
    settle = used.leaf.measure.name if isinstance(used.leaf.measure, FactOf) else None
    found = value_in_words(column.value[0], column.uncertainty[0], used.unit, column.low[0], column.high[0])
    text = _("{found} does not decide against {bounds}").format(found=found, bounds=_shown(used))
    return Reason("within uncertainty", text, settle)


def _warnings(rule: CompiledRule, used: LeafInForce, low: Any, value: Any, high: Any) -> tuple[str, ...]:
    found = [
        governing_unit_matters(bound.version, *_in_unit_of(bound, used, (low, value, high)), comparison, rule.decision)
        for bound, comparison in zip(used.bounds, _comparisons(used), strict=True)
        if bound.version is not None
    ]
    return tuple(warning for warning in found if warning is not None)


def _comparisons(used: LeafInForce) -> Sequence[str]:
    """What each bound is by itself: the ends of a range are a least and a greatest value."""
    if used.leaf.comparison == "between":
        return ("at_least", "at_most")
    return [used.leaf.comparison] * len(used.bounds)


def _in_unit_of(bound: BoundUsed, used: LeafInForce, values: tuple[float, float, float]) -> tuple[float, float, float]:
    low, value, high = (to_12_digits(convert(number, used.unit or "", bound.unit)) for number in values)
    return low, value, high
