"""Changes of one figure: a unit of its last printed place up and down, another unit of the same dimension."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from afield.core.authoring.sampling.candidates import last_place
from afield.core.quantities import QuantityError, dimension_of, symbols_of
from afield.core.quantities.printing import OTHER_SYSTEM
from afield.core.rules.limits import printed_figure


def changed_figures(figure: Decimal, unit: str) -> Iterator[tuple[str, Decimal, str]]:
    """The changes of a figure: as printed, its new value, its new unit."""
    step = last_place(figure)
    changed = [(figure + step, unit), (figure - step, unit)]
    other = other_unit(unit)
    if other is not None:
        changed.append((figure, other))
    for new, new_unit in changed:
        yield printed_figure(new, new_unit), new, new_unit


def other_unit(unit: str) -> str | None:
    """Another unit of the same dimension, of a length the one of the other system; None where there is none."""
    if unit in OTHER_SYSTEM:
        return OTHER_SYSTEM[unit]
    try:
        symbols = symbols_of(dimension_of(unit)) if unit else []
    except QuantityError:
        return None
    return next((symbol for symbol in symbols if symbol != unit), None)
