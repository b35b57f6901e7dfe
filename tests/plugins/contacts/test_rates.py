from __future__ import annotations

from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.contacts.computations.counts import prob_at_least_negative_binomial, prob_at_least_poisson
from afield.plugins.contacts.computations.exchanges import greatest_rate, prob_at_least_with_exchange
from afield.plugins.contacts.computations.gamma import gamma_cdf
from afield.plugins.contacts.computations.rates import rate_from_counts, time_words, usual_rate

COUNTS = st.lists(st.tuples(st.integers(0, 200), st.floats(min_value=0.25, max_value=8)), min_size=1, max_size=6)


def test_one_count_of_twelve_in_two_hours() -> None:
    # Gamma of shape 12.5 and rate 2, from a chi-square table of 25 degrees: 13.120 and 40.646, halved.
    rate = rate_from_counts([12], [2])
    assert rate.per_h == 6.25
    assert rate.low_per_h == pytest.approx(13.120 / 2 / 2, abs=5e-4)
    assert rate.high_per_h == pytest.approx(40.646 / 2 / 2, abs=5e-4)
    assert rate.basis == "own counts: 12 contacts in 2 h of 1 outing; Jeffreys prior"


def test_no_contact_still_bounds_the_rate() -> None:
    # 95 % interval of shape 1/2: chi-square of one degree, 0.000982 and 5.0239.
    rate = rate_from_counts([0], [1])
    assert rate.low_per_h == pytest.approx(0.000982 / 2, abs=1e-6)
    assert rate.high_per_h == pytest.approx(5.0239 / 2, abs=1e-4)


@given(COUNTS)
def test_the_interval_holds_95_parts_in_100(outings: list[tuple[int, float]]) -> None:
    counts, hours = [one[0] for one in outings], [one[1] for one in outings]
    rate = rate_from_counts(counts, hours)
    scale = rate.dispersion_k / rate.per_h
    assert rate.low_per_h < rate.per_h < rate.high_per_h
    within = [gamma_cdf(rate.dispersion_k, bound * scale) for bound in (rate.low_per_h, rate.high_per_h)]
    assert within == pytest.approx([0.025, 0.975], abs=1e-8)
    assert rate.spread >= 1


def test_more_time_at_the_same_rate_narrows_it() -> None:
    little, much = rate_from_counts([12], [2]), rate_from_counts([120], [20])
    assert much.high_per_h - much.low_per_h < (little.high_per_h - little.low_per_h) / 2


def test_outings_that_differ_widen_it() -> None:
    alike, unlike = rate_from_counts([12, 11, 13], [2, 2, 2]), rate_from_counts([2, 30, 4], [2, 2, 2])
    assert alike.spread == 1
    # By hand: mean 12; (100 + 324 + 64) / 12 / 2.
    assert unlike.spread == pytest.approx(488 / 12 / 2)
    assert unlike.low_per_h < alike.low_per_h < alike.high_per_h < unlike.high_per_h
    assert unlike.basis == "own counts: 36 contacts in 6 h of 3 outings; Jeffreys prior"


def test_the_doubt_of_few_counts_lowers_the_chance() -> None:
    rate = rate_from_counts([6], [1])
    assert prob_at_least_negative_binomial(2 * rate.per_h, rate.dispersion_k, 10) < prob_at_least_poisson(13, 10) - 0.1


@pytest.mark.parametrize("mode", ["CW", "SSB", "FM", "digital"])
def test_a_usual_rate_is_wide_and_says_that_it_has_no_source(mode: str) -> None:
    rate = usual_rate(mode)
    assert rate.high_per_h / rate.low_per_h > 10
    assert rate.low_per_h < rate.per_h < rate.high_per_h
    assert rate.basis == "common practice, no source"


def test_slots_of_fifteen_seconds_bound_the_rate() -> None:
    assert greatest_rate(15, 4) == 60
    assert greatest_rate(15, 6) == 40


@given(st.floats(min_value=0.5, max_value=50), st.floats(min_value=0.1, max_value=6), st.integers(0, 60))
def test_exchanges_of_no_length_change_nothing(rate: float, hours: float, at_least: int) -> None:
    found = prob_at_least_with_exchange(rate, hours, at_least, 1)
    assert found == pytest.approx(prob_at_least_poisson(rate * hours, at_least), abs=0.05)


def test_no_more_fit_than_the_exchanges_allow() -> None:
    assert prob_at_least_with_exchange(30, 1, 60, 60) == 0
    assert prob_at_least_with_exchange(30, 1, 59, 60) < 1e-9
    assert prob_at_least_with_exchange(30, 0.01, 0, 60) == 1


def test_it_is_what_waiting_and_working_by_turns_comes_to() -> None:
    draw, rate, busy, hours, runs = Random(5), 20.0, 90 / 3600, 1.0, 20_000
    free = rate / (1 - rate * busy)
    reached = sum(sum(draw.expovariate(free) + busy for _ in range(18)) <= hours for _ in range(runs))
    assert prob_at_least_with_exchange(rate, hours, 18, 90) == pytest.approx(reached / runs, abs=0.012)


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (rate_from_counts, ([], []), "0 counts and 0 times; give one time for each count"),
        (rate_from_counts, ([3, 4], [1]), "2 counts and 1 times; give one time for each count"),
        (rate_from_counts, ([3], [0]), "time 0 h is outside 0.01 to 1000"),
        (rate_from_counts, ([2.5], [1]), "contacts 2.5 is not a whole number"),
        (usual_rate, ("AM",), 'mode "AM" is not known; known are CW, SSB, FM, digital'),
        (greatest_rate, (0, 4), "transmission 0 s is outside 0.5 to 600"),
        (greatest_rate, (15, 0), "transmissions 0 is outside 1 to 100000"),
        (
            prob_at_least_with_exchange,
            (60, 1, 10, 60),
            "rate 60 per hour is not below the 60 that exchanges of 60 s allow",
        ),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (65 / 60, "1 h 5 min"), (20 / 60, "20 min"), (2, "2 h"), (0.01, "1 min"), (0.001, "0 min"),
        (1234.5, "1,234 h 30 min"),
        (1 + 59.6 / 60, "2 h"),
    ],
)  # fmt: skip
def test_a_time_is_told_to_the_minute(hours: float, words: str) -> None:
    assert time_words(hours) == words
