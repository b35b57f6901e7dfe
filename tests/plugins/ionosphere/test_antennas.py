from __future__ import annotations

from math import cos, pi
from typing import Any

import pytest

from afield.plugins.ionosphere.computations import antennas as own
from afield.plugins.ionosphere.computations.antennas import level_dipole_over_ground, upright_dipole_over_ground
from afield.plugins.ionosphere.computations.ground import LIGHT_M_MHZ, ground_constants

MHZ = 14.15
WAVE_M = LIGHT_M_MHZ / MHZ
METAL = (1.0, 1e8)
AVERAGE = (13.0, 0.005)


@pytest.mark.parametrize("name", ["nec-dipole-h0p25-pec", "nec-dipole-h0p5-pec", "nec-dipole-h0p1-pec"])
def test_a_level_dipole_over_metal_has_the_gain_of_the_method_of_moments(name: str, published: dict[str, Any]) -> None:
    case = published[name]
    inputs, expected, allowed = case["inputs"], case["expected"], case["tolerance"]
    found = level_dipole_over_ground(inputs["length_wavelengths"], inputs["height_wavelengths"] * WAVE_M, *METAL, MHZ)
    assert found.max_gain_dbi == pytest.approx(expected["max_gain_dbi"], abs=allowed["gain_abs"])
    assert abs(found.elevation_of_max_deg - expected["elevation_of_max_deg"]) <= allowed["elevation_abs"]
    assert found.r_ohm == pytest.approx(expected["r_ohm"], rel=0.1)


def test_a_level_dipole_over_average_ground_has_it_too(published: dict[str, Any]) -> None:
    expected = published["nec-dipole-h0p5-avg"]["expected"]
    found = level_dipole_over_ground(0.4825, 0.5 * WAVE_M, *AVERAGE, MHZ)
    assert found.max_gain_dbi == pytest.approx(expected["max_gain_dbi"], abs=0.15)
    assert found.elevation_of_max_deg == expected["elevation_of_max_deg"]


def test_a_half_wave_far_up_has_its_resistance_in_free_space() -> None:
    assert level_dipole_over_ground(0.5, 3 * WAVE_M, 1.0, 0.0, MHZ).r_ohm == pytest.approx(73.13, abs=0.1)


def test_over_metal_the_resistance_is_that_beside_an_image() -> None:
    # Mutual resistance of half waves side by side, half a wave apart: -12.5 ohm; the image's current is reversed.
    assert level_dipole_over_ground(0.5, 0.25 * WAVE_M, *METAL, MHZ).r_ohm == pytest.approx(73.13 + 12.5, abs=0.1)


def test_over_metal_all_that_is_fed_goes_up() -> None:
    # Of an upright dipole the pattern is the same all round: the mean of its gain over the half sphere is 2.
    wire, steps = own._dipole(0.5, 2.0, *METAL, MHZ, upright=True), 90
    scale = own.ETA_OHM / pi / (own._free_resistance(wire) + own._upright_change(wire))
    angles = [pi / 2 * (step + 0.5) / steps for step in range(steps)]
    total = sum(scale * own._upright_power(wire, angle) * cos(angle) for angle in angles) * pi / 2 / steps
    assert total == pytest.approx(2, abs=0.002)


def test_sea_lifts_low_angles_and_poor_ground_takes_power() -> None:
    sea, lake, dry = (
        upright_dipole_over_ground(0.48, 0.3, *ground_constants(name), MHZ)
        for name in ("Sea Water", "Fresh Water", "Medium Dry")
    )
    assert sea.gain_5deg_dbi > lake.gain_5deg_dbi + 5
    assert sea.max_gain_dbi > dry.max_gain_dbi + 4


def test_a_low_wire_over_soil_loses_much_of_its_power() -> None:
    low, high = (level_dipole_over_ground(0.48, height * WAVE_M, *AVERAGE, MHZ) for height in (0.06, 0.25))
    assert low.max_gain_dbi < high.max_gain_dbi - 2
    assert (low.elevation_of_max_deg, high.gain_5deg_dbi < high.gain_10deg_dbi) == (90, True)


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (upright_dipole_over_ground, (1.2, 0.1, 13, 0.005, 14), "length 1.2 wavelengths is outside 0.3 to 0.6"),
        (upright_dipole_over_ground, (0.48, 0, 13, 0.005, 14), "lower end 0 m is outside 0.05 to 100"),
        (level_dipole_over_ground, (0.48, 0, 13, 0.005, 14), "height 0 wavelengths is outside 0.05 to 3"),
        (level_dipole_over_ground, (0.48, 10, 0, 0.005, 14), "permittivity 0 is outside 1 to 100"),
        (level_dipole_over_ground, (0.48, 10, 13, 0.005, 144), "frequency 144 MHz is outside 1.6 to 60"),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
