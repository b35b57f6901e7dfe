"""What is said of figures that contradict each other, whole, with their place."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.documents import InputError

MESSAGES = {
    "a harvest that the panel cannot give": (
        """\
        items:
          - name: panel
            is: solar-panel-60-w
            solar: {harvest: 500 W}
        """,
        """\
kit.yaml:4:22: a harvest of 500 W is more than the panel's rated 60 W
    |     solar: {harvest: 500 W}
    = Write the average power while the station is up, well below the rating.""",
    ),
    "an end voltage above the nominal one": (
        """\
        items:
          - name: battery
            is: lithium-iron-battery-6-ah
            battery: {end_voltage: 20 V}
        """,
        """\
kit.yaml:4:28: the end voltage 20 V is not below the nominal 12.8 V
    |     battery: {end_voltage: 20 V}
    = Write the volts under load at which its use ends, or leave it out.""",
    ),
    "battery without its chemistry": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {capacity: 6 Ah}
        """,
        """\
kit.yaml:5:14: battery has no key "chemistry"
    |     battery: {capacity: 6 Ah}
    = Add it, for example: chemistry: lithium iron phosphate""",
    ),
    "battery without its capacity": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium ion}
        """,
        """\
kit.yaml:5:14: battery has no key "capacity"
    |     battery: {chemistry: lithium ion}
    = Add it, for example: capacity: 6 Ah""",
    ),
    "capacity of nothing": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium ion, capacity: 0 Ah}
        """,
        """\
kit.yaml:5:49: capacity of the battery 0 Ah is not more than 0 Ah
    |     battery: {chemistry: lithium ion, capacity: 0 Ah}
    = Write more than 0 Ah.""",
    ),
    "negative capacity": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium ion, capacity: -6 Ah}
        """,
        """\
kit.yaml:5:49: capacity of the battery -6 Ah is not more than 0 Ah
    |     battery: {chemistry: lithium ion, capacity: -6 Ah}
    = Write more than 0 Ah.""",
    ),
    "charged over full": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium ion, capacity: 6 Ah, charged: 120 %}
        """,
        """\
kit.yaml:5:64: state of charge at arrival 120 % is more than 100 %
    |     battery: {chemistry: lithium ion, capacity: 6 Ah, charged: 120 %}
    = Write 100 % or less.""",
    ),
    "milliampere-hours written as ampere-hours": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium iron phosphate, capacity: 6000 Ah, nominal: 12.8 V}
        """,
        """\
kit.yaml:5:60: 6000 Ah at 12.8 V in 0.8 kg would be 96 kWh/kg
    |     battery: {chemistry: lithium iron phosphate, capacity: 6000 Ah, nominal: 12.8 V}
    = Batteries hold 5 to 400 Wh/kg (common practice, no source). Did you mean "6000 mAh"?""",
    ),
    "ampere-hours written as milliampere-hours": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium iron phosphate, capacity: 6 mAh, nominal: 12.8 V}
        """,
        """\
kit.yaml:5:60: 6 mAh at 12.8 V in 0.8 kg would be 0.096 Wh/kg
    |     battery: {chemistry: lithium iron phosphate, capacity: 6 mAh, nominal: 12.8 V}
    = Batteries hold 5 to 400 Wh/kg (common practice, no source). Did you mean "6 Ah"?""",
    ),
    "too much for the mass whatever the unit": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium iron phosphate, capacity: 60 Ah, nominal: 12.8 V}
        """,
        """\
kit.yaml:5:60: 60 Ah at 12.8 V in 0.8 kg would be 960 Wh/kg
    |     battery: {chemistry: lithium iron phosphate, capacity: 60 Ah, nominal: 12.8 V}
    = Batteries hold 5 to 400 Wh/kg (common practice, no source). Check capacity, nominal voltage and mass, \
with their units.""",
    ),
    "voltage by cells": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium iron phosphate, capacity: 6000 Ah, cells: 4}
        """,
        """\
kit.yaml:5:60: 6000 Ah at 12.8 V in 0.8 kg would be 96 kWh/kg
    |     battery: {chemistry: lithium iron phosphate, capacity: 6000 Ah, cells: 4}
    = Batteries hold 5 to 400 Wh/kg (common practice, no source). Did you mean "6000 mAh"?""",
    ),
    "no voltage to compare by": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium iron phosphate, capacity: 6000 Ah}
        """,
        """\
kit.yaml:5:60: 6000 Ah is more than the 2000 Ah that a battery is taken to hold at most
    |     battery: {chemistry: lithium iron phosphate, capacity: 6000 Ah}
    = Did you mean "6000 mAh"?""",
    ),
    "kilograms for grams": (
        """\
        items:
          - {name: battery, is: lithium-iron-battery-6-ah, mass: 820 kg}
        """,
        """\
kit.yaml:2:58: 6 Ah at 12.8 V in 820 kg would be 0.094 Wh/kg
    |   - {name: battery, is: lithium-iron-battery-6-ah, mass: 820 kg}
    = Batteries hold 5 to 400 Wh/kg (common practice, no source). Did you mean "820 g"?""",
    ),
    "label against capacity": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium iron phosphate, capacity: 6 Ah, nominal: 12.8 V, label_energy: 99 Wh}
        """,
        """\
kit.yaml:5:97: the label says 99 Wh, but 6 Ah at 12.8 V make 77 Wh
    |     battery: {chemistry: lithium iron phosphate, capacity: 6 Ah, nominal: 12.8 V, label_energy: 99 Wh}
    = Read capacity, nominal voltage and watt-hours off the label again; write the watt-hours as printed.""",
    ),
    "voltage of another chemistry": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium iron phosphate, capacity: 6 Ah, cells: 4, nominal: 14.8 V}
        """,
        """\
kit.yaml:5:85: 14.8 V is not the nominal voltage of 4 cells of lithium iron phosphate, which make 12.8 V
    |     battery: {chemistry: lithium iron phosphate, capacity: 6 Ah, cells: 4, nominal: 14.8 V}
    = Check the chemistry, the cells in series and the label; 14.8 V would be 4 cells of lithium ion or 5 cells \
of lithium iron phosphate.""",
    ),
    "voltage of no chemistry": (
        """\
        items:
          - name: battery
            class: battery
            mass: 0.8 kg
            battery: {chemistry: lithium ion, capacity: 6 Ah, cells: 3, nominal: 12.8 V}
        """,
        """\
kit.yaml:5:74: 12.8 V is not the nominal voltage of 3 cells of lithium ion, which make 11.1 V
    |     battery: {chemistry: lithium ion, capacity: 6 Ah, cells: 3, nominal: 12.8 V}
    = Check the chemistry, the cells in series and the label.""",
    ),
    "transmit load without its output": (
        """\
        items:
          - name: radio
            class: radio
            loads: [{state: transmit, amperes: 2 A}]
        """,
        """\
kit.yaml:4:13: a load of the state transmit without its output
    |     loads: [{state: transmit, amperes: 2 A}]
    = Add it, for example at: 10 W; or state the outputs, for example transmitter: {power: [1 W, 10 W]}.""",
    ),
    "output at another state": (
        """\
        items:
          - name: radio
            class: radio
            loads: [{state: receive, at: 5 W, amperes: 2 A}]
        """,
        """\
kit.yaml:4:34: the output 5 W stands at a load of the state receive
    |     loads: [{state: receive, at: 5 W, amperes: 2 A}]
    = Remove it; only a load of the state transmit has an output.""",
    ),
    "two loads of one state": (
        """\
        items:
          - name: radio
            class: radio
            loads: [{state: receive, amperes: 2 A}, {state: receive, amperes: 3 A}]
        """,
        """\
kit.yaml:4:45: a second load of the state receive
    |     loads: [{state: receive, amperes: 2 A}, {state: receive, amperes: 3 A}]
    = It is load 1 already. Remove one of the two.""",
    ),
    "two loads at one output": (
        """\
        items:
          - name: radio
            class: radio
            loads: [{state: transmit, at: 10 W, amperes: 2 A}, {state: transmit, at: 10000 mW, amperes: 3 A}]
        """,
        """\
kit.yaml:4:56: a second load of the state transmit at 10000 mW
    |     loads: [{state: transmit, at: 10 W, amperes: 2 A}, {state: transmit, at: 10000 mW, amperes: 3 A}]
    = It is load 1 already. Remove one of the two.""",
    ),
    "two loads at the greatest output": (
        """\
        items:
          - name: radio
            class: radio
            loads: [{state: transmit, at: 10 W, amperes: 2 A}, {state: transmit, amperes: 3 A}]
            transmitter: {power: [1 W, 10 W]}
        """,
        """\
kit.yaml:4:56: a second load of the state transmit at the greatest output, 10 W
    |     loads: [{state: transmit, at: 10 W, amperes: 2 A}, {state: transmit, amperes: 3 A}]
    = It is load 1 already. Remove one of the two.""",
    ),
    "load without a figure": (
        """\
        items:
          - name: radio
            class: radio
            loads: [{state: receive}]
        """,
        """\
kit.yaml:4:13: load has none of the keys that are due
    |     loads: [{state: receive}]
    = Add "amperes", or "watts".""",
    ),
    "falling output": (
        """\
        items:
          - name: radio
            class: radio
            transmitter: {power: [10 W, 1 W]}
        """,
        """\
kit.yaml:4:26: the output 10 W to 1 W falls
    |     transmitter: {power: [10 W, 1 W]}
    = Write the least first.""",
    ),
    "falling drive": (
        """\
        items:
          - name: radio
            class: radio
            amplifier: {drive: [5 W, 2 W]}
        """,
        """\
kit.yaml:4:24: the drive 5 W to 2 W falls
    |     amplifier: {drive: [5 W, 2 W]}
    = Write the least first.""",
    ),
    "drive above the input's limit": (
        """\
        items:
          - name: radio
            class: radio
            amplifier: {drive: [2 W, 12 W], most: 10 W}
        """,
        """\
kit.yaml:4:30: the drive 12 W is more than the 10 W that the input bears
    |     amplifier: {drive: [2 W, 12 W], most: 10 W}
    = Look up both; most is what its input bears, for a moment too.""",
    ),
    "panel for an unknown item": (
        """\
        items:
          - {name: panel, is: solar-panel-60-w, solar: {rated: 60 W, charges: batery}}
          - {name: battery, is: lithium-iron-battery-6-ah}
        """,
        """\
kit.yaml:2:71: there is no item batery to be charged
    |   - {name: panel, is: solar-panel-60-w, solar: {rated: 60 W, charges: batery}}
    = Did you mean "battery"?""",
    ),
    "panel for an item without a battery": (
        """\
        items:
          - {name: panel, is: solar-panel-60-w, solar: {rated: 60 W, charges: pencil}}
          - pencil
        """,
        """\
kit.yaml:2:71: pencil has no battery to be charged
    |   - {name: panel, is: solar-panel-60-w, solar: {rated: 60 W, charges: pencil}}
    = Describe its battery, or remove the line.""",
    ),
    "panel for another item than the battery": (
        """\
        items:
          - {name: panel, is: solar-panel-60-w, solar: {rated: 60 W, charges: pencil}}
          - pencil
          - {name: battery, is: lithium-iron-battery-6-ah}
        """,
        """\
kit.yaml:2:71: pencil has no battery to be charged
    |   - {name: panel, is: solar-panel-60-w, solar: {rated: 60 W, charges: pencil}}
    = Name a battery of the kit: "battery".""",
    ),
    "USB power at another port": (
        """\
        items:
          - {name: radio, is: hf-radio-10-w, ports: [{name: usb, usb: {watts: 15 W}}]}
        """,
        """\
kit.yaml:2:63: USB power at usb, which is a port for data
    |   - {name: radio, is: hf-radio-10-w, ports: [{name: usb, usb: {watts: 15 W}}]}
    = Remove it, or write role: USB if the port gives or takes power.""",
    ),
}


@pytest.mark.parametrize("name", MESSAGES)
def test_figures_that_contradict_each_other_are_pointed_at(name: str, bag: Any) -> None:
    text, message = MESSAGES[name]
    assert bag.complaint(text) == message


def test_a_slip_in_a_csv_list_is_pointed_at(bag: Any) -> None:
    bag.file("kit.csv", "name,is,mass\nbattery,lithium-iron-battery-6-ah,820 kg\n")
    with pytest.raises(InputError) as refused:
        bag.read(kit="[kit.csv]")
    assert (
        refused.value.text(verbose=True)
        == """\
kit.csv:2:35: 6 Ah at 12.8 V in 820 kg would be 0.094 Wh/kg
    | battery,lithium-iron-battery-6-ah,820 kg
    = Batteries hold 5 to 400 Wh/kg (common practice, no source). Did you mean "820 g"?"""
    )


PLAUSIBLE = [
    "class: battery, mass: 1 kg, battery: {chemistry: lead acid, capacity: 1.2 Ah, nominal: 12 V}",
    "class: battery, mass: 0.05 kg, battery: {chemistry: lithium ion, capacity: 5 Ah, nominal: 3.7 V}",
    "class: battery, battery: {chemistry: lithium ion, capacity: 3 Ah, nominal: 10.8 V, cells: 3, label_energy: 33 Wh}",
    "class: battery, battery: {chemistry: lead acid, capacity: 2000 Ah, nominal: 12.6 V, cells: 6}",
    "class: radio, mass: 3 kg, battery: {chemistry: lithium ion, capacity: 1 Ah, nominal: 7.4 V}",
    "is: hf-radio-10-w, loads: [{state: transmit, amperes: 2 A}]",
    "is: hf-amplifier-100-w, loads: [{state: transmit, amperes: 15 A}, {state: transmit, at: 50 W, amperes: 11 A}]",
    "loads: [{state: transmit, at: 5 W, amperes: 2 A}, {state: receive, amperes: 2 A}, {state: idle, amperes: 2 A}]",
    "transmitter: {power: [5 W, 5 W]}",
    "amplifier: {drive: [2 W, 10 W], most: 10 W}",
    "is: dc-lead-coaxial, fuse: 30 A",
    "is: paddle, conductor: {awg: 20, length: 1 m}",
    "battery: {chemistry: lithium ion, capacity: 1 Ah}, solar: {rated: 5 W, charges: thing}",
]


@pytest.mark.parametrize("written", PLAUSIBLE)
def test_what_may_well_be_is_taken(written: str, bag: Any) -> None:
    assert list(bag.kit(f"items:\n  - {{name: thing, {written}}}\n").items) == ["thing"]


@pytest.mark.parametrize("share", [0.89, 0.9, 1.1, 1.11])
def test_a_label_may_be_a_tenth_away_from_capacity_times_voltage(share: float, bag: Any) -> None:
    text = f"""\
items:
  - name: battery
    battery: {{chemistry: lithium ion, capacity: 10 Ah, nominal: 10 V, label_energy: {100 * share:g} Wh}}
"""
    if 0.9 <= share <= 1.1:
        assert list(bag.kit(text).items) == ["battery"]
    else:
        assert "the label says" in bag.complaint(text)
