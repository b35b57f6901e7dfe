from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from afield.plugins.power.computations.peukert import (
    peukert_exponent_from_two_points,
    peukert_one_hour_form,
    peukert_rated_form,
)

EXPONENTS = st.floats(min_value=1, max_value=1.9)
CAPACITIES = st.floats(min_value=1, max_value=200)
RATED_HOURS = st.sampled_from([5.0, 10.0, 20.0, 100.0])
TIMES_RATED = st.floats(min_value=1, max_value=20)


@given(CAPACITIES, RATED_HOURS, EXPONENTS, TIMES_RATED, TIMES_RATED)
def test_the_exponent_comes_back_from_two_discharges(
    capacity_ah: float, hours: float, k: float, one: float, other: float
) -> None:
    assume(abs(one / other - 1) > 0.01)
    currents = [times * capacity_ah / hours for times in (one, other)]
    first, second = (peukert_rated_form(capacity_ah, hours, k, current) for current in currents)
    found = peukert_exponent_from_two_points(currents[0], first.hours, currents[1], second.hours)
    assert found == pytest.approx(k, abs=2e-6)


@given(CAPACITIES, RATED_HOURS, EXPONENTS, TIMES_RATED)
def test_a_battery_never_gives_more_than_its_rating(capacity_ah: float, hours: float, k: float, times: float) -> None:
    found = peukert_rated_form(capacity_ah, hours, k, times * capacity_ah / hours)
    assert found.effective_ah <= capacity_ah * (1 + 1e-9)
    assert found.hours <= hours * (1 + 1e-9)


@given(CAPACITIES, RATED_HOURS, EXPONENTS)
def test_the_rated_current_lasts_the_rated_hours(capacity_ah: float, hours: float, k: float) -> None:
    found = peukert_rated_form(capacity_ah, hours, k, capacity_ah / hours)
    assert found.hours == pytest.approx(hours)
    assert found.effective_ah == pytest.approx(capacity_ah)


@given(CAPACITIES, RATED_HOURS, EXPONENTS, TIMES_RATED)
def test_both_forms_agree_once_the_capacity_is_that_at_one_ampere(
    capacity_ah: float, hours: float, k: float, times: float
) -> None:
    current_a = times * capacity_ah / hours
    at_1_a = hours * (capacity_ah / hours) ** k
    assert peukert_one_hour_form(at_1_a, k, current_a) == pytest.approx(
        peukert_rated_form(capacity_ah, hours, k, current_a).hours
    )


def test_the_capacity_of_the_label_in_the_short_form_is_wrong_by_a_quarter() -> None:
    assert peukert_one_hour_form(100, 1.2, 5) == pytest.approx(14.5, abs=0.05)
    assert peukert_rated_form(100, 20, 1.2, 5).hours == pytest.approx(20)


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (peukert_one_hour_form, (0, 1.2, 5), "capacity 0 Ah must be a finite number above 0"),
        (peukert_one_hour_form, (100, 1.2, 0), "current 0 A must be a finite number above 0"),
        (peukert_one_hour_form, (100, 0.9, 5), "Peukert's exponent 0.9 is outside 1 to 2"),
        (peukert_rated_form, (100, 20, 2.1, 5), "Peukert's exponent 2.1 is outside 1 to 2"),
        (peukert_rated_form, (100, 0, 1.2, 5), "rating 0 h must be a finite number above 0"),
        (
            peukert_rated_form,
            (100, 20, 1.2, 0.5),
            "current 0.5 A is below 5 A, at which the battery is rated: Peukert's law would promise more than its "
            "capacity; take hours = capacity / current",
        ),
        (
            peukert_exponent_from_two_points,
            (5, 20, 5, 7.5),
            "both currents are 5 A; two different ones give an exponent",
        ),
        (peukert_exponent_from_two_points, (5, 20, 10, 11), "Peukert's exponent 0.862496 is outside 1 to 2"),
        (peukert_exponent_from_two_points, (5, 20, 10, 0), "time 0 h must be a finite number above 0"),
    ],
)
def test_what_cannot_be_is_refused(computation: Any, arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(*arguments)
    assert str(refused.value) == message
