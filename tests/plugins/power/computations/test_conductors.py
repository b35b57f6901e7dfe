from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.conductors import (
    IEC_CLASS_5,
    NEC_TABLE_8,
    copper_resistance,
    copper_temperature_factor,
    iec60228_class5_resistance,
    iec60228_kt,
    nec_table8_dc_resistance,
    resistance_temperature_correction,
)
from afield.plugins.power.computations.wire_sizes import awg_area

KM_PER_KFT = 0.3048
TEMPERATURES = st.floats(min_value=-50, max_value=150)


@pytest.mark.parametrize("awg", [14, 12, 10, 8])
def test_the_figures_some_copies_print_as_stranded_are_the_solid_ones(awg: int) -> None:
    solid, stranded = (nec_table8_dc_resistance(awg, stranded=flag) for flag in (False, True))
    assert solid == {14: 3.07, 12: 1.93, 10: 1.21, 8: 0.764}[awg]
    assert stranded / solid == pytest.approx(1.025, abs=0.01)


def test_stranded_wire_is_taken_where_nothing_is_said() -> None:
    assert nec_table8_dc_resistance(12) == 1.98
    assert nec_table8_dc_resistance(0, material="coated copper") == 0.127


@pytest.mark.parametrize("awg", NEC_TABLE_8)
def test_the_table_is_that_of_copper_of_its_gauge(awg: int) -> None:
    of_copper = copper_resistance(awg_area(awg), 75) * KM_PER_KFT
    figures = [figure for figure in NEC_TABLE_8[awg] if figure]
    assert all(0.995 < figure / of_copper < 1.1 for figure in figures)
    assert min(figures) == figures[0]
    assert max(figures) == figures[-1]


def test_both_coefficients_for_copper_agree_on_12_awg_at_20_degrees() -> None:
    by_nec = resistance_temperature_correction(1.93, 20)
    by_handbook = copper_resistance(awg_area(12)) * KM_PER_KFT
    assert by_nec == pytest.approx(1.587, abs=5e-4)
    assert by_handbook == pytest.approx(1.588, abs=5e-4)


def test_the_coefficient_for_75_degrees_is_refused_where_that_for_20_is_due() -> None:
    with pytest.raises(ValueError) as refused:
        copper_temperature_factor(75, alpha20_per_k=0.00323)
    assert str(refused.value) == "coefficient for 20 °C 0.00323 per K is outside 0.0035 to 0.0045 per K"


def test_10_awg_is_0_9989_ohm_and_not_as_an_old_page_prints() -> None:
    assert copper_resistance(awg_area(10)) * KM_PER_KFT == pytest.approx(0.9989, abs=2e-4)


@pytest.mark.parametrize("area_mm2", IEC_CLASS_5)
def test_class_5_is_a_maximum_8_to_16_per_cent_over_copper(area_mm2: float) -> None:
    assert 1.08 < iec60228_class5_resistance(area_mm2) / copper_resistance(area_mm2) < 1.16


def test_the_factor_of_iec_60228_rounds_the_coefficient_to_0_004() -> None:
    assert iec60228_kt(20) == 1
    assert 1 / iec60228_kt(75) == pytest.approx(1 + 0.004 * 55)
    assert copper_temperature_factor(75) == pytest.approx(1 + 0.00393 * 55)


@given(st.floats(min_value=5, max_value=99), st.sampled_from(sorted(IEC_CLASS_5)))
def test_a_class_5_resistance_brought_back_to_20_degrees_is_the_table(celsius: float, area_mm2: float) -> None:
    found = iec60228_class5_resistance(area_mm2, celsius)
    assert found * iec60228_kt(celsius) == pytest.approx(IEC_CLASS_5[area_mm2])
    assert iec60228_class5_resistance(area_mm2, celsius + 1) > found


@given(TEMPERATURES, TEMPERATURES)
def test_a_factor_to_a_temperature_and_back_is_one(one: float, other: float) -> None:
    assert copper_temperature_factor(one, other) * copper_temperature_factor(other, one) == pytest.approx(1)


@given(TEMPERATURES, st.sampled_from(sorted(NEC_TABLE_8)))
def test_a_warmer_wire_resists_more(celsius: float, awg: int) -> None:
    hottest = nec_table8_dc_resistance(awg, 150)
    assert 0 < nec_table8_dc_resistance(awg, celsius) <= hottest


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (nec_table8_dc_resistance, {"awg": 5}, "NEC table 8 has no stranded conductor of 5 AWG"),
        (
            nec_table8_dc_resistance,
            {"awg": 0, "stranded": False},
            "NEC table 8 has no solid conductor of 1/0 AWG",
        ),
        (
            nec_table8_dc_resistance,
            {"awg": 99},
            "AWG 99 does not exist; gauges are -3 (4/0), -2 (3/0), -1 (2/0), 0 (1/0) and 1 to 56",
        ),
        (
            nec_table8_dc_resistance,
            {"awg": 12, "material": "aluminium"},
            'material "aluminium" is not known; known are uncoated copper and coated copper',
        ),
        (
            nec_table8_dc_resistance,
            {"awg": 12, "temperature_c": 200},
            "temperature 200 °C is outside -50 to 150 °C",
        ),
        (
            resistance_temperature_correction,
            {"r75_ohm_per_kft": 0, "temperature_c": 20},
            "resistance 0 ohm per 1,000 ft must be a finite number above 0",
        ),
        (
            iec60228_class5_resistance,
            {"area_mm2": 2},
            "area 2 mm2 is no nominal area of class 5; "
            "known are 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95",
        ),
        (
            iec60228_class5_resistance,
            {"area_mm2": 4, "temperature_c": -10},
            "temperature -10 °C is outside 5 to 100 °C",
        ),
        (iec60228_kt, {"temperature_c": 101}, "temperature 101 °C is outside 5 to 100 °C"),
        (copper_temperature_factor, {"temperature_c": -60}, "temperature -60 °C is outside -50 to 150 °C"),
        (
            copper_temperature_factor,
            {"temperature_c": 20, "reference_c": 151},
            "temperature 151 °C is outside -50 to 150 °C",
        ),
        (copper_resistance, {"area_mm2": -1}, "area -1 mm2 must be a finite number above 0"),
    ],
)
def test_what_no_table_covers_is_refused(computation: Any, arguments: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(**arguments)
    assert str(refused.value) == message
