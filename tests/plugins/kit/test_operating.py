"""What the mode needs: a radio that is described, and a key, a microphone or a computer that is joined to it."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.kit.essential import essential_by_chain
from afield.plugins.kit.modes import DATA, FAMILIES, MORSE, VOICE, family_of, planned_families
from afield.plugins.kit.serving import served
from afield.plugins.power.computations.duty import MODES

KEY = "  - {name: paddle, is: paddle}\n"
MICROPHONE = "  - {name: microphone, is: hand-microphone}\n"
LAPTOP = "  - {name: laptop, is: laptop}\n"
DATA_LEAD = "  - {name: data lead, is: data-lead-usb-a-c}\n"
HANDHELD = "items:\n  - {name: hand-held, is: vhf-handheld-5-w}\n  - {name: whip, is: whip-vhf}\n"
KEYING, AUDIO = "keying from a key to radio", "audio from a microphone to radio"
COMPUTER = "data from a computer to radio"


def states(bag: Any, text: str, more: str = "") -> dict[str, bool | None]:
    return {state.chain.title: state.complete for state in bag.wiring(text, more).chains}


def mode(written: str) -> str:
    return f'schedule: {{on_air: ["18:00", "20:00"], mode: {written}}}\n'


def told(bag: Any, text: str, more: str) -> Any:
    return bag.facts(text, "kit.serves_modes", more=more)["trip", "kit.serves_modes"]


def test_every_mode_that_the_power_of_a_station_is_reckoned_for_needs_something_known() -> None:
    assert [name for name in MODES if name not in FAMILIES] == []
    assert [family_of(name) for name in (" cw", "Ssb", "AM", "ft8", "semaphore")] == [MORSE, VOICE, VOICE, DATA, None]


def test_the_modes_of_the_outing_and_of_its_slots_are_planned() -> None:
    assert planned_families({}) == frozenset()
    plan = {"schedule": {"mode": "CW", "slots": [{"mode": "FT8"}, {"band": "20m"}, {"mode": "smoke"}]}}
    assert planned_families(plan) == {MORSE, DATA}


def test_a_key_and_a_microphone_in_the_bag_are_joined_to_the_radio(bag: Any, low_power: str) -> None:
    found = states(bag, low_power + KEY + MICROPHONE)
    assert (found[KEYING], found[AUDIO]) == (True, True)
    joints = [joint.key for joint in bag.wiring(low_power + KEY + MICROPHONE).joints]
    assert {"paddle.plug/radio.key", "microphone.plug/radio.microphone"} <= set(joints)


def test_two_keys_leave_open_which_is_joined(bag: Any, low_power: str) -> None:
    text = low_power + KEY + "  - {name: straight key, is: straight-key}\n"
    state = next(one for one in bag.wiring(text).chains if one.chain.role == "keying")
    assert (state.complete, state.settle) == (None, "connections")
    assert state.why == (
        "more than one way fits: paddle.plug to radio.key or straight key.plug to radio.key; decide by a line such as "
        "connections: [[paddle.plug, radio.key]]"
    )
    assert states(bag, text + "connections: [[paddle.plug, radio.key]]\n")[KEYING] is True


def test_a_microphone_that_does_not_fit_breaks_its_chain(bag: Any, low_power: str) -> None:
    text = low_power + "  - {name: microphone, is: hand-microphone-modular}\n"
    state = next(one for one in bag.wiring(text).chains if one.chain.role == "audio")
    assert (state.complete, state.why) == (False, "nothing joins a microphone to radio")
    assert (
        state.needs == "a lead from microphone.plug to radio.microphone (8P8C female to round microphone 8-pin female)"
    )


def test_a_laptop_needs_a_data_chain_where_a_lead_for_it_or_a_data_mode_is_there(bag: Any, low_power: str) -> None:
    assert COMPUTER not in states(bag, low_power + LAPTOP)
    assert COMPUTER not in states(bag, low_power + LAPTOP, mode("SSB"))
    assert states(bag, low_power + LAPTOP, mode("FT8"))[COMPUTER] is False
    assert states(bag, low_power + LAPTOP + DATA_LEAD)[COMPUTER] is True


INTERFACE = """\
  - name: modem
    class: interface
    ports:
      - {name: computer, connector: USB-A, gender: male, role: data, direction: both}
      - {name: radio, connector: USB-C, gender: male, role: data, direction: both}
"""


def test_an_interface_passes_on_what_comes_from_the_computer(bag: Any, low_power: str) -> None:
    wiring = bag.wiring(low_power + LAPTOP + INTERFACE)
    (state,) = [one for one in wiring.chains if one.chain.role == "data"]
    assert (state.complete, len(state.joints)) == (True, 2)
    assert served("FT8", bag.wiring(low_power + INTERFACE)).lacking == "a computer for radio.usb (USB-C male)"


def test_stated_chains_take_their_place(bag: Any, low_power: str) -> None:
    chains = "chains: [{role: RF, from: radio, to: wire}, {role: DC, from: battery, to: radio}]\n"
    assert list(states(bag, low_power + KEY + chains)) == ["RF from radio to wire", "DC from battery to radio"]
    assert served("CW", bag.wiring(low_power + KEY + chains)).served is True
    assert served("CW", bag.wiring(low_power + chains)).served is False


def test_what_the_mode_needs_ends_the_outing(bag: Any, low_power: str) -> None:
    text = low_power + KEY + MICROPHONE
    assert not {KEYING, AUDIO} & essential_by_chain(bag.wiring(text)).keys()
    assert essential_by_chain(bag.wiring(text, mode("CW")))[KEYING] == {"paddle", "radio"}
    assert KEYING not in essential_by_chain(bag.wiring(text, mode("SSB")))
    assert essential_by_chain(bag.wiring(text, mode("SSB")))[AUDIO] == {"microphone", "radio"}


SERVED = [
    ("CW", KEY, True, "", ""),
    ("CW", MICROPHONE, False, "the kit has no key for radio", "a key for radio.key (3.5 mm jack male)"),
    ("SSB", MICROPHONE, True, "", ""),
    ("SSB", KEY, False, "the kit has no microphone for radio",
     "a microphone for radio.microphone (round microphone 8-pin female)"),
    ("FT8", LAPTOP + DATA_LEAD, True, "", ""),
    ("FT8", "", False, "the kit has no computer for radio", "a computer for radio.usb (USB-C male)"),
    ("RTTY", LAPTOP, False, "data from a computer to radio: nothing joins a computer to radio",
     "a lead from laptop.usb-a to radio.usb (USB-A male to USB-C male)"),
]  # fmt: skip


@pytest.mark.parametrize(("written", "more", "serves", "why", "lacking"), SERVED)
def test_a_mode_is_served_by_a_complete_chain(
    bag: Any, low_power: str, written: str, more: str, serves: bool, why: str, lacking: str
) -> None:
    found = told(bag, low_power + more, mode(written))
    assert (found.value, found.detail["why"], found.detail["lacking"]) == (serves, why, lacking)
    assert found.detail["mode"] == ("" if serves else written)


def test_a_radio_without_the_port_does_not_serve(bag: Any, low_power: str) -> None:
    text = low_power.replace("hf-radio-10-w", "cw-radio-5-w") + MICROPHONE
    found = told(bag, text, mode("LSB"))
    assert (found.value, found.detail["why"]) == (
        False, "radio has no port for a microphone, and no built-in one is stated",
    )  # fmt: skip
    assert found.detail["lacking"] == (
        "a radio with a port for a microphone, or features: [built-in microphone] if radio has one"
    )
    found = told(bag, text, mode("FT8"))
    assert (found.value, found.detail["why"]) == (False, "radio has no port for data or audio")


def test_a_hand_held_has_its_microphone_inside(bag: Any) -> None:
    assert told(bag, HANDHELD, mode("FM")).value is True
    assert told(bag, HANDHELD, mode("CW")).value is False


def test_slots_have_modes_of_their_own(bag: Any, low_power: str) -> None:
    slots = (
        'schedule: {on_air: ["18:00", "20:00"], slots: [{name: one, from: "18:00", to: "19:00", mode: CW}, '
        '{name: two, from: "19:00", to: "20:00"%s}]}\n'
    )
    found = told(bag, low_power + KEY, slots % ", mode: SSB")
    assert (found.value, found.detail["mode"]) == (False, "SSB")
    open_ = told(bag, low_power + KEY, slots % "")
    assert (open_.known, open_.reason.text, open_.reason.settle) == (
        False, "no mode is stated for two", "schedule.mode",
    )  # fmt: skip


def test_what_is_not_known_is_not_served_silently(bag: Any, low_power: str) -> None:
    none = told(bag, low_power + KEY, "")
    assert (none.known, none.reason.text, none.reason.settle) == (
        False, "no mode is stated for the outing", "schedule.mode",
    )  # fmt: skip
    odd = told(bag, low_power + KEY, mode("SSSB"))
    assert odd.reason.text == 'what the mode "SSSB" needs is not known; did you mean "SSB"?'
    blank = told(bag, "items:\n  - {name: radio, class: radio}\n  - {name: paddle, is: paddle}\n", mode("CW"))
    assert (blank.reason.text, blank.reason.settle) == (
        "the ports of radio are not stated", "ports of radio in kit.yaml",
    )  # fmt: skip
    key = told(bag, low_power + "  - {name: paddle, class: key}\n", mode("CW"))
    assert (key.reason.text, key.reason.settle) == (
        "keying from a key to radio: the ports of paddle are not stated", "ports of paddle in kit.yaml",
    )  # fmt: skip


NO_RADIO = (
    "no item of the kit is described as a radio: write `class: radio`, or `is:` with a radio of the catalogue, "
    "such as hf-radio-10-w"
)


@pytest.mark.parametrize("radio", ["", "  - radio\n", "  - {name: radio, ports: []}\n"])
def test_a_kit_without_a_described_radio_is_not_silently_green(bag: Any, radio: str) -> None:
    text = f"items:\n  - {{name: battery, is: lithium-iron-battery-6-ah}}\n{radio}"
    found = bag.facts(text, "kit.described", "kit.radio_described", "kit.serves_modes", more=mode("CW"))
    assert found["trip", "kit.described"].value is True
    for name in ("kit.radio_described", "kit.serves_modes"):
        record = found["trip", name]
        assert (record.known, record.reason.text, record.reason.settle) == (False, NO_RADIO, "kit")


def test_a_list_of_names_is_not_described(bag: Any, low_power: str) -> None:
    found = bag.facts("items: [radio, rope]\n", "kit.described", "kit.mode_stated")
    assert [record.value for record in found.values()] == [False, False]
    found = bag.facts(low_power, "kit.described", "kit.radio_described", "kit.mode_stated", more=mode("CW"))
    assert [record.value for record in found.values()] == [True, True, True]


def test_a_spare_radio_alone_serves_nothing(bag: Any) -> None:
    text = "items:\n  - {name: rope, class: line}\n  - {name: radio, is: hf-radio-10-w, spare_of: rope}\n"
    assert told(bag, text, mode("CW")).reason.text == "no radio but a spare is in the kit"
