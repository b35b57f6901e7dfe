"""Margins, measured values and limits in words: in the limit's unit, lengths in both systems."""

from __future__ import annotations

from typing import Any

from afield.core.facts.measured import Measured
from afield.core.quantities import convert_difference, printed, printed_both, printed_digits, shown_unit
from afield.core.report.records import is_number
from afield.core.rules.bounds import BoundUsed
from afield.core.rules.explain import LeafResult

Json = dict[str, Any]

COMPARISON_WORDS = {
    "at_most": "at most",
    "at_least": "at least",
    "below": "below",
    "above": "above",
    "between": "between",
    "is": "is",
    "one_of": "one of",
    "exists": "stated",
}


def margin_json(margin: float | None, uncertainty: float | None, unit: str | None, told: bool = True) -> Json | None:
    """A margin with its words; None where there is none.

    Args:
        margin, uncertainty: in `unit`, the uncertainty at 95 %.
        unit: the limit's.
        told: whether it decides; where it cannot be told, "room" would promise something.

    """
    if margin is None:
        return None
    shown = unit or ""
    return {
        "value": margin,
        "unit": shown,
        "uncertainty": uncertainty or 0.0,
        "printed": printed(margin, uncertainty, shown, also_imperial=True),
        "words": margin_words(margin, uncertainty, shown) if told else printed(margin, uncertainty, shown),
    }


def margin_words(margin: float, uncertainty: float | None, unit: str) -> str:
    """ "8 ft (2.4 m) of room", "9 ft (2.7 m) short", "exactly at the limit"."""
    if margin == 0:
        return "exactly at the limit"
    size = amount(abs(margin), uncertainty, unit)
    return f"{size} of room" if margin > 0 else f"{size} short"


def amount(size: float, uncertainty: float | None, unit: str) -> str:
    """A size to the digits that its uncertainty justifies, a length in both systems."""
    if not uncertainty:
        return printed_both(size, unit)
    digits = printed_digits(size, uncertainty)[0]
    from afield.core.quantities.printing import OTHER_SYSTEM

    if unit not in OTHER_SYSTEM:
        return f"{digits} {shown_unit(unit)}".rstrip()
    other = OTHER_SYSTEM[unit]
    turned = printed_digits(convert_difference(size, unit, other), convert_difference(uncertainty, unit, other))[0]
    return f"{digits} {shown_unit(unit)} ({turned} {shown_unit(other)})"


def short_by(margin: float | None, uncertainty: float | None, unit: str | None) -> str:
    """What lacks to the limit, for texts."""
    return "not known" if margin is None else amount(abs(margin), uncertainty, unit or "")


def measured_words(result: LeafResult) -> str | None:
    """The measured value in the limit's unit with its uncertainty; None where there is none."""
    if result.value is None:
        return None
    if is_number(result.value) and result.unit is not None:
        return printed(result.value, result.uncertainty, result.unit, also_imperial=True)
    if isinstance(result.value, bool):
        return "yes" if result.value else "no"
    return ", ".join(map(str, result.value)) if isinstance(result.value, list | tuple) else str(result.value)


def limit_words(result: LeafResult) -> str | None:
    """The bound as its source prints it, with its printed equivalents, or the other system's."""
    bounds = [bound_words(bound) for bound in result.bounds]
    joiner = " and " if result.leaf.comparison == "between" else ", "
    return joiner.join(bounds) or None


def bound_words(bound: BoundUsed) -> str:
    """One bound: "80 ft (24.4 m)"."""
    if isinstance(bound.value, bool):
        return "yes" if bound.value else "no"
    version = bound.version
    if version is None or version.value is None:
        return bound.printed
    also = ", ".join(f"{value:f} {shown_unit(unit)}" for value, unit in version.also_printed)
    return f"{bound.printed} ({also})" if also else printed_both(float(version.value), version.unit)


def detail_of(record: Measured | None) -> dict[str, Any]:
    """The detail for texts; that of a displaced computed record serves where the reading itself has none."""
    while record is not None:
        if record.detail:
            return dict(record.detail)
        record = record.displaced
    return {}
