from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.radio.computations.s_units import Band, s_unit_to_dbm

BANDS = st.sampled_from(["HF", "VHF"])


@given(st.floats(min_value=1, max_value=8), BANDS)
def test_an_s_unit_is_6_db(s: float, band: Band) -> None:
    assert s_unit_to_dbm(s + 1, band).dbm - s_unit_to_dbm(s, band).dbm == pytest.approx(6)


@given(st.floats(min_value=1, max_value=9), BANDS)
def test_the_voltage_is_across_the_input_and_half_of_the_generators(s: float, band: Band) -> None:
    level = s_unit_to_dbm(s, band)
    available_w = 1e-3 * 10 ** (level.dbm / 10)
    volts = level.uv_50ohm * 1e-6
    assert volts**2 / 50 == pytest.approx(available_w)
    # A generator of 50 ohm gives at most E^2 / (4 R).
    assert (2 * volts) ** 2 / (4 * 50) == pytest.approx(available_w)


def test_decibels_over_s9_are_added() -> None:
    assert s_unit_to_dbm(9, "HF", over_s9_db=20).dbm == -53


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((0, "HF"), "S-unit 0 is outside 1 to 9"),
        ((10, "HF"), "S-unit 10 is outside 1 to 9"),
        ((9, "UHF"), 'band "UHF" is not known; HF is below 30 MHz, VHF above'),
        ((7, "HF", 20), "20 dB over S9 cannot be said of S7; give s=9 with it"),
        ((9, "HF", -3), "over S9 -3 dB is outside 0 to 100"),
    ],
)
def test_reports_that_mean_nothing_are_refused(arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        s_unit_to_dbm(*arguments)
    assert str(refused.value) == message
