"""Voltage and current from battery to load, in whole plans."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.power.computations.conductors import nec_table8_dc_resistance
from afield.plugins.power.computations.voltage_drop import dc_voltage_drop


def test_the_loss_of_a_lead_is_that_of_the_table(station: Any, simple: str) -> None:
    facts = station.facts(simple, "conditions: {temperature: 20 degC}")
    per_m = nec_table8_dc_resistance(12, temperature_c=20) / 304.8
    by_table = dc_voltage_drop(20, 3, per_m, 12).drop_v + 20 * 0.006
    drop = facts("radio", "dc.drop")
    assert drop.value == pytest.approx(by_table, rel=0.03)
    assert abs(drop.value - by_table) < drop.uncertainty


def test_what_is_left_is_the_end_voltage_less_the_loss(station: Any, simple: str) -> None:
    facts = station.facts(simple)
    left, drop = facts("radio", "dc.voltage_at_end"), facts("radio", "dc.drop")
    assert left.value == pytest.approx(12 - drop.value)
    assert facts("radio", "dc.headroom").value == pytest.approx(left.value - 11.7)
    assert facts("radio", "dc.drop_share").value == pytest.approx(100 * drop.value / 12.8)
    assert facts("trip", "power.radio_voltage").value == left.value


def test_the_detail_names_the_way_the_worst_piece_and_the_wire_that_would_do(station: Any, simple: str) -> None:
    detail = station.facts(simple)("radio", "dc.drop_share").detail
    assert detail == {
        "way": "battery, lead, radio", "worst": "lead (0.78 V)", "needed_area": "lead of 8.3 mm²",
        "needed_awg": "8 AWG would lose 0.38 V in all",
    }  # fmt: skip


def test_the_planned_power_decides_what_is_drawn(station: Any, simple: str) -> None:
    half = station.facts(simple, 'schedule: {on_air: ["10:00", "12:00"], power: 50 W}')("radio", "dc.full_current")
    full = station.facts(simple)("radio", "dc.full_current")
    assert (half.value, half.detail["why"]) == (13, "transmit at 50 W")
    assert (full.value, full.detail["why"]) == (20, "transmit at 100 W")
    between = 'schedule: {on_air: ["10:00", "12:00"], slots: [{name: one, from: "10:00", to: "11:00", power: 60 W}]}'
    assert station.facts(simple, between)("radio", "dc.full_current").value == 20


def test_a_lead_that_is_not_described_is_named(station: Any, simple: str) -> None:
    bare = simple.replace("    conductor: {awg: 12, length: 3 m, contacts: 6 mohm}\n", "")
    for name in ("dc.drop", "dc.drop_share", "dc.voltage_at_end", "dc.headroom"):
        reason = station.facts(bare)("radio", name).reason
        assert (reason.text, reason.settle) == ("the conductor of lead is not stated", "conductor of lead in kit.yaml")
        assert reason.subject in ("item:lead", "item:radio")


def test_a_temperature_that_is_not_stated_is_said_and_widens(station: Any, simple: str) -> None:
    usual, stated = station.facts(simple), station.facts(simple, "conditions: {temperature: 20 degC}")
    note = "The air temperature is not stated: wires of 20 °C ± 15 °C are taken."
    assert note in usual("radio", "dc.drop").notes
    assert note not in stated("radio", "dc.drop").notes
    assert usual("radio", "dc.drop").uncertainty > stated("radio", "dc.drop").uncertainty
    assert {"temperature of the wires"} <= set(usual("radio", "dc.drop").parts)


def test_contacts_that_are_not_stated_are_said_and_widen(station: Any, simple: str) -> None:
    silent = simple.replace(", contacts: 6 mohm", "")
    drop, stated = station.facts(silent)("radio", "dc.drop"), station.facts(simple)("radio", "dc.drop")
    assert any(note.startswith("Where contacts are not stated") for note in drop.notes)
    assert not any(note.startswith("Where contacts are not stated") for note in stated.notes)
    assert drop.uncertainty > stated.uncertainty


def test_an_end_voltage_by_chemistry_leaves_the_radio_undecided(station: Any, simple: str) -> None:
    silent = simple.replace(", end_voltage: 12 V", "").replace("volts: [12 V, 14.4 V]", "volts: 13 V")
    left = station.facts(silent)("radio", "dc.voltage_at_end")
    assert left.parts["end voltage of battery"] == pytest.approx(1.2)
    assert (
        "The end voltage of battery is not stated: 2.8 V a cell under load, 11.2 V ± 1.2 V, is taken (common practice, "
        "no source)."
    ) in left.notes


def test_an_item_that_nothing_feeds_says_so(station: Any, simple: str) -> None:
    facts = station.facts(simple)
    assert facts("lead", "dc.fed").value is False
    assert facts("lead", "dc.drop").reason.text == "no battery or supply feeds lead"


def test_names_alone_have_neither_wires_nor_batteries(station: Any) -> None:
    facts = station.facts("items: [pencil, radio, battery]")
    gates = ("battery.present", "battery.flies", "battery.charged_on_outing", "dc.fed", "dc.feeds", "lead.carries",
             "lead.fused", "usb.fed")  # fmt: skip
    assert {facts(item, gate).value for item in ("pencil", "radio", "battery") for gate in gates} == {False}


def test_a_station_without_a_fed_radio_has_no_voltage_at_it(station: Any) -> None:
    reason = station.facts("items: [pencil]")("trip", "power.radio_voltage").reason
    assert reason.text == "no battery or supply feeds a radio"
