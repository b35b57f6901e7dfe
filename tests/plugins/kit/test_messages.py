"""What is said of a wrong kit, whole, with its place in the kit's own file."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.documents import InputError, read_document
from afield.plugins.kit import plugin

MESSAGES = {
    "unknown connector": (
        """\
        items:
          - name: radio
            ports: [{name: antenna, connector: BNCC, gender: female, role: RF, direction: source}]
        """,
        """\
kit.yaml:3:40: BNCC is no known connector
    |     ports: [{name: antenna, connector: BNCC, gender: female, role: RF, direction: source}]
    = Did you mean "BNC"? A connector that is not listed can be described under `connectors:` of the kit file.""",
    ),
    "connector like no other": (
        """\
        items:
          - name: radio
            ports: [{name: antenna, connector: XLR5, gender: female, role: RF, direction: source}]
        """,
        """\
kit.yaml:3:40: XLR5 is no known connector
    |     ports: [{name: antenna, connector: XLR5, gender: female, role: RF, direction: source}]
    = Of the 49 known ones, "RJ45", "PL-259", "RCA", "MCX", "coaxial DC 5.5/2.5" are spelt most like it. \
A connector that is not listed can be described under `connectors:` of the kit file.""",
    ),
    "connector without its gender": (
        """\
        items:
          - name: radio
            ports: [{name: antenna, connector: BNC, role: RF, direction: source}]
        """,
        """\
kit.yaml:3:13: the BNC port antenna has no gender
    |     ports: [{name: antenna, connector: BNC, role: RF, direction: source}]
    = Add gender: male, or gender: female.""",
    ),
    "gender against the name": (
        """\
        items:
          - name: line
            ports: [{name: a, connector: PL-259, gender: female, role: RF, direction: both}]
        """,
        """\
kit.yaml:3:50: a PL-259 is male, not female
    |     ports: [{name: a, connector: PL-259, gender: female, role: RF, direction: both}]
    = Remove the gender, or name the other connector.""",
    ),
    "port without a role": (
        """\
        items:
          - name: line
            ports: [{name: a, connector: PL-259, direction: both}]
        """,
        """\
kit.yaml:3:13: the port a has no role
    |     ports: [{name: a, connector: PL-259, direction: both}]
    = Add it, for example: role: RF""",
    ),
    "two ports of one name": (
        """\
        items:
          - name: line
            ports:
              - {name: a, connector: PL-259, role: RF, direction: both}
              - {name: a, connector: PL-259, role: RF, direction: both}
        """,
        """\
kit.yaml:5:9: a second port a
    |       - {name: a, connector: PL-259, role: RF, direction: both}
    = Name it otherwise.""",
    ),
    "falling voltages": (
        """\
        items:
          - name: battery
            ports: [{name: a, connector: two-pole DC, gender: male, role: DC, direction: source, volts: [14 V, 11 V]}]
        """,
        """\
kit.yaml:3:97: the voltages 14 V to 11 V fall
    |     ports: [{name: a, connector: two-pole DC, gender: male, role: DC, direction: source, volts: [14 V, 11 V]}]
    = Write the lowest first.""",
    ),
    "unknown catalogue item": (
        "items:\n  - {name: radio, is: hf-radio-10w}\n",
        """\
kit.yaml:2:23: the catalogue has no item hf-radio-10w
    |   - {name: radio, is: hf-radio-10w}
    = Did you mean "hf-radio-10-w"?""",
    ),
    "duplicate item": (
        "items:\n  - pencil\n  - {name: Pencil}\n",
        """\
kit.yaml:3:12: a second item Pencil
    |   - {name: Pencil}
    = The first is at kit.yaml:2:5. Capitals, spaces and punctuation do not tell names apart. Keep one of the two, \
or name another.""",
    ),
    "spare of an unknown item": (
        "items:\n  - feed line\n  - {name: other line, spare_of: fed line}\n",
        """\
kit.yaml:3:34: there is no item fed line to be a spare of
    |   - {name: other line, spare_of: fed line}
    = Did you mean "feed line"?""",
    ),
    "spare of itself": (
        "items:\n  - {name: line, spare_of: line}\n",
        """\
kit.yaml:2:28: an item cannot be a spare of itself
    |   - {name: line, spare_of: line}
    = Name the item that it takes the place of.""",
    ),
    "negative mass": (
        "items:\n  - {name: line, mass: -1 kg}\n",
        """\
kit.yaml:2:24: mass of the item -1 kg is less than 0 kg
    |   - {name: line, mass: -1 kg}
    = Write 0 kg or more.""",
    ),
    "bare mass": (
        "items:\n  - {name: line, mass: 450}\n",
        """\
kit.yaml:2:24: 450 is a bare number: write its unit, for example "450 kg"
    |   - {name: line, mass: 450}
    = A mass is written in kg, g, lb or oz.""",
    ),
    "unknown key": (
        "items:\n  - {name: line, spareof: rope}\n",
        """\
kit.yaml:2:18: unknown key "spareof" in item
    |   - {name: line, spareof: rope}
    = Did you mean "spare_of"?""",
    ),
    "own connector that is another name of none": (
        "items: [pencil]\nconnectors:\n  club plug: {is: BNX, gender: male}\n",
        """\
kit.yaml:3:19: BNX is no known connector
    |   club plug: {is: BNX, gender: male}
    = Did you mean "BNC"? A connector that is not listed can be described under `connectors:` of the kit file.""",
    ),
}


@pytest.mark.parametrize("name", MESSAGES)
def test_a_wrong_item_is_pointed_at(name: str, bag: Any) -> None:
    text, message = MESSAGES[name]
    assert bag.complaint(text) == message


WIRED = {
    "unknown item": (
        "connections:\n  - [radoi.antenna, feed line.plug-a]\n",
        """\
kit.yaml:8:6: there is no item radoi in the kit
    |   - [radoi.antenna, feed line.plug-a]
    = Did you mean "radio"?""",
    ),
    "unknown port": (
        "connections:\n  - [radio.antena, feed line.plug-a]\n",
        """\
kit.yaml:8:6: radio has no port antena
    |   - [radio.antena, feed line.plug-a]
    = Did you mean "radio.antenna"?""",
    ),
    "item with several ports": (
        "connections:\n  - [wire, feed line]\n",
        """\
kit.yaml:8:12: feed line has 2 ports; a connection joins one
    |   - [wire, feed line]
    = Write one of "feed line.plug-a", "feed line.plug-b".""",
    ),
    "port used twice": (
        "connections:\n  - [radio.antenna, feed line.plug-a]\n  - [wire.feed, feed line.plug-a]\n",
        """\
kit.yaml:9:17: the port feed line.plug-a is used twice
    |   - [wire.feed, feed line.plug-a]
    = It is joined at kit.yaml:8:5 already. Remove one, or put a splitter between.""",
    ),
    "port joined to itself": (
        "connections:\n  - [feed line.plug-a, feed line.plug-a]\n",
        """\
kit.yaml:8:24: the port feed line.plug-a is used twice
    |   - [feed line.plug-a, feed line.plug-a]
    = It is joined at kit.yaml:8:5 already. Remove one, or put a splitter between.""",
    ),
    "two outputs": (
        "connections:\n  - [radio.antenna, radio.key-out]\n",
        """\
kit.yaml:8:5: radio.antenna and radio.key-out are both outputs
    |   - [radio.antenna, radio.key-out]
    = Join an output to an input.""",
    ),
    "chain of another role": (
        "chains:\n  - {role: RF, from: radio.dc, to: wire}\n",
        """\
kit.yaml:8:22: RF does not go through radio.dc: it is a port for DC
    |   - {role: RF, from: radio.dc, to: wire}
    = Name a port for RF.""",
    ),
    "chain to an item without the role": (
        "chains:\n  - {role: RF, from: radio, to: battery}\n",
        """\
kit.yaml:8:33: battery has no port for RF
    |   - {role: RF, from: radio, to: battery}
    = Name another item, or give it one.""",
    ),
    "chain twice": (
        "chains:\n  - {role: RF, from: radio, to: wire}\n  - {role: RF, from: wire, to: radio}\n",
        """\
kit.yaml:9:5: a second chain RF from radio to wire
    |   - {role: RF, from: wire, to: radio}
    = The first is at kit.yaml:8:5. Remove one.""",
    ),
}


@pytest.mark.parametrize("name", WIRED)
def test_a_wrong_connection_or_chain_is_pointed_at(name: str, bag: Any, low_power: str) -> None:
    text, message = WIRED[name]
    assert bag.complaint(low_power + text) == message


def test_a_loop_in_dc_is_pointed_at_where_it_closes(bag: Any) -> None:
    text = """\
items:
  - {name: battery, is: lithium-iron-battery-6-ah}
  - {name: one, is: dc-splitter}
  - {name: other, is: dc-splitter}
connections:
  - [battery.terminals, one.battery-end]
  - [one.output-one, other.battery-end]
  - [one.output-two, other.output-two]
"""
    assert (
        bag.complaint(text)
        == """\
kit.yaml:8:5: joining one.output-two to other.output-two closes a loop in DC
    |   - [one.output-two, other.output-two]
    = Remove one of the connections of the loop: current would flow both ways round."""
    )


def test_two_inputs_of_one_device_make_no_loop(bag: Any) -> None:
    text = """\
items:
  - {name: battery, is: lithium-iron-battery-6-ah}
  - {name: one, is: dc-splitter}
  - name: radio
    ports:
      - {name: first, connector: genderless 15-45 A housing, role: DC, direction: sink, volts: 13 V, amperes: 1 A}
      - {name: second, connector: genderless 15-45 A housing, role: DC, direction: sink, volts: 13 V, amperes: 1 A}
connections:
  - [battery, one.battery-end]
  - [one.output-one, radio.first]
  - [one.output-two, radio.second]
"""
    assert [connection.one.written for connection in bag.kit(text).connections] == [
        "battery.terminals",
        "one.output-one",
        "one.output-two",
    ]


def test_connections_of_the_plan_are_pointed_at_in_the_plan(bag: Any, low_power: str) -> None:
    assert (
        bag.complaint(low_power, "connections:\n  - [radio.antenna, wier.feed]\n")
        == """\
trip.yaml:6:21: there is no item wier in the kit
    |   - [radio.antenna, wier.feed]
    = Did you mean "wire"?"""
    )


def test_a_connection_of_two_items_without_ports_stands_once(bag: Any) -> None:
    pairs = ("coax, meter", "coax, meter", "coax.a, meter.b", "coax.a, meter")
    text = "items: [coax, meter]\nconnections:\n" + "".join(f"  - [{pair}]\n" for pair in pairs)
    assert (
        bag.complaint(text)
        == """\
kit.yaml:4:5: a second connection from coax to meter
    |   - [coax, meter]
    = The first is at kit.yaml:3:5. Remove one, or name the ports.
kit.yaml:6:6: the port coax.a is used twice
    |   - [coax.a, meter]
    = It is joined at kit.yaml:5:5 already. Remove one, or put a splitter between."""
    )


def test_connections_without_a_kit_are_refused(bag: Any) -> None:
    path = bag.file("bare.yaml", "trip: A day\ndate: 2026-06-27\nconnections: [[radio.antenna, line.a]]\n")
    with pytest.raises(InputError) as refused:
        plugin.afield_subjects(read_document(path, "bare.yaml"))
    assert (
        str(refused.value.problems[0].text())
        == """\
bare.yaml:3:16: there is no item radio in the kit
    | connections: [[radio.antenna, line.a]]
    = The plan names no kit file; add one, such as kit: [kit/low-power.yaml]."""
    )


FILES = {
    "[kit/low-powr.yaml]": """\
trip.yaml:4:7: there is no kit file kit/low-powr.yaml
    | kit: [kit/low-powr.yaml]
    = Did you mean "kit/low-power.yaml"?""",
    "[elsewhere/bag.yaml]": """\
trip.yaml:4:7: there is no kit file elsewhere/bag.yaml
    | kit: [elsewhere/bag.yaml]
    = Check the name; it is looked up beside the plan.""",
    "[kit]": """\
trip.yaml:4:7: kit is a folder, not a kit file
    | kit: [kit]
    = Name a file in it, or rename the folder.""",
    "[kit/low-power.txt]": """\
trip.yaml:4:7: kit/low-power.txt is no kit file by its ending
    | kit: [kit/low-power.txt]
    = Name a file that ends in .yaml, .yml, .json, .csv.""",
}


@pytest.mark.parametrize("named", FILES)
def test_a_kit_file_that_is_not_there_is_pointed_at_in_the_plan(named: str, bag: Any, low_power: str) -> None:
    bag.file("kit/low-power.yaml", low_power)
    with pytest.raises(InputError) as refused:
        bag.read(kit=named)
    assert refused.value.text(verbose=True) == FILES[named]


def test_all_problems_of_all_files_are_listed(bag: Any) -> None:
    bag.file("one.yaml", "items:\n  - {name: line, mass: -1 kg}\n")
    bag.file("other.csv", "name,mass\nrope,1\n")
    with pytest.raises(InputError) as refused:
        bag.read(kit="[one.yaml, other.csv, third.yaml]")
    assert [str(problem.place) for problem in refused.value.problems] == [
        "one.yaml:2:24",
        "other.csv:2:6",
        "trip.yaml:4:28",
    ]


def test_items_of_two_files_are_one_kit(bag: Any, low_power: str) -> None:
    bag.file("kit.yaml", low_power)
    bag.file(
        "more.yaml",
        "items: [{name: amplifier, is: hf-amplifier-100-w}]\nconnections: [[radio.antenna, amplifier.input]]\n",
    )
    kit = bag.read(kit="[kit.yaml, more.yaml]")
    assert list(kit.items)[-1] == "amplifier"
    assert str(kit.connections[0].origin.place()) == "more.yaml:2:15"
