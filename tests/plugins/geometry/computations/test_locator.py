from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.computations.locator import (
    LENGTHS,
    maidenhead_decode,
    maidenhead_encode,
    maidenhead_uncertainty,
)

LATITUDES = st.floats(min_value=-90, max_value=90)
LONGITUDES = st.floats(min_value=-180, max_value=180)


@given(LATITUDES, LONGITUDES, st.sampled_from(LENGTHS))
def test_a_position_lies_in_the_cell_that_its_locator_names(lat: float, lon: float, characters: int) -> None:
    cell = maidenhead_decode(maidenhead_encode(lat, lon, characters))
    slack = 1e-12
    assert cell.sw_lat_deg - slack <= lat <= cell.sw_lat_deg + cell.height_deg + slack
    assert cell.sw_lon_deg - slack <= lon <= cell.sw_lon_deg + cell.width_deg + slack


@given(LATITUDES, LONGITUDES, st.sampled_from(LENGTHS))
def test_the_centre_of_a_cell_has_the_cells_locator(lat: float, lon: float, characters: int) -> None:
    locator = maidenhead_encode(lat, lon, characters)
    cell = maidenhead_decode(locator)
    assert maidenhead_encode(cell.centre_lat_deg, cell.centre_lon_deg, characters) == locator
    assert maidenhead_decode(locator.swapcase()) == cell


@given(LATITUDES, LONGITUDES)
def test_a_longer_locator_begins_with_the_shorter_one(lat: float, lon: float) -> None:
    longest = maidenhead_encode(lat, lon, 10)
    assert all(longest.startswith(maidenhead_encode(lat, lon, characters)) for characters in LENGTHS)


@given(st.integers(min_value=0, max_value=17), st.integers(min_value=0, max_value=9))
def test_an_edge_belongs_to_the_cell_north_and_east_of_it(field: int, square: int) -> None:
    lat, lon = -90 + 10 * field + square, -180 + 20 * field + 2 * square
    locator = maidenhead_encode(lat, lon, 4)
    assert (maidenhead_decode(locator).sw_lat_deg, maidenhead_decode(locator).sw_lon_deg) == (lat, lon)


def test_an_edge_that_binary_fractions_cannot_hold_is_still_an_edge() -> None:
    # 10 subsquare rows of 2.5 minutes and a tenth: 51.4208333... is no edge, 51.425 = 51 + 17 * 0.025 is one.
    assert maidenhead_encode(51.425, 0.0, 8)[-1] == str(int(Fraction("0.425") * 240) % 10)
    assert maidenhead_encode(0.7, 0.1, 8) == maidenhead_encode(0.7000000001, 0.1000000001, 8)


@pytest.mark.parametrize(
    ("lat", "lon", "locator"),
    [(90, 180, "RR99xx99xx"), (-90, -180, "AA00aa00aa"), (-0.0001, -0.0001, "II99xx99xx"), (0, 0, "JJ00aa00aa")],
)
def test_corners_of_the_world(lat: float, lon: float, locator: str) -> None:
    assert maidenhead_encode(lat, lon, 10) == locator


def test_the_uncertainty_reaches_the_farthest_corner() -> None:
    cell = maidenhead_decode("DM09")
    south_west = geodesic_inverse(cell.centre_lat_deg, cell.centre_lon_deg, cell.sw_lat_deg, cell.sw_lon_deg)
    assert maidenhead_uncertainty("DM09") == pytest.approx(south_west.distance_m)
    assert maidenhead_uncertainty("DM09jw") < maidenhead_uncertainty("DM09") < maidenhead_uncertainty("DM")


@pytest.mark.parametrize(
    ("locator", "message"),
    [
        ("", 'locator "" has 0 characters; a locator has 2, 4, 6, 8 or 10'),
        ("JN1", 'locator "JN1" has 3 characters; a locator has 2, 4, 6, 8 or 10'),
        ("JN18eu00aa0", 'locator "JN18eu00aa0" has 11 characters; a locator has 2, 4, 6, 8 or 10'),
        ("JS18", 'locator "JS18": character 2 is "S"; A to R is due there'),
        ("JN1x", 'locator "JN1x": character 4 is "X"; 0 to 9 is due there'),
        ("JN18yu", 'locator "JN18yu": character 5 is "Y"; A to X is due there'),
        ("JN٣8eu", 'locator "JN٣8eu": character 3 is "٣"; 0 to 9 is due there'),
    ],
)
def test_a_text_that_is_no_locator_is_refused(locator: str, message: str) -> None:
    with pytest.raises(ValueError) as refused:
        maidenhead_decode(locator)
    assert str(refused.value) == message


def test_a_length_that_no_locator_has_is_refused() -> None:
    with pytest.raises(ValueError) as refused:
        maidenhead_encode(0, 0, 5)
    assert str(refused.value) == "a locator has 2, 4, 6, 8 or 10 characters, not 5"
