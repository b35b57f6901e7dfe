from __future__ import annotations

from math import inf, pi

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.computations.geodesy import (
    geodesic_direct,
    geodesic_inverse,
    polygon_perimeter_area,
)

LATITUDES = st.floats(min_value=-89.9, max_value=89.9)
LONGITUDES = st.floats(min_value=-180, max_value=180)


@settings(max_examples=60)
@given(LATITUDES, LONGITUDES, LATITUDES, LONGITUDES)
def test_the_distance_is_that_of_another_implementation(lat_1: float, lon_1: float, lat_2: float, lon_2: float) -> None:
    oracle = Geodesic.WGS84.Inverse(lat_1, lon_1, lat_2, lon_2)["s12"]
    assert geodesic_inverse(lat_1, lon_1, lat_2, lon_2).distance_m == pytest.approx(oracle, abs=1e-7)


@settings(max_examples=60)
@given(LATITUDES, LONGITUDES, st.floats(min_value=0, max_value=359), st.floats(min_value=10, max_value=1e6))
def test_there_and_back(lat: float, lon: float, azimuth: float, distance: float) -> None:
    there = geodesic_direct(lat, lon, azimuth, distance)
    found = geodesic_inverse(lat, lon, *there)
    assert found.distance_m == pytest.approx(distance, abs=1e-7)
    back = geodesic_direct(*there, found.azimuth_2_1_deg, distance)
    assert geodesic_inverse(lat, lon, *back).distance_m == pytest.approx(0, abs=1e-6)


def test_the_back_bearing_is_opposite_to_the_way_on() -> None:
    found = geodesic_inverse(40.6, -73.8, 49.0, 2.5)
    assert found.azimuth_2_1_deg == pytest.approx(found.azimuth_at_p2_forward_deg + 180)
    assert min(found[1:]) >= 0 and max(found[1:]) < 360


def test_a_sphere_is_an_ellipsoid_without_flattening() -> None:
    assert geodesic_inverse(0, 0, 0, 90, 6371000.0, inf).distance_m == pytest.approx(6371000 * pi / 2)


@pytest.mark.parametrize(("axis", "flattening"), [(0.0, 298.0), (-1.0, 298.0), (inf, 298.0), (6378137.0, 0.5)])
def test_an_ellipsoid_that_is_none_is_refused(axis: float, flattening: float) -> None:
    with pytest.raises(ValueError) as refused:
        geodesic_inverse(0, 0, 1, 1, axis, flattening)
    assert str(refused.value) == f"no ellipsoid has semi-major axis {axis} m and inverse flattening {flattening}"


def test_a_bearing_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        geodesic_direct(0, 0, float("nan"), 1)
    assert str(refused.value) == "bearing nan is not a finite number"


LATS, LONS = [10.0, 10.0, 11.0, 11.0], [20.0, 21.0, 21.0, 20.0]


@pytest.mark.parametrize(
    ("lats", "lons"),
    [(LATS, LONS), (LATS[::-1], LONS[::-1]), ([*LATS, 10.0], [*LONS, 20.0])],
    ids=["open", "the other way round", "closed"],
)
def test_the_area_does_not_depend_on_how_the_ring_is_written(lats: list[float], lons: list[float]) -> None:
    polygon = Geodesic.WGS84.Polygon()
    for lat, lon in zip(LATS, LONS, strict=True):
        polygon.AddPoint(lat, lon)
    _, perimeter, area = polygon.Compute()
    found = polygon_perimeter_area(lats, lons)
    assert found.perimeter_m == pytest.approx(perimeter, abs=1e-6)
    assert found.area_m2 == pytest.approx(area, rel=1e-11)


def test_a_ring_across_180_degrees_encloses_what_the_same_ring_elsewhere_does() -> None:
    across = polygon_perimeter_area([-17, -17, -16, -16], [179.5, -179.5, -179.5, 179.5])
    assert across.area_m2 == pytest.approx(polygon_perimeter_area([-17, -17, -16, -16], [0, 1, 1, 0]).area_m2)


def test_a_pole_may_lie_inside() -> None:
    cap = polygon_perimeter_area([80.0] * 4, [0.0, 90.0, 180.0, -90.0])
    polygon = Geodesic.WGS84.Polygon()
    for lon in (0.0, 90.0, 180.0, -90.0):
        polygon.AddPoint(80.0, lon)
    assert cap.area_m2 == pytest.approx(polygon.Compute()[2])


def test_two_corners_are_no_ring() -> None:
    with pytest.raises(ValueError) as refused:
        polygon_perimeter_area([0.0, 1.0, 0.0], [0.0, 1.0, 0.0])
    assert str(refused.value) == "a ring needs three different corners; 2 given"
