from __future__ import annotations

from math import asin, cos, degrees, log10, pi, radians, sin
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.ionosphere.computations.ground import (
    LIGHT_M_MHZ,
    fresnel_reflection,
    ground_constants,
    ground_gain,
    pseudo_brewster_angle,
)

PERMITTIVITIES = st.floats(min_value=3, max_value=80)
CONDUCTIVITIES = st.floats(min_value=1e-4, max_value=5)
FREQUENCIES = st.floats(min_value=1.8, max_value=30)
METAL = (1.0, 1e8)


def half_wave_pattern(elevation_deg: float) -> float:
    """Field of an upright half-wave dipole in free space, 1 towards the horizon."""
    return cos(pi / 2 * sin(radians(elevation_deg))) / cos(radians(elevation_deg))


def upright_db(inputs: dict[str, Any], elevation_deg: float) -> float:
    """Shape of an upright half-wave dipole's pattern over ground, in dB."""
    middle_m = inputs["lower_end_m"] + inputs["length_wavelengths"] * LIGHT_M_MHZ / inputs["frequency_mhz"] / 2
    ground = inputs["er"], inputs["sigma_s_per_m"], inputs["frequency_mhz"]
    return ground_gain(*ground, elevation_deg, middle_m, "vertical") + 20 * log10(half_wave_pattern(elevation_deg))


@given(PERMITTIVITIES, CONDUCTIVITIES, FREQUENCIES, st.floats(min_value=0, max_value=90))
def test_ground_never_sends_back_more_than_it_gets(er: float, sigma: float, mhz: float, elevation: float) -> None:
    found = fresnel_reflection(er, sigma, mhz, elevation)
    assert 0 <= found.rv_mag <= 1 + 1e-12
    assert 0 <= found.rh_mag <= 1 + 1e-12


@given(PERMITTIVITIES, CONDUCTIVITIES, FREQUENCIES)
def test_at_grazing_all_comes_back_upside_down(er: float, sigma: float, mhz: float) -> None:
    found = fresnel_reflection(er, sigma, mhz, 0)
    assert (found.rv_mag, found.rh_mag) == pytest.approx((1, 1))
    assert (abs(found.rv_phase_deg), abs(found.rh_phase_deg)) == pytest.approx((180, 180))


@given(PERMITTIVITIES, CONDUCTIVITIES, FREQUENCIES)
def test_straight_down_both_are_the_same_but_for_their_sign(er: float, sigma: float, mhz: float) -> None:
    found = fresnel_reflection(er, sigma, mhz, 90)
    assert found.rv_mag == pytest.approx(found.rh_mag)
    assert abs(found.rv_phase_deg - found.rh_phase_deg) == pytest.approx(180, abs=1e-6)


@given(PERMITTIVITIES, CONDUCTIVITIES, FREQUENCIES, st.floats(min_value=0.5, max_value=89))
def test_nowhere_is_less_sent_back_than_at_that_angle(er: float, sigma: float, mhz: float, other: float) -> None:
    angle = pseudo_brewster_angle(er, sigma, mhz)
    least = fresnel_reflection(er, sigma, mhz, angle).rv_mag
    assert least <= fresnel_reflection(er, sigma, mhz, other).rv_mag + 1e-9


def test_without_loss_it_is_brewster_s_angle() -> None:
    assert pseudo_brewster_angle(4, 0, 14) == pytest.approx(degrees(asin(1 / 5**0.5)), abs=0.01)


@pytest.mark.parametrize(("height", "elevation"), [(0.5, 30.0), (1.0, 14.4775)])
def test_the_lowest_lobe_of_a_horizontal_wire_over_metal(height: float, elevation: float) -> None:
    metres = height * LIGHT_M_MHZ / 14.15
    assert ground_gain(*METAL, 14.15, elevation, metres, "horizontal") == pytest.approx(6.02, abs=0.001)
    assert ground_gain(*METAL, 14.15, 0, metres, "horizontal") == -100


def test_the_lobe_over_average_ground_is_where_the_method_of_moments_has_it(published: dict[str, Any]) -> None:
    case = published["nec-dipole-h0p5-avg"]
    metres = 0.5 * LIGHT_M_MHZ / case["inputs"]["frequency_mhz"]
    best = max(range(91), key=lambda angle: ground_gain(13, 0.005, 14.15, angle, metres, "horizontal"))
    assert abs(best - case["expected"]["elevation_of_max_deg"]) <= case["tolerance"]["elevation_abs"]


@pytest.mark.parametrize("name", ["nec-vdipole-sea", "nec-vdipole-average"])
def test_an_upright_dipole_has_the_shape_that_the_method_of_moments_gives(name: str, published: dict[str, Any]) -> None:
    case = published[name]
    inputs, expected, allowed = case["inputs"], case["expected"], case["tolerance"]
    best = max(range(1, 90), key=lambda angle: upright_db(inputs, angle))
    assert abs(best - expected["elevation_of_max_deg"]) <= allowed["elevation_abs"]
    for angle in (5, 10):
        below = expected["max_gain_dbi"] - expected[f"gain_{angle}deg_dbi"]
        assert upright_db(inputs, best) - upright_db(inputs, angle) == pytest.approx(below, abs=allowed["gain_abs"])


def test_fresh_water_is_not_sea() -> None:
    sea, lake = ground_constants("Sea Water"), ground_constants("Fresh Water")
    gains = [ground_gain(*ground, 14.15, 5, 5, "vertical") for ground in (sea, lake)]
    assert gains[0] - gains[1] > 3


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (
            ground_constants,
            ("Sea",),
            'ground "Sea" is not known; known are Sea Water, Fresh Water, Wet, Medium Dry, Very Dry',
        ),
        (fresnel_reflection, (0, 0.005, 14, 10), "permittivity 0 is outside 1 to 100"),
        (fresnel_reflection, (13, -1, 14, 10), "conductivity -1 S/m is outside 0 to 1e+08"),
        (fresnel_reflection, (13, 0.005, 14, 100), "elevation 100 deg is outside 0 to 90"),
        (pseudo_brewster_angle, (13, 0.005, 0), "frequency 0 MHz is outside 0.1 to 300"),
        (ground_gain, (13, 0.005, 14, 10, -1, "vertical"), "height -1 m is outside 0 to 200"),
        (
            ground_gain,
            (13, 0.005, 14, 10, 5, "circular"),
            'polarisation "circular" is not known; give vertical or horizontal',
        ),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
