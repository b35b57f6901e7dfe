"""The swing circle, what a turn may hide, and minutes within a region, against sampled positions."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.afloat import (
    anchor_swing_radius,
    greatest_distance,
    minutes_within,
    turn_between_fixes,
)

lengths = st.floats(0, 100)


def test_swing_circles_worked_by_hand() -> None:
    # 30^2 - 6.2^2 = 861.56, whose root is 29.352; shallower water gives the wider circle.
    assert anchor_swing_radius(30, 5, 1.2, 9) == pytest.approx(38.352, abs=0.001)
    assert anchor_swing_radius(30, 3, 1.2, 9) == pytest.approx(38.705, abs=0.001)
    assert anchor_swing_radius(5, 5, 1.2, 9) == 9


@given(lengths, lengths, lengths, lengths, st.floats(0, 1), st.floats(0, 2 * pi))
def test_no_part_of_a_boat_on_a_taut_rode_leaves_the_circle(
    rode: float, depth: float, bow: float, boat: float, slack: float, turn: float
) -> None:
    radius = anchor_swing_radius(rode, depth, bow, boat)
    # The bow hangs at any shorter distance; the boat points anywhere.
    out = slack * max(radius - boat, 0.0)
    assert hypot(out + boat * cos(turn), boat * sin(turn)) <= radius + 1e-9


@given(st.floats(1, 100), st.floats(0.05, pi - 0.05))
def test_a_turn_lies_within_what_it_may_hide(radius: float, half_turn: float) -> None:
    chord, height = 2 * radius * sin(half_turn), radius * (1 - cos(half_turn))
    if half_turn <= pi / 3:
        # An arc of up to a third of a circle is higher than d^2 / 8 r by less than a third of that.
        assert turn_between_fixes(chord, radius) <= height <= 1.34 * turn_between_fixes(chord, radius) + 1e-9
    assert turn_between_fixes(chord, radius) <= chord / 2


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=2, max_size=8), st.data())
def test_minutes_agree_with_a_thousand_places_along_each_leg(
    points: list[tuple[float, float]], data: st.DataObject
) -> None:
    spans = data.draw(st.lists(st.floats(0, 30), min_size=len(points) - 1, max_size=len(points) - 1))
    region = shapely.difference(shapely.box(-30, -30, 30, 30), shapely.box(-5, -5, 10, 5))
    found = minutes_within(points, np.concatenate([[0], np.cumsum(spans)]), region)
    shares = (np.arange(1000) + 0.5) / 1000
    for leg, span in enumerate(spans):
        start, end = np.array(points[leg]), np.array(points[leg + 1])
        inside = shapely.covers(region, shapely.points(start + shares[:, None] * (end - start)))
        assert found[leg] == pytest.approx(span * inside.mean(), abs=span * 0.005 + 1e-9)


def test_a_boat_that_lies_still_counts_where_it_lies() -> None:
    points = [(0, 0), (0, 0), (50, 0), (50, 0)]
    assert minutes_within(points, [0, 5, 6, 10], shapely.box(-25, -25, 25, 25)).tolist() == [5, 0.5, 0]


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=2, max_size=9))
def test_the_greatest_distance_is_that_of_some_pair(points: list[tuple[float, float]]) -> None:
    every = [hypot(a[0] - b[0], a[1] - b[1]) for a in points for b in points]
    assert greatest_distance(points) == pytest.approx(max(every), abs=1e-9)


@pytest.mark.parametrize(
    ("call", "text"),
    [
        (lambda: anchor_swing_radius(-1, 5, 1, 9), "rode -1 m is negative"),
        (lambda: anchor_swing_radius(30, 5, 1, -9), "distance from the bow -9 m is negative"),
        (lambda: turn_between_fixes(10, 0), "a leg of 10 m and turns of 0 m: both must be above 0"),
    ],
)
def test_refuses(call: object, text: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError) as caught:
        call()
    assert str(caught.value) == text
