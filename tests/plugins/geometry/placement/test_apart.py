"""How far a reference is, roughly and never too much."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.placement.apart import apart_m
from afield.plugins.geometry.reference_facts import Place


def place(kind: str, **shapes: Any) -> Place:
    empty: dict[str, Any] = {"lines": [], "areas": [], "points": []}
    return Place(kind, **{**empty, **shapes}, layer="x", edge_model="lonlat", map_sigma_m=0, datum_m=0, source="x")


@given(st.floats(-80, 80), st.floats(-179, 179), st.floats(-80, 80), st.floats(-179, 179))
def test_a_point_is_as_far_as_the_geodesic(lat: float, lon: float, lat2: float, lon2: float) -> None:
    expected = geodesic_inverse(lat, lon, lat2, lon2).distance_m
    if expected < 19.9e6:  # near the antipode the plane has no place for it
        assert apart_m(place("point", points=[(lat2, lon2)]), plane_at(lat, lon)) == pytest.approx(expected, abs=1)


def test_an_edge_that_passes_by_is_not_farther_than_it_is() -> None:
    line = place("line", lines=[[(47.0, 5.0), (47.0, 17.0)]])
    assert apart_m(line, plane_at(47.2, 11.0)) < 25_000


def test_within_an_area_is_no_distance_and_across_the_date_line_neither() -> None:
    ring = [(-10.0, 170.0), (10.0, 170.0), (10.0, -170.0), (-10.0, -170.0), (-10.0, 170.0)]
    assert apart_m(place("area", areas=[[ring]]), plane_at(0.0, 179.9)) == 0
    assert apart_m(place("area", areas=[[ring]]), plane_at(0.0, 150.0)) > 800_000
