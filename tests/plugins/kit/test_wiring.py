"""What is inferred, what is missing, and what cannot be told."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.kit import ways


def joined(wiring: Any) -> list[str]:
    return [joint.words for joint in wiring.joints if joint.inferred]


def states(wiring: Any) -> dict[str, bool | None]:
    return {state.chain.title: state.complete for state in wiring.chains}


def test_where_one_way_fits_it_is_inferred(bag: Any, low_power: str) -> None:
    wiring = bag.wiring(low_power)
    assert joined(wiring) == [
        "radio.antenna to feed line.plug-a",
        "feed line.plug-b to wire.feed",
        "battery.terminals to power lead.battery-end",
        "power lead.plug to radio.dc",
    ]
    assert states(wiring) == {"RF from radio to an antenna": True, "DC from a battery or a supply to radio": True}


def test_a_spare_is_no_second_way(bag: Any, low_power: str) -> None:
    spare = "  - {name: other line, is: coax-bnc-bnc-10-m, spare_of: feed line}\n"
    assert joined(bag.wiring(low_power + spare)) == joined(bag.wiring(low_power))


def test_where_two_ways_fit_none_is_taken(bag: Any, low_power: str) -> None:
    wiring = bag.wiring(low_power + "  - {name: other line, is: coax-bnc-bnc-10-m}\n")
    state = wiring.chains[0]
    assert (state.complete, state.settle) == (None, "connections")
    assert state.why == (
        "more than one way fits: radio.antenna to feed line.plug-a, feed line.plug-b to wire.feed or "
        "radio.antenna to other line.plug-a, other line.plug-b to wire.feed; decide by a line such as "
        "connections: [[radio.antenna, feed line.plug-a]]"
    )
    assert [joint for joint in joined(wiring) if "line" in joint] == []


def test_a_stated_connection_decides_between_two_ways(bag: Any, low_power: str) -> None:
    more = "  - {name: other line, is: coax-bnc-bnc-10-m}\nconnections: [[radio.antenna, other line.plug-a]]\n"
    wiring = bag.wiring(low_power + more)
    assert joined(wiring)[0] == "other line.plug-b to wire.feed"
    assert states(wiring)["RF from radio to an antenna"] is True


def test_what_one_chain_takes_leaves_one_way_to_another(bag: Any) -> None:
    text = """\
items:
  - {name: first, class: radio, ports: [{name: a, connector: BNC, gender: female, role: RF, direction: source}]}
  - {name: second, class: radio, ports: [{name: a, connector: SMA, gender: female, role: RF, direction: source}]}
  - {name: one, class: antenna, ports: [{name: f, connector: BNC, gender: male, role: RF, direction: sink}]}
  - name: two
    class: antenna
    ports: [{name: f, connector: both kinds, role: RF, direction: sink}]
connectors: {both kinds: {gendered: false, mates: [BNC, SMA]}}
"""
    wiring = bag.wiring(text)
    assert joined(wiring) == ["second.a to two.f", "first.a to one.f"]


def test_the_missing_lead_is_named(bag: Any) -> None:
    text = "items:\n  - {name: radio, is: hf-radio-100-w}\n  - {name: wire, is: end-fed-wire-20-m}\n"
    wiring = bag.wiring(text)
    assert [state.needs for state in wiring.chains] == [
        "a lead from radio.antenna to wire.feed (UHF male to BNC male)",
        "a battery or a supply",
    ]
    assert wiring.chains[0].why == "nothing joins radio to an antenna"


def test_the_missing_adapter_at_a_lead_that_is_there_is_named(bag: Any) -> None:
    text = """\
items:
  - {name: radio, is: vhf-handheld-5-w}
  - {name: line, is: coax-bnc-bnc-10-m}
  - {name: yagi, is: yagi-vhf}
"""
    state = bag.chain(text)
    assert (state.complete, state.needs) == (
        False,
        "an adapter from radio.antenna to line.plug-b (SMA male to BNC female)",
    )
    adapter = "  - {name: adapter, is: adapter-sma-plug-to-bnc-socket}\n"
    assert bag.chain(text + adapter).complete is True


def test_no_antenna_at_all_is_named(bag: Any) -> None:
    state = bag.chain("items:\n  - {name: radio, is: vhf-handheld-5-w}\n")
    assert (state.complete, state.needs) == (False, "an antenna")


def test_a_port_that_is_taken_needs_a_splitter(bag: Any, low_power: str) -> None:
    chains = "".join(f"  - {{role: DC, from: battery, to: {name}}}\n" for name in ("radio", "amplifier"))
    text = f"{low_power}  - {{name: amplifier, is: hf-amplifier-100-w}}\nchains:\n{chains}"
    state = bag.wiring(text).chains[1]
    assert state.needs == "a splitter for DC at battery.terminals, which is joined already"


def test_a_joint_that_does_not_fit_breaks_its_chain(bag: Any, low_power: str) -> None:
    text = low_power.replace("hf-radio-10-w", "hf-radio-100-w") + "connections: [[radio.antenna, feed line.plug-a]]\n"
    state = bag.wiring(text).chains[0]
    assert state.complete is False
    assert state.why == (
        "a UHF female does not fit a BNC male; radio.antenna gives 100 W peak, wire.feed bears 50 W peak"
    )
    assert state.needs == (
        "an adapter from radio.antenna to feed line.plug-a (UHF male to BNC female); "
        "an item that bears 100 W peak in place of wire"
    )


HANDHELD = "items:\n  - {name: radio, is: vhf-handheld-5-w}\n"
BLANK = {
    "the chain's own end": ("items:\n  - {name: radio, class: radio}\n  - {name: wire, is: yagi-vhf}\n", "radio"),
    "the only antenna": (HANDHELD + "  - {name: wire, class: antenna}\n", "wire"),
    "a lead that may be what is missing": (
        HANDHELD + "  - {name: yagi, is: yagi-vhf}\n  - {name: coax, class: lead}\n",
        "coax",
    ),
    "an item of a connection": (
        "items:\n  - {name: radio, is: vhf-handheld-5-w}\n  - {name: yagi, is: yagi-vhf}\n  - coax\n"
        "connections: [[radio.antenna, coax], [coax.end, yagi.feed]]\n",
        "coax",
    ),
}


@pytest.mark.parametrize("name", BLANK)
def test_an_item_without_ports_that_matters_is_named(name: str, bag: Any) -> None:
    text, item = BLANK[name]
    state = bag.wiring(text).chains[0]
    assert (state.complete, state.why) == (None, f"the ports of {item} are not stated")
    assert state.settle == f"ports of {item} in kit.yaml"


def test_a_box_to_tick_does_not_make_what_is_missing_uncertain(bag: Any) -> None:
    text = "items:\n  - {name: radio, is: vhf-handheld-5-w}\n  - {name: yagi, is: yagi-vhf}\n  - sandwiches\n"
    assert bag.chain(text).complete is False


def test_a_stated_chain_takes_the_place_of_the_others_and_may_be_turned_round(bag: Any, low_power: str) -> None:
    state = bag.chain(low_power, "chains: [{role: RF, from: wire.feed, to: radio}]\n")
    assert (state.chain.title, state.complete) == ("RF from radio to wire.feed", True)
    assert state.chain.key == "rf/radio/wire.feed"


def test_an_amplifier_needs_both_sides_keying_and_direct_current(bag: Any) -> None:
    text = """\
items:
  - {name: radio, is: hf-radio-10-w}
  - {name: amplifier, is: hf-amplifier-100-w}
  - {name: patch, is: patch-lead-bnc}
  - {name: line, is: coax-uhf-uhf-10-m}
  - {name: dipole, is: dipole-one-band}
  - {name: keying lead, is: keying-lead-jack-rca}
  - {name: battery, is: lithium-iron-battery-20-ah}
  - {name: splitter, is: dc-splitter}
  - {name: power lead, is: dc-lead-coaxial}
connections:
  - [battery.terminals, splitter.battery-end]
  - [splitter.output-one, amplifier.dc]
"""
    wiring = bag.wiring(text)
    assert set(states(wiring).values()) == {True}
    assert list(states(wiring)) == [
        "RF from radio to an antenna",
        "DC from a battery or a supply to radio",
        "RF from a radio to amplifier",
        "RF from amplifier to an antenna",
        "keying from a radio to amplifier",
        "DC from a battery or a supply to amplifier",
    ]


def test_a_search_that_is_too_long_is_given_up_and_says_so(
    bag: Any, low_power: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ways, "MOST_STEPS", 1)
    state = bag.wiring(low_power).chains[0]
    assert (state.complete, state.why) == (None, "more than one way fits")


def test_a_port_that_is_joined_to_an_item_of_unknown_ports_is_not_joined_again(bag: Any, low_power: str) -> None:
    wiring = bag.wiring(low_power + "  - coax\nconnections: [[radio.antenna, coax]]\n")
    assert [words for words in joined(wiring) if "radio.antenna" in words] == []
    assert (wiring.chains[0].complete, wiring.chains[0].why) == (None, "the ports of coax are not stated")
