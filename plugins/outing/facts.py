"""Counts over the neutral sections."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Fact, _, fact


@fact(
    "station.operators",
    kind="trip",
    type="number",
    unit="",
    title="number of operators",
    exact=True,
    settle="operators",
    each={"names": ("operator", "operator.class")},
    optional=["names"],
)
def station_operators(names: list[tuple[Any, Any]]) -> int:
    """How many operators the plan names; a plan that names none does not say that nobody goes."""
    if not names:
        raise CannotTell(_("the plan names no operators"), "operators", "not stated", "trip")
    return len(names)


FACTS: list[Fact] = [station_operators]
