from __future__ import annotations

from math import inf, nan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.testing.comparison import disagreements

PRINTED = "tolerance of the last printed figure"


@pytest.mark.parametrize(
    ("expected", "got", "tolerance"),
    [
        ({"a_m": 1.0}, {"a_m": 1.04}, {"a_m": 0.05}),
        ({"a_m": 1.0}, {"a_m": 1.04}, {"m": 0.05}),
        ({"a_m": 1.0}, {"a_m": 1.04, "more": 2}, {"abs": 0.05}),
        ({"a_m": 100}, {"a_m": 101.0}, {"rel": 0.01}),
        ({"a_m": 100}, {"a_m": 103.0}, {"rel": 0.01, "abs": 3}),
        ({"lat": 1.0, "sw_lon": 2.0}, {"lat": 1.01, "sw_lon": 2.01}, {"deg": 0.02}),
        ({"distance_m_geodesic_edges": 5.0}, {"distance_m_geodesic_edges": 5.01}, {"distance_m": 0.05}),
        ({"nearest_m": {"7": 5.0}}, {"nearest_m": {"7": 5.01}}, {"distance_m": 0.05}),
        ({"height_m": 1.0, "width_m": 2.0}, {"height_m": 1.5, "width_m": 2.01}, {"height_m": 0.5, "width_m": 0.02}),
        ({"azimuth_deg": 359.99}, {"azimuth_deg": 0.01}, {"deg": 0.03}),
        ({"containing_ids": [3, 4]}, {"containing_ids": [3, 4]}, {"ids": "exact"}),
        ({"containing_ids": []}, {"containing_ids": []}, {"ids": "exact"}),
        ({"cells_4": 3}, {"cells_4": 3}, {"cells": 0}),
        ({"gain_dbi": 2.1, "r_ohm": 70}, {"gain_dbi": 2.2, "r_ohm": 71}, {"gain_abs": 0.15, "r_abs": 2}),
        ({"locator": "JN18eu"}, {"locator": "JN18EU"}, {"exact": "case-insensitive"}),
        ({"text_any_of": ["a", "b"]}, {"text": "b"}, {"exact": True}),
        ({"text_any_of": [["a", "b"], ["c"]]}, {"text_any_of": ["b", "c"]}, {"exact": True}),
        ({"value": 0.3}, {"value": 0.1 + 0.2}, "exact"),
        ({"sunrise_local": "05:27"}, {"sunrise_local": "05:26:30"}, {"time_s": 60}),
        ({"scale": 1.0001}, {"scale": 1.00014}, None),
        ({"easting_m": 444500}, {"easting_m": 444500.0}, None),
        (
            {"one": None, "two": True, "three": "x", "four": {}},
            {"one": None, "two": True, "three": "x", "four": {}},
            None,
        ),
    ],
)
def test_what_agrees(expected: dict[str, Any], got: dict[str, Any], tolerance: Any) -> None:
    assert disagreements(expected, got, tolerance) == []


@pytest.mark.parametrize(
    ("expected", "got", "tolerance", "problems"),
    [
        ({"a_m": 1.0}, {"a_m": 1.06}, {"m": 0.05}, ["a_m: expected 1.0, got 1.06, tolerance m 0.05"]),
        ({"a_m": 1.0}, {}, {"m": 0.05}, ["a_m: expected 1.0, got nothing"]),
        ({"a_m": 1.0}, {"a_m": nan}, {"m": 0.05}, ["a_m: expected 1.0, got nan, tolerance m 0.05"]),
        ({"a_m": 1.0}, {"a_m": inf}, {"m": inf}, ["a_m: expected 1.0, got inf, tolerance m inf"]),
        ({"a_m": 1.0}, {"a_m": "1.0"}, {"m": 0.05}, ["a_m: expected 1.0, got '1.0', tolerance m 0.05"]),
        ({"n": 1}, {"n": True}, None, [f"n: expected 1, got True, {PRINTED}"]),
        ({"n": 3}, {"n": 4}, None, [f"n: expected 3, got 4, {PRINTED}"]),
        ({"yes": True}, {"yes": 1}, None, [f"yes: expected True, got 1, {PRINTED}"]),
        ({"none": None}, {"none": 0}, None, [f"none: expected None, got 0, {PRINTED}"]),
        ({"scale": 1.0001}, {"scale": 1.00016}, None, [f"scale: expected 1.0001, got 1.00016, {PRINTED}"]),
        ({"ids": [1, 2]}, {"ids": [1]}, {"ids": "exact"}, ["ids: expected [1, 2], got [1], tolerance exact"]),
        ({"ids": []}, {"ids": [1]}, {"ids": "exact"}, ["ids: expected [], got [1], tolerance exact"]),
        ({"ids": []}, {"ids": ""}, {"ids": "exact"}, ["ids: expected [], got '', tolerance exact"]),
        ({"a": {"b": 1}}, {"a": 1}, None, ["a.b: expected 1, got nothing"]),
        ({"a": [1, 2]}, {"a": [1, 3]}, None, [f"a.1: expected 2, got 3, {PRINTED}"]),
        ({"a": "x"}, {"a": "X"}, {"exact": True}, ["a: expected 'x', got 'X', tolerance exact"]),
        ({"a_any_of": ["x", "y"]}, {"a": "z"}, "exact", ["a_any_of: expected 'x' or 'y', got 'z', tolerance exact"]),
        ({"value": 0.3}, {"value": 0.30000001}, "exact", ["value: expected 0.3, got 0.30000001, tolerance exact"]),
        ({"a_m": 1.0}, {"a_m": 1.0}, {"m": 0.05, "deg": 1}, ['the tolerance "deg" matches no quantity']),
        ({"name": "x"}, {"name": "x"}, {"abs": 0.1}, ['the tolerance "abs" matches no quantity']),
        ({"a_m": 1.0}, {"a_m": 1.0}, {"m": 1, "rel": 1}, ['the tolerance "rel" matches no quantity']),
        (
            {"sunset_local": "19:51"},
            {"sunset_local": "19:52:01"},
            {"time_s": 60},
            ["sunset_local: expected '19:51', got '19:52:01', tolerance time_s 60"],
        ),
    ],
)
def test_what_does_not(expected: dict[str, Any], got: dict[str, Any], tolerance: Any, problems: list[str]) -> None:
    assert disagreements(expected, got, tolerance) == problems


def test_two_tolerances_for_one_quantity_are_refused() -> None:
    with pytest.raises(ValueError) as refused:
        disagreements({"length_m": 1.0}, {"length_m": 1.0}, {"height_m": 1, "width_m": 2})
    assert str(refused.value) == 'tolerances height_m, width_m all match "length_m"'


@given(st.floats(min_value=-1e6, max_value=1e6), st.floats(min_value=1e-6, max_value=10), st.floats(-3, 3))
def test_a_number_agrees_if_and_only_if_it_is_within_the_tolerance(value: float, allowed: float, share: float) -> None:
    got = value + share * allowed
    agrees = not disagreements({"a_m": value}, {"a_m": got}, {"m": allowed})
    if abs(abs(got - value) - allowed) > 1e-6 * allowed:
        assert agrees == (abs(got - value) < allowed)
