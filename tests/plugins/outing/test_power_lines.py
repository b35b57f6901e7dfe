from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.outing.cautions import POWER_LINES
from afield.plugins.outing.computations.power_lines import (
    TABLE_A,
    antenna_power_line_distance,
    antenna_power_line_distance_fall_plus_10ft,
    power_line_clearance,
    power_line_distance_greatest,
)

KILOVOLTS = st.floats(min_value=0.01, max_value=1000)
METRES = st.floats(min_value=0.1, max_value=250)


@pytest.mark.parametrize(("limit_kv", "feet"), TABLE_A)
def test_a_limit_belongs_to_its_own_row(limit_kv: float, feet: float) -> None:
    assert power_line_clearance(limit_kv).clearance_ft == feet


@given(KILOVOLTS, KILOVOLTS)
def test_more_volts_never_ask_for_less(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert power_line_clearance(low).clearance_ft <= power_line_clearance(high).clearance_ft


def test_a_service_drop_has_10_ft_too() -> None:
    assert power_line_clearance(0.24) == (10, pytest.approx(3.048))


def test_the_cautions_page_prints_the_same_table() -> None:
    feet = [value.partition(" ft")[0] for _, value in map(dict.values, POWER_LINES["figures"])]
    assert feet == [str(feet) for _, feet in TABLE_A]


@given(METRES, METRES, KILOVOLTS)
def test_the_greatest_distance_is_one_of_the_three_and_below_none(mast: float, antenna: float, kv: float) -> None:
    fall_m = antenna_power_line_distance_fall_plus_10ft((mast + antenna) / 0.3048) * 0.3048
    three = {
        "twice mast and antenna": antenna_power_line_distance(mast, antenna),
        "height and 10 ft": fall_m,
        "clearance in air by voltage": power_line_clearance(kv).clearance_m,
    }
    found = power_line_distance_greatest(mast, antenna, kv)
    assert found.min_distance_m == three[found.rule] == max(three.values())


@pytest.mark.parametrize(
    ("mast_m", "line_kv", "rule"),
    [
        (10, 7.2, "twice mast and antenna"),
        (2, 7.2, "height and 10 ft"),
        (2, 400, "clearance in air by voltage"),
    ],
)
def test_the_rules_do_not_agree_and_the_largest_is_named(mast_m: float, line_kv: float, rule: str) -> None:
    assert power_line_distance_greatest(mast_m, 0, line_kv).rule == rule


@pytest.mark.parametrize(
    ("computed", "message"),
    [
        (
            lambda: power_line_clearance(0),
            "line voltage 0 kV is no voltage; take the line's nominal one, phase to phase",
        ),
        (lambda: power_line_clearance(1200), "line voltage 1200 kV is outside 0 to 1000"),
        (lambda: antenna_power_line_distance(-5, 1), "mast -5 m is outside 0 to 250"),
        (lambda: antenna_power_line_distance(5, 251), "antenna 251 m is outside 0 to 250"),
        (lambda: antenna_power_line_distance(0, 0), "mast 0 m and antenna 0 m are nothing that stands"),
        (lambda: antenna_power_line_distance_fall_plus_10ft(-1), "height -1 ft is outside 0 to 1650"),
        (lambda: power_line_distance_greatest(5, 1, float("nan")), "line voltage nan kV is not a finite number"),
    ],
)
def test_figures_out_of_range_are_refused(computed: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computed()
    assert str(refused.value) == message
