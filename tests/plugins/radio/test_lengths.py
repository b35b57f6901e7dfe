from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.lengths import WireLength, half_wave_dipole_rule, quarter_wave_rule

FREQUENCIES = st.floats(min_value=1.8, max_value=54)
HALF_WAVE_M = 149.896
THIN_WIRE = {1e-3: 0.948, 1e-4: 0.967, 1e-5: 0.976}
"""Radius in wavelengths -> resonant length over half a wavelength, in free space, by the method of moments."""


@given(FREQUENCIES)
def test_a_quarter_wave_is_half_of_the_dipole(frequency: float) -> None:
    assert 2 * quarter_wave_rule(frequency).length_m == pytest.approx(half_wave_dipole_rule(frequency).length_m)


@given(FREQUENCIES)
def test_both_rules_and_both_units_agree(frequency: float) -> None:
    feet, metres = half_wave_dipole_rule(frequency), half_wave_dipole_rule(frequency, "143/f")
    assert feet.length_m == pytest.approx(metres.length_m, rel=0.003)
    assert feet.length_m == pytest.approx(feet.length_ft * 0.3048)


def test_the_length_is_of_the_whole_wire() -> None:
    assert half_wave_dipole_rule(14.25).length_ft == pytest.approx(468 / 14.25)
    assert half_wave_dipole_rule(7.1, "143/f").length_m == pytest.approx(143 / 7.1)


@pytest.mark.parametrize("radius", [1e-4, 1e-5])
def test_the_rule_runs_short_for_thin_wire(radius: float) -> None:
    resonant_m = THIN_WIRE[radius] * HALF_WAVE_M / 7.1
    short = 1 - half_wave_dipole_rule(7.1).length_m / resonant_m
    assert 0.01 < short < 0.03


def test_the_rule_fits_wire_of_a_thousandth_of_a_wave() -> None:
    assert half_wave_dipole_rule(7.1).length_m == pytest.approx(THIN_WIRE[1e-3] * HALF_WAVE_M / 7.1, rel=0.005)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((0,), "frequency 0 MHz is outside 1.8 to 54"),
        ((144,), "frequency 144 MHz is outside 1.8 to 54"),
        ((14250,), "frequency 14250 MHz is outside 1.8 to 54"),
        ((7.1, "150/f"), 'rule "150/f" is not known; known are 468/f, 143/f'),
    ],
)
def test_a_rule_out_of_its_range_is_refused(arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        half_wave_dipole_rule(*arguments)
    assert str(refused.value) == message


def test_the_quarter_wave_has_the_same_range() -> None:
    assert quarter_wave_rule(1.8) == WireLength(pytest.approx(39.62, abs=0.01), pytest.approx(130))
    with pytest.raises(ValueError) as refused:
        quarter_wave_rule(146)
    assert str(refused.value) == "frequency 146 MHz is outside 1.8 to 54"
