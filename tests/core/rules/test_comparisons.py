"""Strict and non-strict: passed if every value in [low, high] meets the comparison, failed if none does."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.rules import CANNOT_TELL, FAILED, PASSED
from afield.core.rules.comparisons import MARGINS, OUTCOMES, outcome_of, plain_outcomes, verdict_outcomes

P, F, C = PASSED, FAILED, CANNOT_TELL
NUMBER = st.integers(-12, 12).map(lambda tenths: tenths / 4)


@pytest.mark.parametrize(
    ("comparison", "low", "high", "outcome"),
    [
        # an exact value at, below and above the bound 5
        ("at_most", 5, 5, P), ("at_most", 4, 4, P), ("at_most", 6, 6, F),
        ("below", 5, 5, F), ("below", 4, 4, P), ("below", 6, 6, F),
        ("at_least", 5, 5, P), ("at_least", 4, 4, F), ("at_least", 6, 6, P),
        ("above", 5, 5, F), ("above", 4, 4, F), ("above", 6, 6, P),
        ("is", 5, 5, P), ("is", 4, 4, F), ("is", 6, 6, F),
        # an interval that ends at the bound
        ("at_most", 4, 5, P), ("at_most", 5, 6, C),
        ("below", 4, 5, C), ("below", 5, 6, F),
        ("at_least", 5, 6, P), ("at_least", 4, 5, C),
        ("above", 5, 6, C), ("above", 4, 5, F),
        # an interval that holds the bound, and one beside it
        ("at_most", 4, 6, C), ("below", 4, 6, C), ("at_least", 4, 6, C), ("above", 4, 6, C),
        ("is", 4, 6, C), ("is", 5, 6, C), ("is", 6, 7, F),
    ],
)  # fmt: skip
def test_one_bound(comparison: str, low: float, high: float, outcome: int) -> None:
    assert outcome_of(comparison, low, high, (5,)) == outcome


@pytest.mark.parametrize(
    ("low", "high", "between", "one_of"),
    [
        (2, 2, P, P), (5, 5, P, P), (3, 3, P, F), (1, 1, F, F), (6, 6, F, F),
        (2, 5, P, C), (3, 4, P, F), (1, 2, C, C), (5, 6, C, C), (0, 1, F, F), (6, 9, F, F), (1, 9, C, C),
    ],
)  # fmt: skip
def test_two_bounds(low: float, high: float, between: int, one_of: int) -> None:
    assert outcome_of("between", low, high, (2, 5)) == between
    assert outcome_of("one_of", low, high, (2, 5)) == one_of


@given(st.sampled_from(sorted(OUTCOMES)), NUMBER, NUMBER, NUMBER, NUMBER)
def test_an_outcome_is_that_of_every_value_in_the_interval(
    comparison: str, one: float, other: float, bound: float, width: float
) -> None:
    low, high = sorted((one, other))
    bounds = (bound, bound + abs(width)) if comparison in ("between", "one_of") else (bound,)
    # Quarters between quarters: every side of every bound is among the samples.
    samples = {low + (high - low) * step / 96 for step in range(97)} | {b for b in bounds if low <= b <= high}
    each = {outcome_of(comparison, value, value, bounds) for value in samples}
    assert outcome_of(comparison, low, high, bounds) == (each.pop() if len(each) == 1 else C)


@given(st.sampled_from(["at_most", "at_least", "below", "above", "between"]), NUMBER, NUMBER, NUMBER)
def test_the_margin_has_the_sign_of_the_outcome(comparison: str, value: float, bound: float, width: float) -> None:
    bounds = (bound, bound + abs(width)) if comparison == "between" else (bound,)
    (margin,) = MARGINS[comparison]((value,), bounds)
    outcome = outcome_of(comparison, value, value, bounds)
    if margin:
        assert (margin > 0) == (outcome == P)
    else:
        assert outcome == (F if comparison in ("below", "above") else P)


def test_margins_are_the_distance_to_the_nearest_bound() -> None:
    assert MARGINS["at_most"]((3.0, 7.0), (5.0,)) == [2.0, -2.0]
    assert MARGINS["at_least"]((3.0, 7.0), (5.0,)) == [-2.0, 2.0]
    assert MARGINS["between"]((3.0, 7.0, 0.0), (2.0, 6.0)) == [1.0, -1.0, -2.0]
    assert MARGINS["is"]((5.0, 4.0), (5.0,)) == [0.0, -1.0]
    assert MARGINS["one_of"]((5.0, 4.0), (2.0, 5.0)) == [0.0, -1.0]


@pytest.mark.parametrize("comparison", sorted(OUTCOMES))
def test_a_value_that_is_no_number_cannot_be_told(comparison: str) -> None:
    bounds = (1.0, 2.0) if comparison == "between" else (1.0,)
    assert outcome_of(comparison, nan, nan, bounds) == C


def test_text_and_bools_are_equal_or_not() -> None:
    assert list(plain_outcomes(["line", "area", "Line"], ["line"])) == [P, F, F]
    assert list(plain_outcomes(["line", "area", "point"], ["line", "area"])) == [P, P, F]
    assert list(plain_outcomes([True, False], [False])) == [F, P]


def test_a_verdict_that_cannot_be_told_decides_nothing_unless_it_is_asked_for() -> None:
    words = ["passed", "failed", "cannot tell", "not applicable"]
    assert list(verdict_outcomes(words, ["passed"])) == [P, F, C, F]
    assert list(verdict_outcomes(words, ["passed", "not applicable"])) == [P, F, C, P]
    assert list(verdict_outcomes(words, ["cannot tell"])) == [F, F, P, F]
