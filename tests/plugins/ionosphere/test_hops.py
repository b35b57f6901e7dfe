from __future__ import annotations

from math import cos, degrees, hypot, radians, sin
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.ionosphere.computations.hops import (
    EARTH_KM,
    hop_elevation,
    hop_length,
    incidence,
    secant_law_ratio,
    slant_range,
)

HEIGHTS = st.floats(min_value=80, max_value=500)
ELEVATIONS = st.floats(min_value=0, max_value=89)


def mirror(hop_km: float, height_km: float) -> tuple[float, float, float]:
    """From the ground's end of a hop to its mirror: east and up there, and the way, by plain coordinates."""
    half, top = hop_km / 2 / EARTH_KM, EARTH_KM + height_km
    east, up = top * sin(half), top * cos(half) - EARTH_KM
    return east, up, hypot(east, up)


@given(ELEVATIONS, HEIGHTS)
def test_the_hop_that_leaves_at_an_elevation_leaves_at_it(elevation: float, height: float) -> None:
    assert hop_elevation(hop_length(elevation, height), height) == pytest.approx(elevation, abs=1e-6)


@given(st.floats(min_value=1, max_value=3000), HEIGHTS)
def test_elevation_way_and_incidence_are_those_of_one_triangle(hop: float, height: float) -> None:
    east, up, way = mirror(hop, height)
    elevation = hop_elevation(hop, height)
    assert sin(radians(elevation)) == pytest.approx(up / way, abs=1e-9)
    assert slant_range(hop, height) == pytest.approx(2 * way)
    if elevation >= 0:
        # The three angles of the triangle: a right angle and the elevation, half the hop, the incidence.
        rest = 90 - elevation - degrees(hop / 2 / EARTH_KM)
        assert incidence(elevation, height) == pytest.approx(rest, abs=1e-6)
        assert secant_law_ratio(hop, height) == pytest.approx(1 / cos(radians(rest)))
    assert east > 0


@given(st.floats(min_value=0, max_value=2000), st.floats(min_value=0, max_value=2000))
def test_a_longer_hop_carries_a_higher_frequency(one: float, other: float) -> None:
    shorter, longer = sorted((one, other))
    assert 1 <= secant_law_ratio(shorter, 300) <= secant_law_ratio(longer, 300)


def test_straight_up_comes_straight_down() -> None:
    assert (hop_elevation(0, 300), secant_law_ratio(0, 300), slant_range(0, 300)) == (90, 1, 600)


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (secant_law_ratio, (4000, 250), "the mirror at 250 km is below the horizon of a hop of 4000 km; take two"),
        (secant_law_ratio, (500, 300, 6.371), "earth radius 6.371 km is outside 6300 to 6400"),
        (hop_elevation, (-1, 300), "hop -1 km is outside 0 to 6000"),
        (hop_length, (91, 300), "elevation 91 deg is outside 0 to 90"),
        (incidence, (10, 0), "height 0 km is outside 60 to 800"),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
