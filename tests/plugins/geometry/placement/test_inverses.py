"""Each margin turned round, on one plane: what is kept, what is left over, what is too far."""

from __future__ import annotations

from math import hypot, radians
from typing import Any

import pytest
import shapely

from afield.core.api import Asked, CannotTell
from afield.plugins.geometry.computations.accuracy import HORIZONTAL
from afield.plugins.geometry.computations.doubt import sigma_m
from afield.plugins.geometry.placement.ground import Ground, Stance
from afield.plugins.geometry.placement.inverses import inside_area, near_line, near_point, north_turns

from .conftest import LAT, LON, TABLE, Land

SQUARE = [(-60, -60), (60, -60), (60, 60), (-60, 60)]
MAST = {"name": "mast", "role": "antenna", "at": ["0 m", "0 m"]}
MAP_SIGMA_M = sigma_m(1.0, 68)
SPREAD_M = hypot(HORIZONTAL["r95"] * hypot(sigma_m(5.0, 68), MAP_SIGMA_M), 0.1)
"""Half width of the bound for a station that is one point, GeoJSON's edges being too short for a doubt."""


def ground(land: Land, inverse: Any, comparison: str, limit: float, sure: bool = True, window: float = 200.0) -> Ground:
    land.parts = [TABLE, MAST]
    search = land.search(window)
    (claim,) = search.claims
    found: Ground = inverse(
        search.trip.subjects[claim], Asked(comparison, limit, sure), search.stance, search.trip.world
    )
    return found


def test_inside_an_area_by_the_value_and_for_sure(land: Land) -> None:
    land.area("wood", [SQUARE])
    assert ground(land, inside_area, "at_least", 0.0, sure=False).places.area == pytest.approx(120**2, rel=4e-3)
    sure = ground(land, inside_area, "at_least", 0.0).places.area
    assert sure == pytest.approx((120 - 2 * SPREAD_M) ** 2, rel=6e-3)
    assert ground(land, inside_area, "at_least", 5.0, sure=False).places.area == pytest.approx(110**2, rel=4e-3)


def test_outside_an_area_is_what_is_left_over_of_the_window(land: Land) -> None:
    land.area("wood", [SQUARE])
    left = ground(land, inside_area, "below", 0.0).places
    assert left.area == pytest.approx(400**2 - 120**2 - 4 * 120 * SPREAD_M, rel=0.01)
    assert not shapely.intersects(left, shapely.Polygon(SQUARE).buffer(SPREAD_M - 0.1))


def test_near_a_line_less_half_the_width_of_what_it_stands_for(land: Land) -> None:
    land.line("road", [(-500, 0), (500, 0)])
    found = ground(land, near_line, "at_most", 20.0, sure=False).places
    # The program's tread is 1.5 m wide, and distance counts from its edge.
    assert found.bounds[3] == pytest.approx(20.75, abs=0.05)
    assert ground(land, near_line, "at_most", 20.0).places.bounds[3] == pytest.approx(20.75 - SPREAD_M, abs=0.05)


def test_near_a_point(land: Land) -> None:
    land.point("spring", (30, 0))
    found = ground(land, near_point, "at_most", 40.0, sure=False).places
    assert found.area == pytest.approx(3.1416 * 40**2, rel=0.01)
    assert found.centroid.x == pytest.approx(30, abs=0.2)
    assert ground(land, near_point, "above", 40.0, sure=False).places.area == pytest.approx(
        400**2 - found.area, rel=0.01
    )


def test_a_reference_of_another_kind_cannot_be_turned_round(land: Land) -> None:
    land.point("spring", (30, 0))
    with pytest.raises(CannotTell, match="the reference is of the kind point, not area"):
        ground(land, inside_area, "at_least", 0.0)


@pytest.mark.parametrize("kind", ["area", "line", "point"])
def test_what_is_out_of_reach_is_nowhere_and_its_opposite_everywhere(land: Land, kind: str) -> None:
    inverse = {"area": inside_area, "line": near_line, "point": near_point}[kind]
    far = [(50e3, 0), (51e3, 0), (51e3, 1e3)]
    getattr(land, kind)("far", {"area": [far], "line": far, "point": far[0]}[kind])
    keeping, opposite = ("at_least", "below") if kind == "area" else ("at_most", "above")
    assert ground(land, inverse, keeping, 30.0).places.is_empty
    assert ground(land, inverse, opposite, 30.0).places.area == 400**2


def test_a_far_point_with_a_wider_limit_is_within_reach(land: Land) -> None:
    land.point("spring", (50e3, 0))
    assert ground(land, near_point, "at_most", 60e3).places.covers(shapely.Point(0, 0))


def test_the_meridians_of_a_window_converge_towards_the_pole() -> None:
    from afield.plugins.geometry.computations.plane import plane_at

    def turns(lat: float, window: float = 1000.0) -> float:
        return north_turns(Stance(0.0, plane_at(lat, LON), window, 3.0))

    # By the corner of a window of 1 km at 60 degrees: 1414 m * tan 60 / 6371 km.
    assert turns(60.0) == pytest.approx(radians(0.02203), rel=0.01)
    assert turns(-60.0) == turns(60.0)
    assert turns(0.0) < 1e-6
    assert 1 < turns(89.999) <= 3.1416
    assert turns(LAT, 2000.0) > 2 * turns(LAT)
