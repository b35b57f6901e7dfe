from __future__ import annotations

from math import log
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.contacts.computations.counts import prob_at_least_in_time, prob_at_least_negative_binomial
from afield.plugins.contacts.computations.gamma import gamma_quantile
from afield.plugins.contacts.computations.times import hours_for_probability, minutes_needed
from afield.plugins.contacts.computations.utc_days import best_division

RATES = st.floats(min_value=0.5, max_value=60)
WANTED = st.integers(min_value=1, max_value=40)
CHANCES = st.floats(min_value=0.01, max_value=0.99)


@given(RATES, WANTED, CHANCES)
def test_the_time_gives_the_chance(rate: float, at_least: int, chance: float) -> None:
    hours = hours_for_probability(rate, at_least, chance)
    assert hours == pytest.approx(gamma_quantile(at_least, chance) / rate, rel=1e-9)


@given(RATES, WANTED, st.floats(min_value=0.01, max_value=0.95), st.floats(min_value=2, max_value=100))
def test_the_time_with_clumps_gives_the_chance(rate: float, at_least: int, chance: float, k: float) -> None:
    mean = hours_for_probability(rate, at_least, chance, k) * rate
    assert prob_at_least_negative_binomial(mean, k, at_least) == pytest.approx(chance, abs=1e-9)


def test_one_contact_waits_exponentially() -> None:
    assert hours_for_probability(6, 1, 0.9) == pytest.approx(log(10) / 6)


@given(RATES, WANTED)
def test_minutes_are_the_first_whole_ones(rate: float, at_least: int) -> None:
    minutes = minutes_needed(rate, at_least)
    assert prob_at_least_in_time(rate, minutes / 60, at_least) >= 0.9 - 1e-9
    assert prob_at_least_in_time(rate, (minutes - 1) / 60, at_least) < 0.9


def test_ten_contacts_at_six_an_hour() -> None:
    assert minutes_needed(6, 10) == 143
    assert minutes_needed(6, 10, dispersion_k=4) > 200


@given(
    RATES, st.integers(min_value=0, max_value=15), st.integers(min_value=1, max_value=90), st.sampled_from([None, 3.0])
)
def test_equal_days_share_the_time_evenly(rate: float, at_least: int, half: int, k: float | None) -> None:
    found = best_division(2 * half, rate, rate, at_least, at_least, k, aim="weaker")
    assert found.minutes_before == found.minutes_after == half
    assert found.chance_before == found.chance_after


@given(RATES, RATES, st.integers(0, 12), st.integers(0, 12), st.integers(1, 120))
def test_no_division_is_better(before: float, after: float, first: int, second: int, minutes: int) -> None:
    found = best_division(minutes, before, after, first, second)
    assert found.minutes_before + found.minutes_after == minutes
    for other in range(0, minutes + 1, 7):
        chances = (
            prob_at_least_in_time(before, other / 60, first),
            prob_at_least_in_time(after, (minutes - other) / 60, second),
        )
        assert chances[0] * chances[1] <= found.chance_of_both + 1e-9


def test_the_slower_side_gets_more_time() -> None:
    found = best_division(240, 12, 6, 10, 10)
    assert 75 <= found.minutes_before <= 95
    assert found.chance_of_both == pytest.approx(found.chance_before * found.chance_after)


def test_a_day_that_asks_for_nothing_gets_nothing() -> None:
    found = best_division(120, 10, 10, 10, 0)
    assert (found.minutes_before, found.chance_after) == (120, 1)


def test_the_weaker_day_may_be_served_at_the_cost_of_both() -> None:
    weaker = best_division(60, 10, 10, 12, 4, aim="weaker")
    both = best_division(60, 10, 10, 12, 4)
    assert min(weaker.chance_before, weaker.chance_after) >= min(both.chance_before, both.chance_after)
    assert weaker.chance_of_both <= both.chance_of_both


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (hours_for_probability, (6, 10, 1), "probability 1 is outside 0 to 0.9999"),
        (hours_for_probability, (6, 10, 0), "probability 0 needs no time; give one above 0"),
        (hours_for_probability, (6, 0, 0.9), "at least 0 is outside 1 to 100000"),
        (
            hours_for_probability,
            (0.001, 50, 0.9),
            "50 contacts at 0.001 per hour take more than 10,000 h for this chance",
        ),
        (best_division, (0, 6, 6, 10, 10), "time 0 min is outside 1 to 2880"),
        (best_division, (90.5, 6, 6, 10, 10), "minutes 90.5 is not a whole number"),
        (best_division, (90, 0, 6, 10, 10), "rate 0 per hour is outside 0.001 to 1000"),
        (best_division, (90, 6, 6, 10, 10, None, "most"), 'aim "most" is not known; give both or weaker'),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
