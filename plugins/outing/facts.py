"""Counts over the neutral sections."""

from __future__ import annotations

from typing import Any

from afield.core.api import Fact, fact


@fact(
    "station.operators",
    kind="trip",
    type="number",
    unit="",
    title="number of operators",
    exact=True,
    each={"names": ("operator", "operator.class")},
    optional=["names"],
)
def station_operators(names: list[tuple[Any, Any]]) -> int:
    """How many operators the plan names."""
    return len(names)


FACTS: list[Fact] = [station_operators]
