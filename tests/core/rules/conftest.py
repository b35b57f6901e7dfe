"""A small vocabulary: facts, limits and kinds of an invented pack, and short ways to read and judge conditions."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any

import pytest

from afield.core.facts.declarations import Fact, Kind
from afield.core.facts.measured import Measured
from afield.core.rules import (
    Column,
    CompiledRule,
    Complaint,
    Condition,
    Limit,
    Measure,
    column_of,
    compile_rule,
    read_condition,
    read_limits,
)

DAY = date(2026, 6, 27)
SOURCE = {"document": "Freight Road award rules", "section": "4.2"}


@pytest.fixture
def kinds() -> dict[str, Kind]:
    return {
        "trip": Kind("trip", ()),
        "claim": Kind("claim", ("program",)),
        "program": Kind("program"),
        "contact": Kind("contact"),
    }


@pytest.fixture
def facts() -> dict[str, Fact]:
    declared = [
        Fact("place.farthest", "claim", unit="m", title="the farthest part"),
        Fact("reference.kind", "claim", type="text", choices=("line", "area")),
        Fact("trip.permitted", "trip", type="bool", title="the permission"),
        Fact("trip.begins", "trip", type="instant", title="the beginning"),
        Fact("trip.names", "trip", type="list", title="the names"),
        Fact("place.outline", "claim", type="opaque"),
        Fact("trip.temperature", "trip", unit="degC", title="the temperature"),
        Fact("contact.count", "trip", unit="", title="the number of contacts"),
        Fact("contact.power", "contact", unit="W", title="the power"),
        Fact("contact.station", "contact", type="text"),
        Fact("trip.all_claims", "trip", unit="", gathers_claims=True),
    ]
    return {fact.name: fact for fact in declared}


@pytest.fixture
def limits() -> dict[str, Limit]:
    read, complaints = read_limits(
        {
            "corridor": [
                {"from": "2024-01-01", "until": "2025-01-01", "none": "There was no corridor yet.", "source": SOURCE},
                {"from": "2025-01-01", "value": "100", "unit": "ft", "also_printed": [{"value": "30.5", "unit": "m"}]},
            ],
            "contacts": [{"from": "2024-01-01", "value": "10"}],
            "warmth": [{"from": "2024-01-01", "value": "30", "unit": "degC"}],
        }
    )
    assert complaints == []
    return read


@pytest.fixture
def read(facts: dict[str, Fact], limits: dict[str, Limit]) -> Callable[..., Condition]:
    def reading(data: Any) -> Condition:
        condition, complaints = read_condition(data, ("require",), facts, limits)
        assert complaints == []
        assert condition is not None
        return condition

    return reading


@pytest.fixture
def complain(facts: dict[str, Fact], limits: dict[str, Limit], kinds: dict[str, Kind]) -> Callable[..., Complaint]:
    """The only complaint about a condition of a rule for each claim."""

    def complaining(data: Any, **known: Any) -> Complaint:
        condition, complaints = read_condition(
            data, ("require",), facts, limits, **{"kind": "claim", "kinds": kinds, **known}
        )
        assert condition is None
        assert len(complaints) == 1, complaints
        return complaints[0]

    return complaining


@pytest.fixture
def compiled(read: Callable[..., Condition], facts: dict[str, Fact], limits: dict[str, Limit]) -> Callable[..., Any]:
    def compiling(data: Any, where: Any = None, day: date = DAY, decision: str = "guarded") -> CompiledRule:
        return compile_rule(read(data), read(where) if where else None, day, limits, facts, decision)

    return compiling


@pytest.fixture
def columns(facts: dict[str, Fact]) -> Callable[..., Any]:
    """A `ColumnsFor` over records by fact name."""

    def of(records: Mapping[str, Sequence[Measured]]) -> Callable[[Measure, str | None], Column]:
        def columns_for(measure: Measure, unit: str | None) -> Column:
            return column_of(records[measure.name], unit, facts[measure.name].type)  # type: ignore[union-attr]

        return columns_for

    return of
