"""The ways from what gives to what takes, and the other facts that other plugins stand on."""

from __future__ import annotations

import json
from collections import Counter
from time import perf_counter
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import read_text
from afield.core.facts.subjects import Origin
from afield.plugins.kit.connectors import Connectors
from afield.plugins.kit.essential import essential_by_chain
from afield.plugins.kit.findings import Fit
from afield.plugins.kit.flows import ways_of
from afield.plugins.kit.joints import Joint, Net
from afield.plugins.kit.model import End, Item, Kit, Port
from afield.plugins.kit.wiring import Wiring, wired

ORIGIN = Origin(read_text("items: [x]", "kit.yaml"), ("items", 0))

STATION = """\
  - {name: radio N, is: hf-radio-10-w}
  - {name: amplifier N, is: hf-amplifier-100-w}
  - {name: patch N, is: patch-lead-bnc}
  - {name: line N, is: coax-uhf-uhf-10-m}
  - {name: dipole N, is: dipole-40-m}
  - {name: keying lead N, is: keying-lead-jack-rca}
  - {name: battery N, is: lithium-iron-battery-20-ah}
  - {name: splitter N, is: dc-splitter}
  - {name: power lead N, is: dc-lead-coaxial}
  - {name: converter N, is: usb-converter-45-w}
  - {name: usb lead N, is: charging-lead-usb-c}
  - {name: laptop N, is: laptop}
"""
JOINED = """\
  - [radio N.antenna, patch N.plug-a]
  - [patch N.plug-b, amplifier N.input]
  - [amplifier N.output, line N.plug-a]
  - [line N.plug-b, dipole N.feed]
  - [radio N.key-out, keying lead N.jack]
  - [keying lead N.rca, amplifier N.key-in]
  - [battery N.terminals, splitter N.battery-end]
  - [splitter N.output-one, amplifier N.dc]
  - [splitter N.output-two, power lead N.battery-end]
  - [power lead N.plug, radio N.dc]
  - [splitter N.output-three, converter N.dc]
  - [converter N.usb-c, usb lead N.plug-a]
  - [usb lead N.plug-b, laptop N.usb-c]
"""


def stations(count: int) -> str:
    numbers = range(count)
    items = "".join(STATION.replace(" N", f" {number}") for number in numbers)
    return f"items:\n{items}connections:\n" + "".join(JOINED.replace(" N", f" {number}") for number in numbers)


def told(way: dict[str, Any]) -> str:
    ends = [f"{way[end]['item']}.{way[end]['port']}" for end in ("from", "to")]
    through = [f"{step['item']}({step['in']},{step['out']})" for step in way["through"]]
    return f"{way['role']}: " + " ".join([ends[0], *through, ends[1]])


def test_every_way_of_a_station_is_listed_by_role(bag: Any) -> None:
    ways = bag.facts(stations(1), "kit.ways")["trip", "kit.ways"].value
    assert [told(way) for way in ways] == [
        "RF: radio-0.antenna patch-0(plug-a,plug-b) amplifier-0.input",
        "keying: radio-0.key-out keying-lead-0(jack,rca) amplifier-0.key-in",
        "RF: amplifier-0.output line-0(plug-a,plug-b) dipole-0.feed",
        "DC: battery-0.terminals splitter-0(battery-end,output-one) amplifier-0.dc",
        "DC: battery-0.terminals splitter-0(battery-end,output-three) converter-0.dc",
        "DC: battery-0.terminals splitter-0(battery-end,output-two) power-lead-0(battery-end,plug) radio-0.dc",
        "USB: converter-0.usb-c usb-lead-0(plug-a,plug-b) laptop-0.usb-c",
    ]
    assert {(way["fits"], way["inferred"]) for way in ways if way["role"] != "DC"} == {(True, False)}
    # Radio, amplifier and converter together draw 28 A; the battery gives 30 A.
    assert {way["fits"] for way in ways if way["role"] == "DC"} == {True}
    assert json.loads(json.dumps(ways)) == ways


def test_what_is_inferred_or_does_not_fit_is_said_of_the_whole_way(bag: Any, low_power: str) -> None:
    ways = bag.facts(low_power, "kit.ways")["trip", "kit.ways"].value
    assert [(way["role"], way["fits"], way["inferred"]) for way in ways] == [("RF", True, True), ("DC", True, True)]
    broken = low_power.replace("hf-radio-10-w", "hf-radio-100-w")
    joined = "connections: [[radio.antenna, feed line.plug-a], [feed line.plug-b, wire.feed]]\n"
    (way,) = bag.facts(broken + joined, "kit.ways")["trip", "kit.ways"].value
    assert (told(way), way["fits"]) == ("RF: radio.antenna feed-line(plug-a,plug-b) wire.feed", False)


def test_a_limit_that_is_not_stated_leaves_the_way_open(bag: Any) -> None:
    text = """\
items:
  - {name: radio, is: cw-radio-5-w}
  - {name: wire, class: antenna, ports: [{name: feed, connector: BNC, gender: male, role: RF, direction: sink}]}
connections: [[radio.antenna, wire.feed]]
"""
    (way,) = bag.facts(text, "kit.ways")["trip", "kit.ways"].value
    assert way["fits"] is None


def test_ports_of_two_roles_make_no_way(bag: Any) -> None:
    text = "items:\n  - {name: radio, is: hf-radio-10-w}\n  - {name: lead, is: patch-lead-bnc}\n"
    joined = "connections: [[radio.headphones, lead.plug-a]]\n"
    assert bag.facts(text + joined, "kit.ways")["trip", "kit.ways"].value == []


def test_an_inverter_gives_mains_to_a_charger(bag: Any) -> None:
    text = """\
items:
  - {name: battery, is: lithium-iron-battery-20-ah}
  - {name: inverter, is: inverter-150-w}
  - {name: charger, is: laptop-mains-charger}
  - {name: cable, is: charging-lead-usb-c}
  - {name: laptop, is: laptop}
"""
    ways = bag.facts(text, "kit.ways")["trip", "kit.ways"].value
    assert [told(way) for way in ways] == [
        "DC: battery.terminals inverter.dc",
        "mains: inverter.outlet charger.mains",
        "USB: charger.usb-c cable(plug-a,plug-b) laptop.usb-c",
    ]


def cables(edges: list[tuple[int, int]], last: int) -> Wiring:
    """A source, cables 1 to `last`, a sink; each pair of numbers joined by ports of its own."""
    ports: dict[int, list[Port]] = {number: [] for number in range(last + 2)}
    directions = {0: "source", last + 1: "sink"}
    joints = []
    for index, pair in enumerate(edges):
        made = [
            Port(str(number), f"p{index}-{side}", "BNC", None, "RF", directions.get(number, "both"))
            for side, number in enumerate(pair)
        ]
        for number, port in zip(pair, made, strict=True):
            ports[number].append(port)
        joints.append(made)
    items = {str(number): Item(str(number), str(number), {}, ORIGIN, tuple(found)) for number, found in ports.items()}
    whole = [Joint(*(End(items[port.item], port, port.key) for port in made)) for made in joints]
    kit = Kit(items, Connectors(), ports={port.key: port for found in ports.values() for port in found})
    return Wiring(kit, Net(kit, whole), {joint.key: Fit(True) for joint in whole})


@given(
    st.lists(
        st.tuples(st.integers(0, 6), st.integers(0, 6)).filter(lambda pair: pair[0] != pair[1]),
        min_size=1,
        max_size=12,
    )
)
def test_a_way_runs_over_joints_only_and_a_pair_of_ports_has_one(edges: list[tuple[int, int]]) -> None:
    wiring = cables(edges, 5)
    joined = {frozenset(port.key for port in joint.ports) for joint in wiring.joints}
    ways = ways_of(wiring)
    for way in ways:
        stops = [way["from"]["port"], *(step[side] for step in way["through"] for side in ("in", "out"))]
        items = [way["from"]["item"], *(step["item"] for step in way["through"] for _ in range(2)), way["to"]["item"]]
        keys = [f"{item}.{port}" for item, port in zip(items, [*stops, way["to"]["port"]], strict=True)]
        assert all(frozenset(pair) in joined for pair in zip(keys[::2], keys[1::2], strict=True))
    counted = Counter((way["from"]["port"], way["to"]["port"]) for way in ways)
    assert set(counted.values()) <= {1}


def analysed(kit: Kit) -> float:
    """Seconds that the wiring of a kit, its ways and its essential items take; the least of three tries."""
    taken = []
    for _ in range(3):
        wired.cache_clear()
        essential_by_chain.cache_clear()
        begun = perf_counter()
        wiring = wired(kit)
        assert len(ways_of(wiring)) == 7 * len(kit.items) / 12
        assert len(essential_by_chain(wiring)) >= 5 * len(kit.items) / 12
        taken.append(perf_counter() - begun)
    return min(taken)


def test_ten_times_the_kit_takes_at_most_some_hundred_times_as_long(bag: Any) -> None:
    """Every radio may be fed by every battery, so that the work grows with the square of the kit, and no faster."""
    few, many = bag.kit(stations(3)), bag.kit(stations(30))
    assert (len(many.items), len(many.connections)) == (360, 390)
    assert analysed(many) < 250 * analysed(few)


def test_things_are_told_with_what_the_catalogue_says_and_which_that_is(bag: Any, low_power: str) -> None:
    things = bag.facts(low_power + "  - pencil\n", "kit.things")["trip", "kit.things"].value
    assert list(things) == ["radio", "feed-line", "wire", "battery", "power-lead", "pencil"]
    battery = things["battery"]
    assert (battery["name"], battery["class"]) == ("battery", "battery")
    assert (battery["data"]["mass"], battery["data"]["battery"]["capacity"]) == ("820 g", "6 Ah")
    assert battery["data"]["typical"] == ["battery", "class", "ports", "title"]
    assert things["pencil"] == {"name": "pencil", "class": None, "file": "kit.yaml", "data": {"name": "pencil"}}
    assert json.loads(json.dumps(things)) == things


def test_cables_and_essential_items_without_a_spare_are_counted(bag: Any, low_power: str) -> None:
    spare = "  - {name: other line, is: coax-bnc-bnc-10-m, spare_of: feed line}\n"
    found = bag.facts(low_power + spare, "kit.cables", "kit.essential_without_spare")
    cables_found, essential = found["trip", "kit.cables"], found["trip", "kit.essential_without_spare"]
    assert (cables_found.value, cables_found.detail["names"]) == (3, "feed line, power lead, other line")
    assert (essential.value, essential.detail["names"]) == (4, "radio, wire, battery, power lead")


def test_what_is_essential_is_not_counted_while_a_chain_is_broken_or_none_is_due(bag: Any) -> None:
    name = "kit.essential_without_spare"
    (broken,) = bag.facts("items:\n  - {name: radio, is: hf-radio-10-w}\n", name).values()
    assert broken.reason.text == (
        "RF from radio to an antenna is not complete: nothing joins radio to an antenna; it needs an antenna"
    )
    (none,) = bag.facts("items: [pencil]\n", name).values()
    assert none.reason.text == "nothing in the kit needs a chain: no radio is described, and no chains are stated"


TWO_LEADS = """
  - {name: battery, is: lithium-iron-battery-6-ah}
  - {name: long lead, is: dc-lead-coaxial}
  - {name: short lead, is: dc-lead-coaxial}
  - {name: radio, is: hf-radio-10-w}
"""


def test_a_chain_that_may_run_more_than_one_way_is_told_with_what_may_be_in_it(bag: Any) -> None:
    (chain,) = [
        chain
        for chain in bag.facts(f"items:{TWO_LEADS}", "kit.undecided")["trip", "kit.undecided"].value
        if chain["role"] == "DC"
    ]
    assert chain == {
        "chain": "chain:dc/any.a-battery-or-a-supply/radio", "role": "DC", "settle": "connections",
        "why": "DC from a battery or a supply to radio: more than one way fits: battery.terminals to long "
        "lead.battery-end, long lead.plug to radio.dc or battery.terminals to short lead.battery-end, short lead.plug "
        "to radio.dc; decide by a line such as connections: [[battery.terminals, long lead.battery-end]]",
        "from": ["battery"], "to": ["radio"], "through": ["long-lead", "short-lead"],
    }  # fmt: skip


BLANKS = """
  - {name: first, class: radio}
  - {name: pack, class: battery}
  - {name: cord, class: lead}
  - {name: other, class: lead, spare_of: cord}
"""


def test_items_of_unknown_ports_stand_in_what_is_open_by_their_class_and_spares_do_not(bag: Any) -> None:
    found = bag.facts(f"items:{BLANKS}", "kit.undecided")["trip", "kit.undecided"].value
    (chain,) = [one for one in found if one["role"] == "DC" and one["chain"].startswith("chain:")]
    assert (chain["from"], chain["to"], chain["through"]) == (["pack"], ["first"], ["cord"])
    assert chain["settle"] == "ports of first in kit.yaml"
    items = {(one["chain"], one["role"]): (one["from"], one["to"]) for one in found if one["chain"].startswith("item:")}
    assert items == {
        ("item:pack", "DC"): (["pack"], []), ("item:pack", "USB"): (["pack"], []),
        ("item:first", "DC"): ([], ["first"]),
    }  # fmt: skip


def test_a_radio_that_is_fed_leaves_nothing_open_where_chains_are_stated(bag: Any, low_power: str) -> None:
    chain = "chains: [{role: RF, from: radio, to: wire}]\n"
    alone = "items:\n  - {name: radio, is: hf-radio-10-w}\n  - {name: wire, is: end-fed-wire-20-m}\n"
    (left,) = bag.facts(alone + chain, "kit.undecided")["trip", "kit.undecided"].value
    assert (left["chain"], left["role"], left["to"]) == ("item:radio", "DC", ["radio"])
    both = chain.replace("]", ", {role: DC, from: pack, to: radio}]")
    pack = "  - {name: pack, is: lithium-ion-battery-3-ah}\n"
    assert bag.facts(alone + pack + both, "kit.undecided")["trip", "kit.undecided"].value == []


def test_a_chain_that_runs_is_decided_even_if_a_figure_is_not_known(bag: Any, low_power: str) -> None:
    assert bag.facts(low_power, "kit.undecided")["trip", "kit.undecided"].value == []


def test_figures_written_in_part_stand_over_those_of_the_catalogue(bag: Any) -> None:
    written = "items:\n  - {name: pack, is: lithium-iron-battery-6-ah, battery: {charged: 80 %, capacity: 5.6 Ah}}\n"
    data = bag.facts(written, "kit.things")["trip", "kit.things"].value["pack"]["data"]
    assert (data["battery"]["charged"], data["battery"]["capacity"]) == ("80 %", "5.6 Ah")
    assert data["battery"]["chemistry"] == "lithium iron phosphate"
    assert "battery.nominal" in data["typical"]
    assert not {"battery", "battery.capacity", "battery.charged"} & set(data["typical"])


def test_a_battery_of_another_chemistry_takes_nothing_from_the_catalogue(bag: Any) -> None:
    own = "{chemistry: lead acid, capacity: 7 Ah}"
    written = f"items:\n  - {{name: pack, is: lithium-iron-battery-6-ah, mass: 2.5 kg, battery: {own}}}\n"
    data = bag.facts(written, "kit.things")["trip", "kit.things"].value["pack"]["data"]
    assert data["battery"] == {"chemistry": "lead acid", "capacity": "7 Ah"}
