from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from afield.plugins.geometry.windows import (
    NARROWEST,
    WIDEST,
    Window,
    bounds,
    multiples,
    nearest_on_path,
    proportioned,
    ring_within,
    round_step,
    runs_near,
)

METRES = st.floats(-500, 500).map(lambda value: round(value, 2))
POINTS = st.tuples(METRES, METRES)
WINDOW = Window(-100, -80, 120, 90)


@given(st.lists(POINTS, min_size=1, max_size=9), POINTS)
def test_the_nearest_point_of_a_path_is_what_shapely_finds(
    path: list[tuple[float, float]], to: tuple[float, float]
) -> None:
    found = nearest_on_path(path, to)
    shape = LineString(path) if len(path) > 1 else Point(path[0])
    assert hypot(found[0] - to[0], found[1] - to[1]) == pytest.approx(shape.distance(Point(to)), abs=1e-6)


@given(st.lists(POINTS, min_size=3, max_size=3, unique=True))
def test_the_part_of_a_ring_in_the_window_has_the_right_area(corners: list[tuple[float, float]]) -> None:
    expected = Polygon(corners).intersection(box(*WINDOW)).area
    kept = ring_within([*corners, corners[0]], WINDOW)
    area = Polygon(kept).area if len(kept) > 2 else 0.0
    assert area == pytest.approx(expected, abs=0.01 + 1e-9 * expected)


@given(st.lists(POINTS, min_size=2, max_size=9))
def test_no_stretch_that_crosses_the_window_is_left_out(path: list[tuple[float, float]]) -> None:
    inside = LineString(path).intersection(box(*WINDOW))
    kept = sum(LineString(run).intersection(box(*WINDOW)).length for run in runs_near(path, WINDOW))
    assert kept >= inside.length - 1e-6


@given(METRES, METRES, st.floats(1, 900), st.floats(1, 900))
def test_a_proportioned_window_holds_the_first_and_can_be_printed(
    west: float, south: float, wide: float, high: float
) -> None:
    first = Window(west, south, west + wide, south + high)
    grown = proportioned(first)
    assert NARROWEST - 1e-9 <= grown.width / grown.height <= WIDEST + 1e-9
    assert grown.west <= first.west + 1e-9
    assert grown.north >= first.north - 1e-9


@given(st.floats(0.5, 1e5), st.integers(2, 12))
def test_a_round_step_divides_the_span_into_not_more_parts_than_asked(span: float, steps: int) -> None:
    step = round_step(span, steps)
    assert span / step <= steps * (1 + 1e-6)
    assert f"{step:e}"[0] in "125"


def test_a_round_step_needs_a_span() -> None:
    with pytest.raises(ValueError, match=r"^a span of 0 m cannot be divided; it must be above 0$"):
        round_step(0.0, 5)


def test_multiples_have_no_negative_zero_and_include_both_ends() -> None:
    assert [f"{value:g}" for value in multiples(-10, 10, 5)] == ["-10", "-5", "0", "5", "10"]


def test_bounds_are_the_least_rectangle() -> None:
    assert bounds([(1, 2), (-3, 5), (0, 0)]) == Window(-3, 0, 1, 5)
