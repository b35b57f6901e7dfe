"""Chains that follow from the classes of the items: what is fed, and what ends the outing."""

from __future__ import annotations

from typing import Any

from afield.plugins.kit.essential import essential_by_chain

DESK = "  - {name: laptop, is: laptop}\n"
SPLIT = "  - {name: splitter, is: dc-splitter}\n"
CONVERTER = "  - {name: converter, is: usb-converter-45-w}\n"
CABLE = "  - {name: cable, is: charging-lead-usb-c}\n"
RADIO = "DC from a battery or a supply to radio"
FED, LAPTOP = "DC from a battery or a supply to converter", "USB from a USB source to laptop"
JOINED = "connections: [[battery, splitter.battery-end], [splitter.output-one, power lead.battery-end]]\n"


def states(bag: Any, text: str) -> dict[str, bool | None]:
    return {state.chain.title: state.complete for state in bag.wiring(text).chains}


def test_a_laptop_alone_needs_no_chain(bag: Any, low_power: str) -> None:
    assert list(states(bag, low_power + DESK)) == ["RF from radio to an antenna", RADIO]


def test_a_laptop_is_fed_where_something_in_the_kit_gives_usb(bag: Any, low_power: str) -> None:
    found = states(bag, low_power + DESK + CONVERTER + CABLE + SPLIT + JOINED)
    assert found == {"RF from radio to an antenna": True, RADIO: True, FED: True, LAPTOP: True}


def test_the_cable_that_was_forgotten_is_named(bag: Any, low_power: str) -> None:
    state = next(one for one in bag.wiring(low_power + DESK + CONVERTER).chains if one.chain.role == "USB")
    assert (state.chain.title, state.complete) == (LAPTOP, False)
    assert state.needs == "a lead from converter.usb-c to laptop.usb-c (USB-C male to USB-C male)"


def test_the_source_of_a_spare_is_no_source(bag: Any, low_power: str) -> None:
    spare = "  - {name: bank, is: power-bank-20-ah, spare_of: battery}\n"
    assert LAPTOP not in states(bag, low_power + DESK + spare)


def test_a_charger_of_mains_needs_mains_where_there_is_an_inverter(bag: Any) -> None:
    charger = "items:\n  - {name: charger, is: laptop-mains-charger}\n"
    assert states(bag, charger) == {}
    battery = "  - {name: battery, is: lithium-iron-battery-20-ah}\n"
    inverter = "  - {name: inverter, is: inverter-150-w}\n"
    assert states(bag, charger + inverter + battery) == {
        "mains from an inverter to charger": True,
        "DC from a battery or a supply to inverter": True,
    }


MODEM = """\
  - name: modem
    class: computer
    ports: [{name: usb, connector: USB-C, gender: female, role: USB, direction: sink, volts: 5 V, amperes: 1 A}]
"""


def test_a_converter_that_feeds_what_has_no_battery_is_essential(bag: Any, low_power: str) -> None:
    found = essential_by_chain(bag.wiring(low_power + MODEM + CONVERTER + CABLE + SPLIT + JOINED))
    assert found["USB from a USB source to modem"] == {"converter", "cable", "modem"}
    assert found[FED] == {"battery", "splitter", "converter"}


def test_what_has_a_battery_of_its_own_does_not_end_the_outing_unless_its_chain_is_stated(
    bag: Any, low_power: str
) -> None:
    text = low_power + DESK + CONVERTER + CABLE + SPLIT + JOINED
    assert list(essential_by_chain(bag.wiring(text))) == ["RF from radio to an antenna", RADIO]
    stated = "chains: [{role: USB, from: converter, to: laptop}, {role: DC, from: battery, to: converter}]\n"
    found = essential_by_chain(bag.wiring(text + stated))
    assert set().union(*found.values()) == {"battery", "splitter", "converter", "cable", "laptop"}


def test_a_converter_that_feeds_nothing_required_is_not(bag: Any, low_power: str) -> None:
    text = low_power + CONVERTER + CABLE + SPLIT + JOINED
    wiring = bag.wiring(text)
    assert {state.chain.title: state.complete for state in wiring.chains}[FED] is True
    assert FED not in essential_by_chain(wiring)
    found = bag.facts(text, "item.is_essential")
    assert found["item:converter", "item.is_essential"].value is False
    assert found["item:splitter", "item.is_essential"].detail["chains"] == RADIO


def test_stated_chains_leave_the_laptop_out(bag: Any, low_power: str) -> None:
    chains = "chains: [{role: RF, from: radio, to: wire}, {role: DC, from: battery, to: radio}]\n"
    text = low_power + DESK + CONVERTER + CABLE
    assert list(states(bag, text + chains)) == ["RF from radio to wire", "DC from battery to radio"]


def test_a_stated_chain_to_a_converter_counts_by_itself(bag: Any) -> None:
    text = "items:\n  - {name: battery, is: lithium-iron-battery-20-ah}\n" + CONVERTER
    stated = text + "chains: [{role: DC, from: battery, to: converter}]\n"
    assert essential_by_chain(bag.wiring(text)) == {}
    assert essential_by_chain(bag.wiring(stated)) == {"DC from battery to converter": {"battery", "converter"}}


def test_an_inverter_is_essential_by_what_hangs_on_its_charger(bag: Any) -> None:
    text = """\
items:
  - {name: battery, is: lithium-iron-battery-20-ah}
  - {name: inverter, is: inverter-150-w}
  - {name: charger, is: laptop-mains-charger}
"""
    assert essential_by_chain(bag.wiring(text)) == {}
    found = essential_by_chain(bag.wiring(text + CABLE + MODEM))
    assert set().union(*found.values()) == {"battery", "inverter", "charger", "cable", "modem"}
