from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.computations.grid_factors import transverse_mercator_factors
from afield.plugins.geometry.computations.utm import (
    geographic_to_utm,
    transverse_mercator_airy,
    utm_to_geographic,
    utm_zone,
)

LATITUDES = st.floats(min_value=-80, max_value=84)
LONGITUDES = st.floats(min_value=-180, max_value=180)


@given(LATITUDES, LONGITUDES)
def test_utm_and_back(lat: float, lon: float) -> None:
    utm = geographic_to_utm(lat, lon)
    back = utm_to_geographic(utm.zone, utm.hemisphere, utm.easting_m, utm.northing_m)
    assert back.lat_deg == pytest.approx(lat, abs=1e-10)
    assert abs((back.lon_deg - lon + 180) % 360 - 180) < 1e-9


@given(LATITUDES, LONGITUDES)
def test_a_zone_is_at_most_six_degrees_off_its_centre(lat: float, lon: float) -> None:
    zone = utm_zone(lat, lon)
    from_centre = (lon - (6 * zone - 183) + 180) % 360 - 180
    assert abs(from_centre) <= 6
    if not (56 <= lat < 64 and 0 <= lon < 12) and not (lat >= 72 and 0 <= lon < 42):
        assert -3 <= from_centre < 3


@pytest.mark.parametrize(
    ("lat", "lon", "zone"),
    [
        (55.999, 3, 31),
        (56, 3, 32),
        (56, 2.999, 31),
        (63.999, 11.999, 32),
        (64, 3, 31),
        (71.999, 8, 32),
        (72, 8.999, 31),
        (72, 9, 33),
        (72, 20.999, 33),
        (72, 21, 35),
        (72, 33, 37),
        (84, 41.999, 37),
        (84, 42, 38),
        (72, -0.001, 30),
        (0, 180, 1),
        (0, -180, 1),
        (0, 179.999, 60),
    ],
)
def test_zones_at_their_edges(lat: float, lon: float, zone: int) -> None:
    assert utm_zone(lat, lon) == zone


def test_a_neighbours_zone_may_be_forced() -> None:
    own, forced = geographic_to_utm(45, 5.999), geographic_to_utm(45, 5.999, zone=32)
    assert (own.zone, forced.zone) == (31, 32)
    assert own.easting_m > 500_000 > forced.easting_m
    assert utm_to_geographic(32, "N", forced.easting_m, forced.northing_m) == pytest.approx((45, 5.999), abs=1e-9)


@settings(max_examples=40)
@given(st.floats(min_value=-79, max_value=83), st.floats(min_value=-3, max_value=3))
def test_scale_and_convergence_are_those_that_differences_of_coordinates_give(lat: float, lon: float) -> None:
    from pyproj import Proj

    factors = Proj("+proj=utm +zone=31 +ellps=WGS84").get_factors(lon + 3, lat)
    found = transverse_mercator_factors(lat, lon, 1 / 298.257223563)
    assert found.grid_convergence_deg == pytest.approx(factors.meridian_convergence, abs=1e-7)
    assert found.point_scale == pytest.approx(factors.meridional_scale, abs=1e-8)


def test_the_central_meridian_is_true_to_its_scale() -> None:
    found = geographic_to_utm(39, -117)
    assert found.easting_m == pytest.approx(500_000, abs=1e-6)
    assert found.grid_convergence_deg == 0
    assert found.point_scale == pytest.approx(0.9996, abs=1e-12)


@pytest.mark.parametrize("lat", [84.001, -80.001])
def test_the_polar_caps_are_outside_utm(lat: float) -> None:
    with pytest.raises(ValueError) as refused:
        geographic_to_utm(lat, 0)
    assert str(refused.value) == f"latitude {lat:g} is outside UTM, which reaches from -80 to 84"


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((61, "N", 5e5, 4e6), "zone 61 does not exist; UTM zones are 1 to 60"),
        ((0, "N", 5e5, 4e6), "zone 0 does not exist; UTM zones are 1 to 60"),
        ((11, "T", 5e5, 4e6), 'hemisphere "T" is neither N nor S'),
        ((11, "N", -1, 4e6), "easting -1 m, northing 4e+06 m lies off the grid of UTM"),
        ((11, "N", 5e5, 1.1e7), "easting 500000 m, northing 1.1e+07 m lies off the grid of UTM"),
        ((11, "N", float("nan"), 4e6), "easting nan is not a finite number"),
        ((11, "N", 5e5, 4e6, "egg"), 'ellipsoid "egg" is not known; WGS84 and GRS80 are'),
    ],
)
def test_coordinates_off_the_grid_are_refused(arguments: tuple[int, str, float, float, str], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        utm_to_geographic(*arguments)
    assert str(refused.value) == message


def test_the_british_grid_ends_with_britain() -> None:
    with pytest.raises(ValueError) as refused:
        transverse_mercator_airy(39, -117)
    assert str(refused.value) == "39, -117 is outside the British National Grid"
