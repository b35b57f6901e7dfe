"""Uncertainty of what is computed: origins are perturbed through the function, all inputs that share them together."""

from math import hypot, inf, nan, sqrt
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from afield.core.facts.measured import CannotTell, Estimate, Measured
from afield.core.facts.uncertainty import spread

SIZES = st.floats(0.001, 100)


def test_an_origin_that_two_inputs_share_cancels_in_their_difference(world: Any, toy: Any) -> None:
    facts = [toy.finding("wall.gap", lambda wall_height, ladder_length: wall_height - ladder_length),
             toy.finding("wall.height", lambda: 0.0), toy.finding("ladder.length", lambda: 0.0)]  # fmt: skip
    shared = {
        ("trip", "wall.height"): toy.number(3.0, 0.1, "tape"),
        ("trip", "ladder.length"): toy.number(2.0, 0.1, "tape"),
    }
    found = world(facts, shared).value("trip", "wall.gap")
    assert (found.value, found.parts, found.uncertainty) == (1.0, {}, 0.0)
    assert (found.low, found.high) == (1.0, 1.0)


def test_an_origin_that_two_inputs_share_adds_in_their_sum(world: Any, toy: Any) -> None:
    facts = [toy.finding("wall.reach", lambda wall_height, ladder_length: wall_height + ladder_length),
             toy.finding("wall.height", lambda: 0.0), toy.finding("ladder.length", lambda: 0.0)]  # fmt: skip
    shared = {
        ("trip", "wall.height"): toy.number(3.0, 0.1, "tape"),
        ("trip", "ladder.length"): toy.number(2.0, 0.1, "tape"),
    }
    found = world(facts, shared).value("trip", "wall.reach")
    assert found.parts == {"tape": pytest.approx(0.2)}
    assert (found.low, found.high) == (pytest.approx(4.8), pytest.approx(5.2))


def test_independent_origins_join_as_the_root_of_their_squares(world: Any, toy: Any) -> None:
    facts = [toy.finding("wall.gap", lambda wall_height, ladder_length: wall_height - ladder_length),
             toy.finding("wall.height", lambda: 0.0), toy.finding("ladder.length", lambda: 0.0)]  # fmt: skip
    apart = {
        ("trip", "wall.height"): toy.number(3.0, 0.3, "tape"),
        ("trip", "ladder.length"): toy.number(2.0, 0.4, "rule"),
    }
    found = world(facts, apart).value("trip", "wall.gap")
    assert found.parts == {"tape": pytest.approx(0.3), "rule": pytest.approx(-0.4)}
    assert found.uncertainty == pytest.approx(0.5)
    assert (found.low, found.high) == (pytest.approx(0.5), pytest.approx(1.5))


@given(st.floats(-50, 50), st.floats(-50, 50), SIZES, SIZES, st.booleans())
def test_a_linear_function_scales_every_part_by_its_slope(
    a: float, b: float, one: float, two: float, shared: bool
) -> None:
    origins = ("tape", "tape") if shared else ("tape", "rule")
    arguments = {"x": Measured(1.0, parts={origins[0]: one}), "y": Measured(2.0, parts={origins[1]: two})}
    found = spread(lambda x, y: a * x + b * y, arguments, a + 2 * b)
    due = {"tape": a * one + b * two} if shared else {"tape": a * one, "rule": b * two}
    for origin, part in due.items():
        assert found.parts.get(origin, 0.0) == pytest.approx(
            part, rel=1e-6, abs=1e-9 * (1 + abs(a) + abs(b)) * (one + two)
        )


@given(SIZES, SIZES)
def test_in_a_sum_of_two_the_parts_are_at_least_as_wide_shared_as_apart(one: float, two: float) -> None:
    def width(first: str, second: str) -> float:
        arguments = {"x": Measured(0.0, parts={first: one}), "y": Measured(0.0, parts={second: two})}
        parts = spread(lambda x, y: x + y, arguments, 0.0).parts
        return sqrt(sum(part * part for part in parts.values()))

    assert width("tape", "tape") >= width("tape", "rule") * (1 - 1e-9)
    assert width("tape", "rule") == pytest.approx(hypot(one, two))


@given(st.floats(0.01, 10))
def test_a_bend_at_the_value_is_not_lost(around: float) -> None:
    """|x| at 0 has no slope there, and yet it is not known to be 0."""
    found = spread(lambda x: abs(x), {"x": Measured(0.0, parts={"tape": around})}, 0.0)
    assert found.parts == {"tape": around}


@given(st.floats(-5, 5), st.floats(0.01, 5), st.floats(-1, 1))
def test_the_interval_of_a_monotone_function_of_one_input_holds_both_edges(
    x: float, around: float, bend: float
) -> None:
    def grown(x: float) -> float:
        return x + bend * abs(x)

    assume(abs(bend) < 0.99)
    part = spread(grown, {"x": Measured(x, parts={"tape": around})}, grown(x)).parts["tape"]
    assert grown(x) - part <= grown(x - around) + 1e-9
    assert grown(x) + part >= grown(x + around) - 1e-9


def test_parts_go_on_through_several_facts_and_still_cancel(world: Any, toy: Any) -> None:
    facts = [
        toy.finding("wall.height", lambda: 0.0),
        toy.finding("wall.double", lambda wall_height: 2 * wall_height),
        toy.finding("wall.rest", lambda wall_double, wall_height: wall_double - 2 * wall_height),
    ]
    found = world(facts, {("trip", "wall.height"): toy.number(3.0, 0.1, "tape")})
    assert found.value("trip", "wall.double").parts == {"tape": pytest.approx(0.2)}
    assert found.value("trip", "wall.rest").uncertainty == pytest.approx(0.0, abs=1e-12)


def test_a_yes_or_no_that_changes_within_the_uncertainty_cannot_be_told(world: Any, toy: Any) -> None:
    facts = [toy.finding("wall.fits", lambda wall_height: wall_height > 2.95, type="bool", unit=None),
             toy.finding("wall.height", lambda: 0.0, title="height of the wall")]  # fmt: skip
    near = world(facts, {("trip", "wall.height"): toy.number(3.0, 0.1, "plan.yaml:1:2")}).value("trip", "wall.fits")
    assert near.reason.code == "within uncertainty"
    assert near.reason.text == "it changes within the uncertainty of height of the wall"
    assert (near.reason.settle, near.reason.subject) == ("wall.height", "trip")
    far = world(facts, {("trip", "wall.height"): toy.number(3.0, 0.04, "plan.yaml:1:2")}).value("trip", "wall.fits")
    assert (far.value, far.known) == (True, True)


def test_a_fact_that_owns_its_uncertainty_is_called_once_and_gives_its_own_parts(world: Any, toy: Any) -> None:
    calls: list[float] = []

    def owned(wall_height: float) -> Estimate:
        calls.append(wall_height)
        return Estimate(wall_height, parts={"corner": 0.3, "tape": -0.4})

    facts = [toy.finding("wall.gap", owned, owns_uncertainty=True), toy.finding("wall.height", lambda: 0.0)]
    found = world(facts, {("trip", "wall.height"): toy.number(3.0, 0.1, "tape")}).value("trip", "wall.gap")
    assert calls == [3.0]
    assert (found.parts, found.uncertainty) == ({"corner": 0.3, "tape": -0.4}, pytest.approx(0.5))


def test_an_interval_without_parts_is_an_origin_of_its_own_for_what_rests_on_it(world: Any, toy: Any) -> None:
    facts = [
        toy.finding("wall.gap", lambda: Estimate(2.0, low=1.5, high=2.25), owns_uncertainty=True),
        toy.finding("wall.double", lambda wall_gap: 2 * wall_gap),
    ]
    found = world(facts)
    first, second = found.value("trip", "wall.gap"), found.value("trip", "wall.double")
    assert (first.low, first.high, first.parts) == (1.5, 2.25, {"wall.gap of trip": 0.5})
    assert second.parts == {"wall.gap of trip": 1.0}


def test_where_the_function_has_no_value_at_an_edge_it_cannot_be_told(world: Any, toy: Any) -> None:
    def root(wall_height: float) -> float:
        if wall_height < 0:
            raise CannotTell("no root below 0", code="outside validity")
        return sqrt(wall_height)

    facts = [toy.finding("wall.root", root), toy.finding("wall.height", lambda: 0.0)]
    found = world(facts, {("trip", "wall.height"): toy.number(0.1, 0.2, "tape")}).value("trip", "wall.root")
    assert (found.reason.code, found.reason.text) == ("outside validity", "no root below 0")


@pytest.mark.parametrize("edge", [inf, nan])
def test_an_edge_that_is_not_finite_is_a_failure_of_the_plugin(world: Any, toy: Any, edge: float) -> None:
    facts = [toy.finding("wall.root", lambda wall_height: 1.0 if wall_height == 3.0 else edge),
             toy.finding("wall.height", lambda: 0.0)]  # fmt: skip
    given = {("trip", "wall.height"): toy.number(3.0, 0.2, "tape")}
    found = world(facts, given, owners={"wall.root": "plugin house (toys 1.0)"}).value("trip", "wall.root")
    assert found.reason.text == (
        "plugin house (toys 1.0) failed at wall.root of trip: ValueError: its value is not finite at the edge of an "
        "input's uncertainty"
    )
