from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from afield.plugins.power.computations.batteries import lfp_pack_voltages
from afield.plugins.power.computations.conductors import copper_resistance, nec_table8_dc_resistance
from afield.plugins.power.computations.voltage_drop import (
    dc_voltage_drop,
    dc_voltage_drop_metric,
    required_circular_mils,
    select_awg_for_drop,
)
from afield.plugins.power.computations.wire_sizes import SAE_CIRCULAR_MILS, awg_area, awg_circular_mils

AMPERES = st.floats(min_value=0.1, max_value=30)
FEET = st.floats(min_value=1, max_value=60)


@given(AMPERES, st.floats(min_value=0.5, max_value=10), st.sampled_from([1.5, 2.5, 4.0, 6.0, 10.0]))
def test_one_way_and_out_and_back_come_to_the_same_drop(current_a: float, one_way_m: float, area_mm2: float) -> None:
    one_way = dc_voltage_drop(current_a, one_way_m, copper_resistance(area_mm2) / 1000, 230)
    round_trip = dc_voltage_drop_metric(current_a, 2 * one_way_m, area_mm2)
    assert one_way.drop_v == pytest.approx(round_trip)
    assert one_way.drop_v + one_way.load_v == pytest.approx(230)
    assert one_way.drop_percent == pytest.approx(100 * one_way.drop_v / 230)


def test_the_same_length_taken_both_ways_doubles_the_answer() -> None:
    one_way = dc_voltage_drop(10, 3, copper_resistance(2.5) / 1000, 12.8)
    assert one_way.drop_v == pytest.approx(2 * dc_voltage_drop_metric(10, 3, 2.5))


def test_what_matters_is_the_voltage_left_at_the_end_of_the_battery() -> None:
    wire = nec_table8_dc_resistance(12, 20) / 304.8
    full, empty = (dc_voltage_drop(20, 3, wire, volts) for volts in (13.4, lfp_pack_voltages(4).empty_v))
    assert full.drop_v == pytest.approx(empty.drop_v)
    assert full.load_v > 11.7 > empty.load_v


@given(AMPERES, FEET, st.floats(min_value=0.1, max_value=2))
def test_a_wire_of_the_required_area_loses_what_may_be_lost(
    current_a: float, round_trip_ft: float, drop_v: float
) -> None:
    area_cmil = required_circular_mils(current_a, round_trip_ft, drop_v)
    assert 10.75 * current_a * round_trip_ft / area_cmil == pytest.approx(drop_v)


@given(AMPERES, FEET, st.sampled_from(["SAE", "AWG"]))
def test_the_selected_wire_is_the_thinnest_that_will_do(current_a: float, round_trip_ft: float, wire: Any) -> None:
    assume(required_circular_mils(current_a, round_trip_ft, 0.36) <= SAE_CIRCULAR_MILS[-3])
    found = select_awg_for_drop(current_a, round_trip_ft, 12, 3, wire)
    thinner = [awg for awg in SAE_CIRCULAR_MILS if awg > found.awg]
    areas = [SAE_CIRCULAR_MILS[awg] if wire == "SAE" else awg_circular_mils(awg) for awg in thinner]
    assert all(area < found.required_cmil for area in areas)
    assert found.area_cmil >= found.required_cmil


def test_the_published_example_needs_10_in_sae_wire_and_12_in_awg() -> None:
    sae, awg = (select_awg_for_drop(10, 21, 12, 3, wire) for wire in ("SAE", "AWG"))
    assert sae[:1] + sae[2:] == (10, 9343, "SAE")
    assert (awg.awg, awg.wire, round(awg.area_cmil)) == (12, "AWG", 6530)
    assert sae.required_cmil == awg.required_cmil == pytest.approx(6270.8, abs=0.1)


def test_a_wire_chosen_by_marine_practice_keeps_the_drop_by_ohms_law() -> None:
    found = select_awg_for_drop(10, 21, 12, 3, "AWG")
    drop = dc_voltage_drop_metric(10, 21 * 0.3048, awg_area(found.awg))
    assert drop < 0.36


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (dc_voltage_drop, (20, 30, 0.01, 12), "a drop of 12 V leaves nothing of 12 V: that current cannot flow"),
        (dc_voltage_drop, (-1, 3, 0.01, 12), "current -1 A must be a finite number, 0 or more"),
        (dc_voltage_drop, (1, -3, 0.01, 12), "one-way length -3 m must be a finite number, 0 or more"),
        (dc_voltage_drop, (1, 3, 0, 12), "resistance 0 ohm per m must be a finite number above 0"),
        (dc_voltage_drop, (1, 3, 0.01, 0), "source voltage 0 V must be a finite number above 0"),
        (
            dc_voltage_drop_metric,
            (1, 3, 2.5, 17.241),
            "resistivity 17.241 ohm mm2 per m is outside 0.015 to 0.03 ohm mm2 per m",
        ),
        (dc_voltage_drop_metric, (1, 3, 0), "area 0 mm2 must be a finite number above 0"),
        (dc_voltage_drop_metric, (1, -3, 4), "round trip -3 m must be a finite number, 0 or more"),
        (required_circular_mils, (1, 10, 0), "voltage drop 0 V must be a finite number above 0"),
        (required_circular_mils, (1, 10, 1, 21.5), "K 21.5 ohm cmil per ft is outside 9 to 14 ohm cmil per ft"),
        (select_awg_for_drop, (1, 10, 12, 0), "voltage drop 0 % must be a finite number above 0"),
        (select_awg_for_drop, (1, 10, 12, 60), "voltage drop 60 % is outside 0 to 50 %"),
        (select_awg_for_drop, (1, 10, 0, 3), "voltage 0 V must be a finite number above 0"),
        (select_awg_for_drop, (1, 10, 12, 3, "BS"), 'wire "BS" is not known; known are SAE and AWG'),
        (
            select_awg_for_drop,
            (200, 100, 12, 3),
            "597222 circular mils are needed and 4/0 AWG is too thin; shorten the way or lay two wires",
        ),
    ],
)
def test_what_cannot_be_is_refused(computation: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(*arguments)
    assert str(refused.value) == message
