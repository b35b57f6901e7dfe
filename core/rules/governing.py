"""Where the figure that governs and the equivalent printed beside it would decide differently."""

from __future__ import annotations

from afield.core.language import _, local_digits
from afield.core.quantities import convert, to_12_digits
from afield.core.rules.comparisons import outcome_of
from afield.core.rules.limits import Version, printed_figure


def governing_unit_matters(
    version: Version, low: float, value: float, high: float, comparison: str, decision: str = "guarded"
) -> str | None:
    """The warning for a verdict that the printed equivalent would turn, naming the unit that governs; None if none.

    Args:
        version: with the figure and its printed equivalents.
        low, value, high: of the measure, in the version's unit, rounded to 12 digits.
        comparison: any that takes one number.
        decision: as of the rule.

    """
    if version.value is None:
        return None
    ends = (value, value) if decision == "simple" else (low, high)
    outcome = outcome_of(comparison, *ends, (to_12_digits(float(version.value)),))
    for figure, unit in version.also_printed:
        moved_low, moved_high = (to_12_digits(convert(end, version.unit, unit)) for end in ends)
        if outcome_of(comparison, moved_low, moved_high, (float(figure),)) != outcome:
            return _("{governs} governs; the {beside} printed beside it would decide otherwise").format(
                governs=local_digits(printed_figure(version.value, version.unit)),
                beside=local_digits(printed_figure(figure, unit)),
            )
    return None
