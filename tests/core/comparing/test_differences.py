"""A difference has the uncertainty that is left once errors of one origin are cancelled."""

from __future__ import annotations

from math import hypot
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.comparing.differences import DIFFERS, SAME, UNTOLD, Difference, entries_apart, numeric_difference

Json = dict[str, Any]
NAMES = ("tape", "map", "scales")
NUMBERS = st.floats(-1e6, 1e6)
PARTS = st.dictionaries(st.sampled_from(NAMES), st.floats(-1e3, 1e3), max_size=3)


def record(value: float, around: float | None = None, **parts: float) -> Json:
    """A record with its parts; or with an interval alone."""
    width = hypot(*parts.values()) if around is None else around
    told = [{"origin": origin, "contribution": part} for origin, part in parts.items()]
    return {"value": value, "low": value - width, "high": value + width, "parts": told}


def test_what_both_share_cancels() -> None:
    found = numeric_difference(record(10.0, tape=0.5), record(12.0, tape=0.5), {"tape"})
    assert found == Difference(2.0, 0.0)
    assert found.finding == DIFFERS


def test_only_the_rest_of_what_both_share_is_left() -> None:
    found = numeric_difference(record(10.0, tape=0.5, map=0.3), record(11.0, tape=0.1, map=0.3), {"tape", "map"})
    assert (found.value, found.uncertainty) == (1.0, pytest.approx(0.4))


def test_errors_that_point_away_from_each_other_add_up() -> None:
    assert numeric_difference(record(1.0, tape=0.5), record(1.0, tape=-0.5), {"tape"}) == Difference(0.0, 1.0)


def test_errors_of_one_name_that_are_not_one_error_do_not_cancel() -> None:
    found = numeric_difference(record(10.0, scales=3.0), record(12.0, scales=4.0), set())
    assert found == Difference(2.0, 5.0)
    assert found.finding == UNTOLD


def test_intervals_alone_are_combined_as_independent() -> None:
    assert numeric_difference(record(0.0, 3.0), record(6.0, 4.0), set()) == Difference(6.0, 5.0)


def test_an_interval_that_is_wider_than_its_parts_counts_whole() -> None:
    wide = record(10.0, 3.0, tape=0.5)
    assert numeric_difference(wide, record(20.0, 4.0, tape=0.5), {"tape"}) == Difference(10.0, 5.0)


def test_the_wider_half_of_a_lopsided_interval_counts() -> None:
    lopsided = {"value": 10.0, "low": 9.0, "high": 13.0, "parts": []}
    assert numeric_difference(lopsided, record(20.0), set()) == Difference(10.0, 3.0)


def test_a_number_without_an_interval_is_exact() -> None:
    exact = {"value": 4, "low": None, "high": None, "parts": []}
    assert numeric_difference(exact, {**exact, "value": 6}, set()) == Difference(2.0, 0.0)


@pytest.mark.parametrize(
    ("value", "uncertainty", "finding"),
    [
        (0.0, 0.0, SAME),
        (0.1, 0.0, DIFFERS),
        (-0.1, 0.0, DIFFERS),
        (0.0, 0.1, UNTOLD),
        (0.5, 0.5, UNTOLD),
        (-0.5, 0.5, UNTOLD),
        (0.51, 0.5, DIFFERS),
        (-0.51, 0.5, DIFFERS),
    ],
)
def test_it_differs_if_it_is_more_than_its_uncertainty(value: float, uncertainty: float, finding: str) -> None:
    assert Difference(value, uncertainty).finding == finding


def test_the_rounding_of_a_report_is_no_difference() -> None:
    assert numeric_difference(record(0.1 + 0.2), record(0.3), set()).finding == SAME
    assert numeric_difference(record(883.0), record(883.01), set()).value == 0.01


@given(st.floats(0.5, 1e6), st.floats(-1e3, 1e3), st.floats(0.01, 1e3), st.floats(0.01, 1e3))
def test_the_rounding_of_a_report_hinders_no_cancelling(value: float, more: float, tape: float, map_: float) -> None:
    one, two = rounded(record(value, tape=tape, map=map_)), rounded(record(value + more, tape=tape))
    found = numeric_difference(one, two, {"tape", "map"})
    assert found.uncertainty == pytest.approx(map_, abs=1e-4)


def rounded(found: Json) -> Json:
    """The record with 12 digits, as a report has it."""
    return {**found, **{name: float(f"{found[name]:.12g}") for name in ("value", "low", "high")}}


@given(NUMBERS, PARTS, st.sets(st.sampled_from(NAMES)))
def test_nothing_differs_from_itself(value: float, parts: dict[str, float], shared: set[str]) -> None:
    found = numeric_difference(record(value, **parts), record(value, **parts), shared)
    assert found.finding in (SAME, UNTOLD)
    assert found.finding == SAME or parts.keys() - shared


@given(NUMBERS, NUMBERS, PARTS, PARTS, st.sets(st.sampled_from(NAMES)))
def test_turned_round_it_has_the_other_sign(
    one: float, two: float, mine: dict[str, float], others: dict[str, float], shared: set[str]
) -> None:
    there = numeric_difference(record(one, **mine), record(two, **others), shared)
    back = numeric_difference(record(two, **others), record(one, **mine), shared)
    assert back.value == -there.value
    assert back.uncertainty == pytest.approx(there.uncertainty)
    assert back.finding == there.finding


@given(NUMBERS, NUMBERS, PARTS, PARTS)
def test_its_uncertainty_is_never_more_than_both_together(
    one: float, two: float, mine: dict[str, float], others: dict[str, float]
) -> None:
    found = numeric_difference(record(one, **mine), record(two, **others), set(NAMES))
    assert found.uncertainty <= (hypot(*mine.values()) + hypot(*others.values())) * (1 + 1e-9) + 1e-4


def test_lists_are_told_apart_by_their_entries() -> None:
    assert entries_apart(["a", "b"], ["b", "c"]) == (["a"], ["c"])
    assert entries_apart(["b", "a"], ["a", "b"]) == ([], [])
    assert entries_apart([], [{"x": 1}, {"x": 1}]) == ([], [{"x": 1}, {"x": 1}])


@given(st.lists(st.sampled_from("abc")), st.lists(st.sampled_from("abc")))
def test_what_is_left_of_both_lists_makes_them_equal_again(one: list[str], two: list[str]) -> None:
    gone, new = entries_apart(one, two)
    assert sorted([*one, *new]) == sorted([*two, *gone])
    assert not set(gone) & set(new)
