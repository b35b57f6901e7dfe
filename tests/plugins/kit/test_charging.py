"""What charges a battery: a panel, mostly through a controller, at the terminals from which the battery also gives."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.kit.essential import essential_by_chain

PANEL = "  - {name: panel, is: solar-panel-60-w, solar: {charges: battery}}\n"
CONTROLLER = "  - {name: controller, is: charge-controller-10-a}\n"
SPLITTER = "  - {name: splitter, is: dc-splitter}\n"
JOINED = (
    "connections: [[battery.terminals, splitter.battery-end], [splitter.output-one, power lead.battery-end], "
    "[controller.output, splitter.output-two]%s]\n"
)
CHARGED, FED = "DC from panel to battery", "DC from a battery or a supply to radio"


def states(bag: Any, text: str) -> dict[str, Any]:
    return {state.chain.title: state for state in bag.wiring(text).chains}


def test_a_controller_stands_between_panel_and_battery(bag: Any, low_power: str) -> None:
    text = low_power + PANEL + CONTROLLER + SPLITTER + JOINED % ", [panel.output, controller.panel]"
    found = states(bag, text)
    assert {title: state.complete for title, state in found.items()} == {
        "RF from radio to an antenna": True, FED: True,
        "DC from a solar panel, a battery or a supply to controller": True, CHARGED: True,
    }  # fmt: skip
    wiring = bag.wiring(text)
    assert [fit.why for fit in wiring.fits.values() if fit.fits is not True] == []
    ways = bag.facts(text, "kit.ways")["trip", "kit.ways"].value
    assert ["controller", "battery"] in [[way["from"]["item"], way["to"]["item"]] for way in ways]


def test_a_panel_is_joined_to_the_only_controller_by_itself(bag: Any, low_power: str) -> None:
    found = states(bag, low_power + PANEL + CONTROLLER + SPLITTER + JOINED % "")
    assert found[CHARGED].complete is True


@pytest.mark.parametrize("order", ["[controller.output, battery.terminals]", "[battery.terminals, controller.output]"])
def test_two_outputs_may_be_joined_where_one_charges_the_other(bag: Any, order: str) -> None:
    text = f"items:\n  - {{name: battery, is: lithium-iron-battery-6-ah}}\n{PANEL}{CONTROLLER}connections: [{order}]\n"
    assert states(bag, text)[CHARGED].complete is True


def test_battery_controller_and_panel_are_no_loop(bag: Any, low_power: str) -> None:
    text = low_power + PANEL + CONTROLLER + SPLITTER + JOINED % ", [panel.output, controller.panel]"
    assert len(bag.wiring(text).kit.connections) == 4  # a loop would have been refused


def test_a_charger_fed_by_the_battery_that_it_charges_is_a_loop(bag: Any) -> None:
    text = f"items:\n  - {{name: battery, is: lithium-iron-battery-6-ah}}\n{CONTROLLER}{SPLITTER}"
    stated = "connections: [[battery, splitter.battery-end], [controller.output, splitter.output-one], "
    assert "closes a loop in DC" in bag.complaint(text + stated + "[splitter.output-two, controller.panel]]\n")


def test_a_panel_without_its_controller_does_not_charge_silently(bag: Any, low_power: str) -> None:
    state = states(bag, low_power + PANEL)[CHARGED]
    assert (state.complete, state.why) == (False, "nothing joins panel to battery")
    assert state.needs == "a charge controller from panel.output to battery.terminals"
    blank = "  - {name: panel, class: solar panel, solar: {rated: 60 W, charges: battery}}\n"
    state = states(bag, low_power + blank)[CHARGED]
    assert (state.complete, state.settle) == (None, "ports of panel in kit.yaml")


def test_a_panel_that_names_no_battery_needs_one_all_the_same(bag: Any, low_power: str) -> None:
    bare = "  - {name: panel, is: solar-panel-60-w}\n"
    assert states(bag, low_power + bare)["DC from panel to a battery"].complete is False
    assert states(bag, "items:\n" + bare) == {}


def test_a_panel_at_the_terminals_gives_too_much(bag: Any) -> None:
    text = (
        "items:\n  - {name: battery, is: lithium-iron-battery-6-ah}\n"
        "  - name: panel\n    is: solar-panel-60-w\n    solar: {charges: battery}\n"
        "    ports: [{name: output, connector: genderless 15-45 A housing}]\n"
        "connections: [[panel.output, battery.terminals]]\n"
    )
    state = states(bag, text)[CHARGED]
    assert (state.complete, state.needs) == (False, "a charge controller from panel.output to battery.terminals")
    assert state.why == (
        "panel.output gives up to 22 V, battery.terminals has 14.4 V at most and is charged with 10 % more at most "
        "(common practice, no source)"
    )


def test_a_controller_bears_what_the_panel_gives(bag: Any, low_power: str) -> None:
    small = CONTROLLER.replace("10-a}", "10-a, ports: [{name: panel, amperes: 3 A}]}")
    state = states(bag, low_power + PANEL + small + SPLITTER + JOINED % "")[CHARGED]
    assert (state.complete, state.why) == (False, "panel.output gives 3.5 A, controller.panel bears 3 A")


def test_what_the_radio_draws_is_not_asked_of_the_controller(bag: Any, low_power: str) -> None:
    small = CONTROLLER.replace("10-a}", "10-a, ports: [{name: output, amperes: 1 A}]}")
    wiring = bag.wiring(low_power + PANEL + small + SPLITTER + JOINED % "")
    assert [fit.why for fit in wiring.fits.values() if fit.fits is not True] == []
    weak = low_power.replace("mass: 820 g", "ports: [{name: terminals, amperes: 2 A}]")
    wiring = bag.wiring(weak + PANEL + CONTROLLER + SPLITTER + JOINED % "")
    assert [fit.why for fit in wiring.fits.values() if fit.fits is False] == [
        "radio.dc draws 3 A, battery.terminals bears 2 A"
    ]


def test_the_outing_goes_on_without_the_sun(bag: Any, low_power: str) -> None:
    text = low_power + PANEL + CONTROLLER + SPLITTER + JOINED % ""
    needed = set().union(*essential_by_chain(bag.wiring(text)).values())
    assert not needed & {"panel", "controller"}
    blank = "  - {name: panel, class: solar panel, solar: {rated: 60 W, charges: battery}}\n"
    key = "  - {name: paddle, is: paddle}\n"
    found = bag.facts(low_power + blank + key, "kit.undecided", "item.is_essential")
    assert found["trip", "kit.undecided"].value == []
    assert found["item:radio", "item.is_essential"].value is True
    assert found["item:paddle", "item.is_essential"].value is False
    assert found["item:panel", "item.is_essential"].reason.settle == "ports of panel in kit.yaml"


@pytest.mark.parametrize("ends", ["from: panel, to: battery", "from: battery, to: panel"])
def test_a_charging_chain_may_be_stated(bag: Any, low_power: str, ends: str) -> None:
    text = low_power + PANEL + CONTROLLER + SPLITTER + JOINED % ", [panel.output, controller.panel]"
    (state,) = bag.wiring(text + f"chains: [{{role: DC, {ends}}}]\n").chains
    assert (state.chain.title, state.complete) == ("DC from panel to battery", True)


TWO = """\
items:
  - {name: radio, is: hf-radio-10-w}
  - {name: battery one, is: lithium-iron-battery-6-ah}
  - {name: battery two, is: lithium-iron-battery-6-ah}
  - {name: power lead, is: dc-lead-coaxial}
"""


def test_of_two_batteries_the_line_to_add_is_said(bag: Any) -> None:
    state = states(bag, TWO)[FED]
    assert (state.complete, state.settle) == (None, "connections")
    line = "connections: [[battery one.terminals, power lead.battery-end]]"
    assert state.why.endswith(f"; decide by a line such as {line}")
    assert states(bag, f"{TWO}{line}\n")[FED].complete is True
    quoted = states(bag, TWO.replace("name: battery one", 'name: "battery: one"'))[FED]
    assert quoted.why.endswith('connections: [["battery: one.terminals", power lead.battery-end]]')


def test_a_second_battery_is_never_put_into_a_net_that_is_fed(bag: Any) -> None:
    stated = (
        "connections: [[battery one.terminals, splitter.battery-end], [splitter.output-one, power lead.battery-end]]\n"
        "chains: [{role: DC, from: battery one, to: radio}, {role: DC, from: battery two, to: radio}]\n"
    )
    wiring = bag.wiring(TWO + SPLITTER + stated)
    assert [joint.key for joint in wiring.joints if "battery-two" in joint.key] == []
    assert [state.complete for state in wiring.chains] == [True, False]
    joined = stated.replace("connections: [", "connections: [[battery two.terminals, splitter.output-two], ")
    assert [state.complete for state in bag.wiring(TWO + SPLITTER + joined).chains] == [True, True]


def test_battery_and_charger_may_be_put_into_one_net(bag: Any, low_power: str) -> None:
    text = low_power + PANEL + CONTROLLER + SPLITTER
    charger = "connections: [[controller.output, splitter.output-two], [splitter.output-one, power lead.battery-end]]\n"
    found = states(bag, text + charger)
    assert (found[FED].complete, found[CHARGED].complete) == (True, True)
    assert states(bag, low_power + CONTROLLER + SPLITTER + charger)[FED].complete is True
    battery = "connections: [[battery, splitter.battery-end], [splitter.output-one, power lead.battery-end]]\n"
    found = states(bag, text + battery)
    assert (found[FED].complete, found[CHARGED].complete) == (True, True)
