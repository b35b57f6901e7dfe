"""Margins, measured values and limits in words: in the limit's unit, lengths in both systems."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from afield.core.facts.measured import Measured
from afield.core.language import _, in_context, local_digits, marked
from afield.core.quantities import printed_both, printed_interval, shown_unit
from afield.core.report.amounts import amount, exact_words
from afield.core.report.records import is_number
from afield.core.rules.bounds import BoundUsed, comparable
from afield.core.rules.explain import LeafResult

Json = dict[str, Any]

COMPARISON_WORDS = {
    "at_most": marked("at most"),
    "at_least": marked("at least"),
    "below": marked("limit|below"),
    "above": marked("limit|above"),
    "between": marked("between"),
    "is": marked("is"),
    "one_of": marked("one of"),
    "exists": marked("is"),
}
OPPOSITE_WORDS = {
    "at_most": "limit|above",
    "at_least": "limit|below",
    "below": "at least",
    "above": "at most",
    "between": marked("limit|outside"),
    "is": marked("not"),
    "one_of": marked("none of"),
    "exists": marked("not"),
}
"""What is due where `none` turns a comparison round."""


Sides = tuple[float, float]
"""How far a margin may be less, and how far more, at 95 %."""
NO_SIDES: Sides = (0.0, 0.0)


def margin_json(
    margin: float | None, uncertainty: float | None, unit: str | None, told: bool = True, sides: Sides = NO_SIDES
) -> Json | None:
    """A margin with its words; None where there is none.

    Args:
        margin, uncertainty: in `unit`, the uncertainty at 95 %.
        unit: the limit's.
        told: whether it decides; where it cannot be told, "room" would promise something.
        sides: of `margin_sides`, in `unit`.

    """
    if margin is None:
        return None
    shown, ends = unit or "", (margin - sides[0], margin + sides[1])
    return {
        "value": margin,
        "unit": shown,
        "uncertainty": uncertainty or 0.0,
        "printed": printed_interval(margin, *ends, uncertainty, shown, also_imperial=True)
        if uncertainty
        else exact_words(margin, shown),
        "words": margin_words(margin, uncertainty, shown)
        if told
        else printed_interval(margin, *ends, uncertainty, shown),
    }


def margin_sides(result: LeafResult, negated: bool) -> Sides:
    """How far the margin of the comparison may be less and more; turned round under an odd number of `none`."""
    if not (is_number(result.value) and is_number(result.low) and is_number(result.high)) or result.margin is None:
        return NO_SIDES
    less, more = result.value - result.low, result.high - result.value
    return (more, less) if _falls(result) != negated else (less, more)


def _falls(result: LeafResult) -> bool:
    """Whether the margin falls where the value grows: it has a bound above it, of a range the nearer one."""
    if result.leaf.comparison != "between":
        return result.leaf.comparison in ("at_most", "below")
    least, most = comparable(result.bounds)
    return bool(most - result.value < result.value - least)


def margin_words(margin: float, uncertainty: float | None, unit: str) -> str:
    """ "8 ft (2.4 m) of room", "9 ft (2.7 m) short", "exactly at the limit"."""
    if margin == 0:
        return _("exactly at the limit")
    size = amount(abs(margin), uncertainty, unit, up=margin < 0)
    return (_("{size} of room") if margin > 0 else _("{size} short")).format(size=size)


def short_by(margin: float | None, uncertainty: float | None, unit: str | None) -> str | None:
    """What lacks to the limit, for texts; None where there is no margin."""
    return None if margin is None else amount(abs(margin), uncertainty, unit or "", up=True)


def measured_words(result: LeafResult) -> str | None:
    """The measured value in the limit's unit with its uncertainty; None where there is none."""
    if result.value is None:
        absent = result.leaf.comparison == "exists" and result.record is not None and result.record.not_stated
        return _("not stated") if absent else None
    if is_number(result.value) and result.unit is not None:
        return _number_words(result, result.unit)
    if isinstance(result.value, bool):
        return _("yes") if result.value else _("no")
    values = result.value if isinstance(result.value, list | tuple) else [result.value]
    return ", ".join(_(str(value)) for value in values)


def _number_words(result: LeafResult, unit: str) -> str:
    converted = result.record is None or result.record.unit != unit
    if converted and not result.uncertainty:
        return exact_words(result.value, unit)
    return printed_interval(result.value, result.low, result.high, result.uncertainty, unit, also_imperial=True)


def comparison_words(result: LeafResult, negated: bool) -> str:
    """The comparison in words; the opposite one where an odd number of `none` stands above it."""
    return in_context((OPPOSITE_WORDS if negated else COMPARISON_WORDS)[result.leaf.comparison])


def limit_words(result: LeafResult) -> str | None:
    """The bound as its source prints it, with its printed equivalents, or the other system's."""
    if result.leaf.comparison == "exists":
        return _("stated") if result.bounds[0].value else _("not stated")
    bounds = [bound_words(bound) for bound in result.bounds]
    joiner = _(" and ") if result.leaf.comparison == "between" else ", "
    return joiner.join(bounds) or None


def bound_words(bound: BoundUsed) -> str:
    """One bound: "80 ft (24.4 m)"."""
    if isinstance(bound.value, bool):
        return _("yes") if bound.value else _("no")
    version, shown = bound.version, local_digits(bound.printed)
    if version is None or version.value is None:
        return shown if isinstance(bound.value, Decimal) else _(shown)
    also = ", ".join(f"{local_digits(f'{value:f}')} {shown_unit(unit)}" for value, unit in version.also_printed)
    return f"{shown} ({also})" if also else printed_both(float(version.value), version.unit)


def detail_of(record: Measured | None) -> dict[str, Any]:
    """The detail for texts; that of a displaced computed record serves where the reading itself has none."""
    while record is not None:
        if record.detail:
            return dict(record.detail)
        record = record.displaced
    return {}
