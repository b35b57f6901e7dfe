"""What holds for every value, limit and uncertainty."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.measured import Measured
from afield.core.rules import (
    CANNOT_TELL,
    FAILED,
    PASSED,
    Bound,
    Column,
    Condition,
    FactOf,
    Group,
    Leaf,
    Limit,
    Measure,
    Version,
    column_of,
    compile_rule,
)
from afield.core.rules.outcomes import negated

DAY = date(2026, 6, 27)
LIMITS = st.decimals(Decimal("0.01"), 5_000, places=2)
UNITS = st.sampled_from(["m", "ft", "yd", "km"])
UNCERTAINTIES = st.floats(0.001, 50)
ONE_SIDED = st.sampled_from(["at_most", "at_least", "below", "above"])


def columns_of(records: list[Measured]) -> Callable[[Measure, str | None], Column]:
    return lambda measure, unit: column_of(records, unit)


def judged(condition: Condition, records: list[Measured], limits: dict[str, Limit] | None = None) -> Any:
    return compile_rule(condition, None, DAY, limits or {}, {}).judge(columns_of(records), len(records))


def against(comparison: str, value: Decimal, unit: str) -> Leaf:
    return Leaf(FactOf("place.farthest"), comparison, (Bound(value=value, unit=unit),))


@given(LIMITS, UNITS, UNCERTAINTIES, ONE_SIDED)
def test_a_value_that_crosses_a_limit_passes_through_cannot_tell(
    limit: Decimal, unit: str, uncertainty: float, comparison: str
) -> None:
    """In steps of a tenth of its uncertainty, from well inside to well outside or back."""
    centre = float(limit) * {"m": 1.0, "ft": 0.3048, "yd": 0.9144, "km": 1000.0}[unit]
    values = [centre + uncertainty * step / 10 for step in range(-25, 26)]
    records = [Measured(value, "m", value - uncertainty, value + uncertainty) for value in values]
    outcomes = list(judged(against(comparison, limit, unit), records).outcome)
    runs = [code for index, code in enumerate(outcomes) if index == 0 or outcomes[index - 1] != code]
    expected = [PASSED, CANNOT_TELL, FAILED]
    assert runs == (expected if comparison in ("at_most", "below") else expected[::-1])


@given(LIMITS, UNITS, st.lists(st.floats(0, 5_000), min_size=1, max_size=5), UNCERTAINTIES, ONE_SIDED)
def test_none_negates_outcome_and_margin(
    limit: Decimal, unit: str, values: list[float], uncertainty: float, comparison: str
) -> None:
    records = [Measured(value, "m", value - uncertainty, value + uncertainty) for value in values]
    leaf = against(comparison, limit, unit)
    plain, none = judged(leaf, records), judged(Group("none", (leaf,)), records)
    assert none.outcome == negated(plain.outcome)
    assert none.margin == [-margin for margin in plain.margin]
    assert none.uncertainty == plain.uncertainty


LEAVES = st.builds(against, ONE_SIDED, LIMITS, UNITS)


@given(st.lists(LEAVES, min_size=1, max_size=4), st.floats(0, 5_000), UNCERTAINTIES)
def test_de_morgan_holds_for_judged_conditions(leaves: list[Leaf], value: float, uncertainty: float) -> None:
    records = [Measured(value, "m", value - uncertainty, value + uncertainty)]
    not_any = judged(Group("none", tuple(leaves)), records)
    all_not = judged(Group("all", tuple(Group("none", (leaf,)) for leaf in leaves)), records)
    assert not_any.outcome == all_not.outcome
    assert not_any.margin == all_not.margin
    assert not_any.decider == all_not.decider


@given(LIMITS, st.sampled_from([("ft", "0.3048"), ("yd", "0.9144"), ("km", "1000")]))
def test_a_value_exactly_at_the_limit_is_there_in_every_unit(limit: Decimal, unit: tuple[str, str]) -> None:
    symbol, size = unit
    at_limit = [Measured(float(limit * Decimal(size)), "m")]
    limits = {"corridor": Limit("corridor", (Version(date(2020, 1, 1), None, limit, symbol),))}
    for comparison, outcome in (("at_most", PASSED), ("below", FAILED), ("at_least", PASSED), ("is", PASSED)):
        leaf = Leaf(FactOf("place.farthest"), comparison, (Bound(limit="corridor"),))
        verdict = judged(leaf, at_limit, limits)
        assert (list(verdict.outcome), verdict.margin) == ([outcome], [0.0])


@given(LIMITS, st.floats(0, 5_000), UNCERTAINTIES, st.floats(0, 1), ONE_SIDED)
def test_a_smaller_uncertainty_never_turns_a_definite_outcome(
    limit: Decimal, value: float, uncertainty: float, share: float, comparison: str
) -> None:
    wide, narrow = uncertainty, uncertainty * share
    records = [Measured(value, "m", value - around, value + around) for around in (wide, narrow)]
    before, after = judged(against(comparison, limit, "m"), records).outcome
    assert before in (CANNOT_TELL, after)
