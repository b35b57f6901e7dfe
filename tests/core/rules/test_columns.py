from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.rules import column_of
from afield.core.rules.columns import KNOWN, NOT_STATED, UNTOLD

NOT_THERE = unknown(Reason("not stated", "it is not stated"))
FAILED_TO_COMPUTE = unknown(Reason("plugin failed", "it failed"))


def test_numbers_are_converted_to_the_bounds_unit_and_rounded_once() -> None:
    column = column_of([Measured(24.384, "m", 24.079, 24.689)], "ft")
    assert (column.low, column.value, column.high) == ([78.999343832], [80.0], [81.000656168])
    assert list(column.uncertainty) == pytest.approx([0.305 / 0.3048], abs=1e-11)
    assert (column.unit, column.state) == ("ft", bytes([KNOWN]))


def test_the_noise_of_binary_arithmetic_is_rounded_away_in_the_same_unit_too() -> None:
    assert column_of([Measured(0.1 + 0.2, "m")], "m").value == [0.3]


def test_an_exact_value_is_its_own_interval() -> None:
    column = column_of([Measured(3, "")], "")
    assert (column.low, column.value, column.high, column.uncertainty) == ([3.0], [3.0], [3.0], [0.0])


def test_the_uncertainty_comes_from_the_parts_where_there_are_any() -> None:
    column = column_of([Measured(10.0, "m", 5.0, 15.0, {"a": 3.0, "b": -4.0})], "m")
    assert column.uncertainty == [5.0]


def test_an_uncertainty_of_temperature_is_a_difference() -> None:
    column = column_of([Measured(25.0, "degC", 20.0, 30.0)], "degF")
    assert (column.low, column.value, column.high, column.uncertainty) == ([68.0], [77.0], [86.0], [9.0])


def test_states_tell_known_untold_and_not_stated_apart() -> None:
    column = column_of([Measured(1.0, "m"), FAILED_TO_COMPUTE, NOT_THERE], "m")
    assert column.state == bytes([KNOWN, UNTOLD, NOT_STATED])
    assert column.uncertainty[1:] == [None, None]
    assert not column.all_known
    assert column_of([Measured(1.0, "m")], "m").all_known


@pytest.mark.parametrize("value", ["3", True, float("nan"), float("inf"), None])
def test_a_value_that_is_no_number_cannot_be_told(value: object) -> None:
    assert column_of([Measured(value, "m")], "m").state == bytes([UNTOLD])


@pytest.mark.parametrize(("fact_type", "value"), [("text", 3), ("bool", "yes"), ("instant", "noon"), ("instant", 5)])
def test_a_value_of_another_type_cannot_be_told(fact_type: str, value: object) -> None:
    assert column_of([Measured(value)], None, fact_type).state == bytes([UNTOLD])


def test_instants_are_minutes_whatever_their_zone_or_form() -> None:
    west = timezone(timedelta(hours=-7))
    instants = [datetime(1970, 1, 1, 1, 0, tzinfo=UTC), datetime(1969, 12, 31, 18, 0, tzinfo=west), "1970-01-01T01:00Z"]
    column = column_of([Measured(instant) for instant in instants], None, "instant")
    assert column.value == [60.0, 60.0, 60.0]


def test_a_column_of_one_keeps_all_that_belongs_to_it() -> None:
    doubts = [None, Reason("within uncertainty", "x")]
    column = column_of([Measured(1.0, "m"), Measured(2.0, "m", 1.0, 3.0)], "m", doubts=doubts).at(1)
    assert (column.low, column.value, column.high, column.uncertainty) == ([1.0], [2.0], [3.0], [1.0])
    assert (column.records, column.doubts) == ([Measured(2.0, "m", 1.0, 3.0)], [doubts[1]])


def test_an_empty_column_has_no_entries() -> None:
    assert column_of([], "m").state == b""


UNITS = st.sampled_from([("m", "ft", "0.3048"), ("km", "mi", "1.609344"), ("kg", "lb", "0.45359237")])


@given(UNITS, st.decimals(Decimal("0.001"), 100_000, places=3))
def test_conversion_never_moves_a_value_off_the_printed_limit(units: tuple[str, str, str], printed: Decimal) -> None:
    """A value that is exactly the limit, known in another unit, is still exactly the limit."""
    metric, imperial, size = units
    value = float(printed * Decimal(size))
    assert column_of([Measured(value, metric)], imperial).value == [float(printed)]
    back = float(printed / Decimal(size))
    assert column_of([Measured(back, imperial)], metric).value == [float(printed)]
