"""The readings of a tool at and beyond which a comparison passes, or fails, each rounded to its own safe side."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from afield.core.frozen import frozen
from afield.core.language import _, local_digits
from afield.core.quantities import convert_exact, shown_unit
from afield.core.quantities.printing import OTHER_SYSTEM
from afield.core.rules.bounds import BoundUsed

READABLE = {"m": 2, "ft": 1, "km": 3, "cm": 1, "in": 1, "V": 2, "A": 2, "W": 1, "kg": 2, "degC": 1, "deg": 1}
"""Decimals to which a tool's reading is given, by unit; others get 2."""

OPPOSITE = {"at_most": "above", "above": "at_most", "at_least": "below", "below": "at_least"}
"""Comparison -> the one that holds where it does not."""


@frozen
class _Edge:
    """An end of a range of readings, in the fact's unit; strict where the end itself does not belong to it."""

    value: Fraction
    below: bool
    strict: bool

    def words(self, unit: str) -> str:
        other = OTHER_SYSTEM.get(unit)
        figures = _figures(self, unit)
        if other is not None:
            scale = Fraction(convert_exact(Decimal(1), unit, other))
            figures = f"{figures} ({_figures(_Edge(self.value * scale, self.below, self.strict), other)})"
        return (_("it reads {figures} or less") if self.below else _("it reads {figures} or more")).format(
            figures=figures
        )


def _figures(edge: _Edge, unit: str) -> str:
    places = READABLE.get(unit, 2)
    steps = edge.value * 10**places
    whole = floor(steps) if edge.below else ceil(steps)
    if edge.strict and whole == steps:
        whole += -1 if edge.below else 1
    return f"{local_digits(f'{Decimal(whole).scaleb(-places):f}')} {shown_unit(unit)}".rstrip()


def readings(comparison: str, bound: BoundUsed, tool_uncertainty: float, unit: str) -> tuple[str, str] | None:
    """The readings with which it surely passes and surely fails; None for a comparison without two such sides.

    Args:
        comparison: one of `OPPOSITE`; turned round where `none` stands above it.
        bound: with its figure.
        tool_uncertainty: 95 %, in `unit`; 0 where the value alone decides.
        unit: of the reading, which is the fact's.

    """
    if comparison not in OPPOSITE or not isinstance(bound.value, Decimal):
        return None
    width = Fraction(repr(tool_uncertainty))
    limit = Fraction(convert_exact(bound.value, bound.unit, unit))
    return _edge(comparison, limit, width).words(unit), _edge(OPPOSITE[comparison], limit, width).words(unit)


def _edge(comparison: str, limit: Fraction, width: Fraction) -> _Edge:
    """Where the whole interval of a reading meets the comparison."""
    below = comparison in ("at_most", "below")
    return _Edge(limit - width if below else limit + width, below, comparison in ("below", "above"))
