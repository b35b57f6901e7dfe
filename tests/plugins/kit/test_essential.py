"""Essential items against the plain meaning: take one away, and look whether a way is left."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from afield.core.documents import read_text
from afield.core.facts.subjects import Origin
from afield.plugins.kit.connectors import Connectors
from afield.plugins.kit.essential import essential_by_chain, essential_items
from afield.plugins.kit.findings import Fit
from afield.plugins.kit.joints import Joint, Net
from afield.plugins.kit.model import Chain, End, Item, Kit, Port
from afield.plugins.kit.paths import path_along
from afield.plugins.kit.wiring import ChainState, Wiring

ORIGIN = Origin(read_text("items: [x]", "kit.yaml"), ("items", 0))
Edges = list[tuple[int, int]]


def wiring_of(edges: Edges, last: int, without: int | None = None) -> Wiring:
    """Items 0 to `last`, joined by pairs of numbers, each by ports of its own; a chain from the first to the last."""
    ports: dict[int, list[Port]] = {number: [] for number in range(last + 1)}
    joints = []
    for index, pair in enumerate(edges):
        made = [Port(str(number), f"p{index}-{side}", "BNC", None, "RF", "both") for side, number in enumerate(pair)]
        for number, port in zip(pair, made, strict=True):
            ports[number].append(port)
        joints.append((pair, made))
    items = {str(number): Item(str(number), str(number), {}, ORIGIN, tuple(found)) for number, found in ports.items()}
    whole = [
        Joint(*(End(items[port.item], port, port.key) for port in made)) for pair, made in joints if without not in pair
    ]
    kit = Kit(items, Connectors())
    chain = Chain("rf", "RF", "0", str(last), tuple(ports[0]), tuple(ports[last]))
    net = Net(kit, whole)
    return Wiring(kit, net, {joint.key: Fit(True) for joint in whole}, [ChainState(chain, True)])


def connected(wiring: Wiring) -> bool:
    chain = wiring.chains[0].chain
    return path_along(wiring.net, chain, lambda joint: True) is not None


GRAPHS = st.integers(2, 6).flatmap(
    lambda last: st.tuples(
        st.lists(
            st.tuples(st.integers(0, last), st.integers(0, last)).filter(lambda pair: pair[0] != pair[1]),
            min_size=1,
            max_size=12,
        ),
        st.just(last),
    )
)


@settings(max_examples=150, deadline=None)
@given(GRAPHS)
def test_an_item_is_essential_if_no_way_is_left_without_it(graph: tuple[Edges, int]) -> None:
    edges, last = graph
    wiring = wiring_of(edges, last)
    chain = wiring.chains[0].chain
    if not connected(wiring):
        with pytest.raises(ValueError, match="is not complete"):
            essential_items(wiring, chain)
        return
    inner = {str(number) for number in range(1, last) if not connected(wiring_of(edges, last, number))}
    assert essential_items(wiring, chain) == {"0", str(last), *inner}


def test_a_chain_of_items_needs_each(bag: Any, low_power: str) -> None:
    found = essential_by_chain(bag.wiring(low_power))
    assert found == {
        "RF from radio to an antenna": {"radio", "feed-line", "wire"},
        "DC from a battery or a supply to radio": {"battery", "power-lead", "radio"},
    }


def test_of_two_ways_neither_is_essential() -> None:
    wiring = wiring_of([(0, 1), (1, 3), (0, 2), (2, 3)], 3)
    assert essential_items(wiring, wiring.chains[0].chain) == {"0", "3"}
    line = wiring_of(list(pairwise(range(40))), 39)
    assert len(essential_items(line, line.chains[0].chain)) == 40


def test_another_port_of_the_start_is_no_way_around(bag: Any) -> None:
    text = """\
items:
  - name: radio
    ports:
      - {name: hf, connector: BNC, gender: female, role: RF, direction: source, watts_peak: 5 W}
      - {name: vhf, connector: SMA, gender: female, role: RF, direction: source, watts_peak: 5 W}
  - {name: line, is: coax-bnc-bnc-10-m}
  - {name: whip, is: whip-vhf}
  - {name: wire, is: end-fed-wire-20-m}
connections: [[radio.hf, line.plug-a], [line.plug-b, wire.feed], [radio.vhf, whip.feed]]
chains: [{role: RF, from: radio.hf, to: wire}]
"""
    assert list(essential_by_chain(bag.wiring(text)).values()) == [{"radio", "line", "wire"}]
