"""The balance against closed forms, what is conserved in it, and its inverses against itself."""

from __future__ import annotations

from math import isnan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.balance import energy_balance, least_capacity, longest_on_air
from afield.plugins.power.computations.peukert import peukert_rated_form

FINITE = "must be a finite power of 0 W or more for each step, and there must be a step"
HOUR = 60
STEP_H = 1 / HOUR
loads = st.lists(st.floats(0, 120), min_size=1, max_size=60)
shares = st.floats(0.3, 1.0)
exponents = st.floats(1.0, 1.4)


def test_a_constant_load_ends_when_the_usable_energy_is_used() -> None:
    found = energy_balance([12.8] * 8 * HOUR, 0, STEP_H, 12.8, 6.0, usable_fraction=0.9)
    assert found.ends_h == pytest.approx(5.4)
    assert found.charge[-1] == pytest.approx(1 - 8 / 5.4)
    assert (found.least, found.used_wh, found.harvested_wh) == (
        pytest.approx(1 - 8 / 5.4), pytest.approx(8 * 12.8), 0
    )  # fmt: skip


def test_a_battery_that_outlasts_the_load_has_no_end() -> None:
    found = energy_balance([12.8] * 2 * HOUR, 0, STEP_H, 12.8, 6.0)
    assert isnan(found.ends_h)
    assert found.charge[-1] == found.least == pytest.approx(1 - 2 / 6)


@given(st.floats(1.0, 10.0), exponents)
def test_a_constant_current_lasts_as_long_as_peukerts_law_says(times_rated: float, k: float) -> None:
    current = times_rated * 7 / 20
    hours = peukert_rated_form(7, 20, k, current).hours
    found = energy_balance([current * 12] * int(hours * HOUR + 2), 0, STEP_H, 12, 7, rated_hours=20, k=k)
    assert found.ends_h == pytest.approx(hours)


def test_below_the_rated_current_the_law_promises_no_more_than_the_capacity() -> None:
    found = energy_balance([12 * 0.1] * HOUR, 0, STEP_H, 12, 7, rated_hours=20, k=1.3)
    assert found.charge[-1] == pytest.approx(1 - 0.1 / 7)


@given(loads, st.floats(0, 60), st.floats(0.5, 50), shares, st.floats(0, 1))
def test_energy_is_conserved(load: list[float], sun: float, capacity: float, usable: float, charged: float) -> None:
    found = energy_balance(load, sun, STEP_H, 12.8, capacity, usable, charged)
    full_wh = capacity * usable * 12.8
    held = (found.charge[0] - found.charge[-1]) * full_wh
    assert held + found.harvested_wh == pytest.approx(found.used_wh, abs=1e-6 * (full_wh + found.used_wh + 60 * sun))


@given(loads, st.floats(0, 60), st.floats(0.5, 50), exponents, shares)
def test_the_charge_is_never_above_full_nor_least_above_any_of_it(
    load: list[float], sun: float, capacity: float, k: float, kept: float
) -> None:
    found = energy_balance(load, sun, STEP_H, 12.8, capacity, k=k, charging_efficiency=kept)
    assert found.charge.max() <= 1 + 1e-12
    assert found.least == found.charge.min()


def test_a_full_battery_takes_no_more_and_loses_from_full_on() -> None:
    found = energy_balance([0] * HOUR + [12.8] * HOUR, [30] * HOUR + [0] * HOUR, STEP_H, 12.8, 6.0)
    assert found.charge[HOUR] == 1
    assert found.charge[-1] == pytest.approx(1 - 1 / 6)
    assert found.harvested_wh == pytest.approx(0, abs=1e-9)


def test_what_is_put_in_counts_less_its_loss() -> None:
    found = energy_balance([0] * HOUR, 12.8, STEP_H, 12.8, 10, charged_fraction=0.5, charging_efficiency=0.8)
    assert found.charge[-1] == pytest.approx(0.5 + 0.8 / 10)


def test_the_start_counts_from_the_usable_end() -> None:
    assert energy_balance([0.0], 0, STEP_H, 12, 10, 0.5, 0.75).charge[0] == pytest.approx(0.5)
    assert energy_balance([0.0], 0, STEP_H, 12, 10, 0.5, 0.4).ends_h == 0


@given(loads, st.floats(0, 30), shares, exponents, shares)
def test_the_least_capacity_is_just_enough(
    load: list[float], sun: float, usable: float, k: float, charged: float
) -> None:
    load, start = [*load, 40.0], charged - (1 - usable)
    if start < 0.05:
        start, charged = usable, 1.0
    capacity = least_capacity(load, sun, STEP_H, 12.8, usable, charged, k=k)
    enough = energy_balance(load, sun, STEP_H, 12.8, capacity * 1.0001, usable, charged, k=k)
    lacking = energy_balance(load, sun, STEP_H, 12.8, capacity * 0.999, usable, charged, k=k)
    assert enough.least >= -1e-6
    assert lacking.least < 0


@given(loads, st.floats(5, 100), st.floats(5, 20), exponents)
def test_the_longest_time_on_the_air_ends_where_the_forward_balance_ends(
    load: list[float], then: float, capacity: float, k: float
) -> None:
    hours = longest_on_air(load, then, STEP_H, 12.8, capacity, k=k)
    steps = max(0, int(hours * HOUR) + 2 - len(load))
    forward = energy_balance([*load, *[then] * steps], 0, STEP_H, 12.8, capacity, k=k)
    assert forward.ends_h == pytest.approx(hours, rel=1e-6)


def test_more_load_never_leaves_more_charge() -> None:
    steps = np.linspace(0, 50, 40)
    left = [energy_balance([watts] * HOUR, 5, STEP_H, 12, 7, k=1.2).charge[-1] for watts in steps]
    assert left == sorted(left, reverse=True)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"load_w": []}, f"load {FINITE}"),
        ({"load_w": [-1.0]}, f"load {FINITE}"),
        ({"harvest_w": float("nan")}, f"harvest {FINITE}"),
        ({"step_h": 0}, "step 0 h must be a finite number above 0"),
        ({"capacity_ah": 0}, "capacity 0 Ah must be a finite number above 0"),
        ({"usable_fraction": 90}, "usable fraction 90 is not above 0 and up to 1; write 90 % as 0.9"),
        ({"charged_fraction": 1.1}, "charged fraction 1.1 is outside 0 to 1"),
        ({"k": 0.9}, "Peukert's exponent 0.9 is outside 1 to 2"),
        ({"cold_factor": 0}, "cold factor 0 is not above 0 and up to 1; write 90 % as 0.9"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(change: dict[str, Any], message: str) -> None:
    given_values: dict[str, Any] = {
        "load_w": [1.0], "harvest_w": 0.0, "step_h": STEP_H, "nominal_v": 12.8, "capacity_ah": 6.0, **change
    }  # fmt: skip
    with pytest.raises(ValueError) as refused:
        energy_balance(**given_values)
    assert str(refused.value) == message


def test_no_capacity_is_enough_for_a_battery_that_starts_empty() -> None:
    with pytest.raises(ValueError) as refused:
        least_capacity([1.0], 0, STEP_H, 12, 0.5, 0.5)
    assert str(refused.value) == "no capacity is enough: the battery starts with no usable charge"


def test_nothing_drawn_needs_no_capacity_and_lasts_for_ever() -> None:
    assert least_capacity([0.0], 0, STEP_H, 12) == 0
    with pytest.raises(ValueError) as refused:
        longest_on_air([1.0], 0, STEP_H, 12, 7)
    assert str(refused.value) == "nothing is drawn after the last step, so that the battery would last for ever"
