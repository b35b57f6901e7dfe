from __future__ import annotations

import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.computations.military_grid import (
    PRECISIONS_M,
    geographic_to_mgrs,
    geographic_to_utm_mgrs,
    mgrs_change_precision,
    mgrs_parse_precision,
    mgrs_to_geographic_centre,
    mgrs_to_geographic_southwest_corner,
    utm_to_mgrs,
)

LATITUDES = st.floats(min_value=-79.99, max_value=83.99)
# Nearer than this to the edge of a zone (all are multiples of 3) either zone may be named.
LONGITUDES = st.floats(min_value=-180, max_value=180).filter(
    lambda lon: abs(lon - 3 * round(lon / 3)) > 1e-9 or lon % 3 == 0
)


@given(LATITUDES, LONGITUDES, st.sampled_from(PRECISIONS_M))
def test_a_position_lies_in_the_square_that_its_reference_names(lat: float, lon: float, precision: int) -> None:
    utm = geographic_to_utm_mgrs(lat, lon)
    corner = mgrs_to_geographic_southwest_corner(geographic_to_mgrs(lat, lon, precision))
    assert (corner.zone, corner.hemisphere, corner.precision_m) == (utm.zone, utm.hemisphere, precision)
    assert -1e-3 <= utm.easting_m - corner.easting_m <= precision + 1e-3
    assert -1e-3 <= utm.northing_m - corner.northing_m <= precision + 1e-3


@given(LATITUDES, LONGITUDES, st.sampled_from(PRECISIONS_M))
def test_a_coarser_reference_is_cut_from_the_finest(lat: float, lon: float, precision: int) -> None:
    finest = geographic_to_utm_mgrs(lat, lon).mgrs_1m
    assert mgrs_change_precision(finest, precision) == geographic_to_mgrs(lat, lon, precision)
    assert mgrs_parse_precision(geographic_to_mgrs(lat, lon, precision)).precision_m == precision


def test_the_corner_of_a_square_names_the_same_square() -> None:
    corner = mgrs_to_geographic_southwest_corner("11SNA4200056000")
    assert geographic_to_mgrs(corner.lat_deg, corner.lon_deg) == "11SNA4200056000"


def test_corner_and_centre_of_a_kilometre_are_707_m_apart() -> None:
    corner, centre = (read("38SMB4488") for read in (mgrs_to_geographic_southwest_corner, mgrs_to_geographic_centre))
    assert (centre.easting_m - corner.easting_m, centre.northing_m - corner.northing_m) == (500, 500)
    apart = geodesic_inverse(corner.lat_deg, corner.lon_deg, centre.lat_deg, centre.lon_deg).distance_m
    assert apart == pytest.approx(707.1, abs=0.5)


def test_digits_are_cut_off_not_rounded() -> None:
    assert utm_to_mgrs(12, "N", 252999.999, 3786999.999) == "12STC5299986999"
    assert utm_to_mgrs(12, "N", 252999.999, 3786999.999, 1000) == "12STC5286"


def test_noise_below_a_tenth_of_a_millimetre_does_not_move_a_point_off_its_grid_line() -> None:
    assert utm_to_mgrs(12, "N", 252999.99999, 3786999.99999) == "12STC5300087000"


def test_a_reference_keeps_to_the_positions_own_zone() -> None:
    forced = geographic_to_utm_mgrs(45, 5.999, zone=32)
    assert forced.zone == 32
    assert forced.mgrs_1m == geographic_to_mgrs(45, 5.999)
    assert forced.mgrs_1m.startswith("31T")


def test_blanks_and_lower_case_are_the_same_reference() -> None:
    assert mgrs_to_geographic_centre("18s uu 84 01") == mgrs_to_geographic_centre("18SUU8401")
    assert mgrs_parse_precision("04QFJ12345678") == (4, "Q", "FJ", "12345678", 10)


def test_a_square_across_the_edge_of_its_band_is_read_without_a_warning() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert mgrs_to_geographic_centre("31NAA").precision_m == 100_000


@pytest.mark.parametrize(
    "text",
    ["", "38SMB448", "38IMB4488", "38SMI4488", "38SMW44", "38AMB4488", "SMB4488", "38SMB123456123456", "38SMB-4-8"],
)
def test_a_text_that_is_no_reference_is_refused(text: str) -> None:
    with pytest.raises(ValueError) as refused:
        mgrs_to_geographic_centre(text)
    wanted = "is no MGRS reference; one looks like 11S NA 12345 67890, with an even number of digits"
    assert str(refused.value) == f'"{text}" {wanted}'


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("61SMB4488", "zone 61 does not exist; UTM zones are 1 to 60"),
        ("38SAB4488", '"38SAB4488" names no square: AB does not occur in 38S'),
        ("38XMB4488", '"38XMB4488" names no square: MB does not occur in 38X'),
    ],
)
def test_a_square_that_does_not_exist_is_refused(text: str, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        mgrs_to_geographic_southwest_corner(text)
    assert str(refused.value) == message


def test_a_reference_does_not_know_more_than_it_says() -> None:
    with pytest.raises(ValueError) as refused:
        mgrs_change_precision("38SMB4488", 100)
    assert str(refused.value) == '"38SMB4488" names a square of 1000 m; it does not know 100 m'


def test_a_precision_between_the_powers_of_ten_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        geographic_to_mgrs(39, -117, 50)
    assert str(refused.value) == "precision 50 m: 100000, 10000, 1000, 100, 10 and 1 are possible"


def test_coordinates_off_the_grid_are_refused() -> None:
    with pytest.raises(ValueError) as refused:
        utm_to_mgrs(12, "N", 5000.0, 3786999.0)
    assert str(refused.value) == "easting 5000 m, northing 3.787e+06 m lies off the grid of UTM"
