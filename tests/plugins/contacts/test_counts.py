from __future__ import annotations

from itertools import pairwise
from math import comb, exp, factorial, inf, lgamma, log, log1p
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.contacts.computations.counts import (
    prob_at_least_in_time,
    prob_at_least_negative_binomial,
    prob_at_least_poisson,
)
from afield.plugins.contacts.computations.gamma import gamma_cdf, gamma_quantile

MEANS = st.floats(min_value=0.01, max_value=200)
WANTED = st.integers(min_value=0, max_value=150)
DISPERSIONS = st.floats(min_value=0.1, max_value=1e6)


def poisson_sum(mean: float, at_least: int) -> float:
    return 1 - sum(mean**count * exp(-mean) / factorial(count) for count in range(at_least))


def binomial_sum(mean: float, k: int, at_least: int) -> float:
    """The k-th failure comes after so many successes; k whole, so that binomials do."""
    p = k / (k + mean)
    return 1 - sum(comb(count + k - 1, count) * p**k * (1 - p) ** count for count in range(at_least))


def poisson_in_gamma(mean: float, k: float, at_least: int, steps: int = 20_000) -> float:
    """A Poisson number whose mean is gamma distributed with shape k, added up over slices of equal chance."""
    total = 0.0
    width = 12.0 / steps
    for step in range(steps):
        rate = mean * (step + 0.5) * width
        density = exp(k * log(k / mean) + (k - 1) * log(rate) - rate * k / mean - lgamma(k))
        total += poisson_sum(rate, at_least) * density * mean * width
    return total


@given(st.floats(min_value=0.1, max_value=15), st.integers(min_value=0, max_value=20))
def test_the_sum_of_its_terms(mean: float, at_least: int) -> None:
    assert prob_at_least_poisson(mean, at_least) == pytest.approx(poisson_sum(mean, at_least), abs=1e-12)


@given(MEANS, st.integers(min_value=1, max_value=150))
def test_the_waiting_time_of_the_last_contact_is_gamma_distributed(mean: float, at_least: int) -> None:
    assert prob_at_least_poisson(mean, at_least) == pytest.approx(gamma_cdf(at_least, mean), rel=1e-9, abs=1e-300)


@given(st.floats(min_value=0.1, max_value=30), st.integers(min_value=1, max_value=9), st.integers(0, 25))
def test_clumps_are_counts_of_successes_before_a_failure(mean: float, k: int, at_least: int) -> None:
    found = prob_at_least_negative_binomial(mean, k, at_least)
    assert found == pytest.approx(binomial_sum(mean, k, at_least), abs=1e-11)


@pytest.mark.parametrize(("mean", "k", "at_least"), [(12, 4.0, 10), (8, 2.5, 3)])
def test_clumps_are_a_rate_that_is_not_well_known(mean: float, k: float, at_least: int) -> None:
    found = prob_at_least_negative_binomial(mean, k, at_least)
    assert found == pytest.approx(poisson_in_gamma(mean, k, at_least), abs=1e-5)


@given(MEANS, MEANS, WANTED, DISPERSIONS)
def test_more_time_is_never_worse(one: float, other: float, at_least: int, k: float) -> None:
    less, more = sorted((one, other))
    assert prob_at_least_poisson(less, at_least) <= prob_at_least_poisson(more, at_least) + 1e-12
    chances = [prob_at_least_negative_binomial(mean, k, at_least) for mean in (less, more)]
    assert chances[0] <= chances[1] + 1e-9


@given(MEANS, DISPERSIONS)
def test_more_contacts_are_never_likelier_and_none_is_sure(mean: float, k: float) -> None:
    chances = [prob_at_least_negative_binomial(mean, k, at_least) for at_least in range(30)]
    assert chances[0] == 1
    assert all(0 <= second <= first + 1e-12 for first, second in pairwise(chances))


@given(st.floats(min_value=0.1, max_value=60), st.integers(min_value=0, max_value=80))
def test_without_clumps_it_is_the_plain_chance(mean: float, at_least: int) -> None:
    plain = prob_at_least_poisson(mean, at_least)
    assert prob_at_least_negative_binomial(mean, 1e12, at_least) == pytest.approx(plain, abs=1e-8)
    near, far = (abs(prob_at_least_negative_binomial(mean, k, at_least) - plain) for k in (1e5, 1e2))
    assert near <= far + 1e-12


def test_clumps_cost_a_minimum_that_the_mean_only_just_holds() -> None:
    assert prob_at_least_negative_binomial(12, 4, 10) < prob_at_least_poisson(12, 10) - 0.15


def test_a_tiny_chance_keeps_its_figures() -> None:
    first = exp(-1 + 60 * log(1.0) - lgamma(61))
    assert prob_at_least_poisson(1, 60) == pytest.approx(first * (1 + 1 / 61 + 1 / 61 / 62), rel=1e-6)


def test_a_heavy_tail_is_not_cut_short() -> None:
    # k = 1: P(N >= n) = (m / (m + 1))^n exactly.
    assert prob_at_least_negative_binomial(50_000, 1, 60_000) == pytest.approx(
        exp(-60_000 * log1p(1 / 50_000)), abs=1e-9
    )


@pytest.mark.parametrize("mean", [800, 5_000, 100_000])
def test_great_means_do_not_underflow(mean: float) -> None:
    assert prob_at_least_poisson(mean, mean) == pytest.approx(0.5, abs=0.02)


@given(st.floats(min_value=0.1, max_value=60), st.floats(min_value=0.1, max_value=10), WANTED)
def test_a_rate_in_a_time_is_their_product(rate: float, hours: float, at_least: int) -> None:
    assert prob_at_least_in_time(rate, hours, at_least) == prob_at_least_poisson(rate * hours, at_least)


def test_no_time_gives_no_contact() -> None:
    assert prob_at_least_in_time(6, 0, 1) == 0
    assert prob_at_least_in_time(6, 0, 0) == 1


@given(st.floats(min_value=0.3, max_value=300), st.floats(min_value=0.001, max_value=0.999))
def test_a_quantile_is_where_its_share_lies(shape: float, share: float) -> None:
    assert gamma_cdf(shape, gamma_quantile(shape, share)) == pytest.approx(share, abs=1e-9)


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (prob_at_least_poisson, (-1, 4), "mean -1 contacts is outside 0 to 100000"),
        (prob_at_least_poisson, (inf, 4), "mean inf contacts is not a finite number"),
        (prob_at_least_poisson, (5, 4.5), "at least 4.5 is not a whole number"),
        (prob_at_least_poisson, (5, -4), "at least -4 is outside 0 to 100000"),
        (prob_at_least_in_time, (-6, 2, 10), "rate -6 per hour is outside 0 to 1000"),
        (prob_at_least_in_time, (6, 200, 10), "time 200 h is outside 0 to 100"),
        (prob_at_least_negative_binomial, (5, 0, 4), "dispersion k 0 is outside 0.05 to 1e+12"),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
