"""Essential items: those that every way of a required chain goes through."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from afield.plugins.kit.model import Chain, Item
from afield.plugins.kit.wiring import Wiring

if TYPE_CHECKING:
    import networkx as nx

BEFORE, BEHIND = ("before the start",), ("behind the end",)


@lru_cache(maxsize=8)
def essential_by_chain(wiring: Wiring) -> dict[str, set[str]]:
    """Title of each complete chain -> keys of the items without which it breaks.

    A chain that feeds a converter, or what has a battery of its own, counts only if another that counts breaks without
    that item: nobody goes home because a converter that feeds nothing is dead, or because the laptop is not charged.
    """
    complete = {state.chain: essential_items(wiring, state.chain) for state in wiring.chains if state.complete}
    counted = {chain: keys for chain, keys in complete.items() if not (chain.serves or chain.beside)}
    while more := {chain: complete[chain] for chain in complete.keys() - counted.keys() if _needed(chain, counted)}:
        counted |= more
    return {chain.title: complete[chain] for chain in complete if chain in counted}


def _needed(chain: Chain, counted: Mapping[Chain, set[str]]) -> bool:
    """Whether a chain that counts breaks without what this one feeds."""
    if chain.beside:
        return False
    fed = {port.item for port in chain.ends}
    return any(fed & keys for keys in counted.values())


def essential_without_spare(wiring: Wiring) -> list[Item]:
    """Items that some required chain breaks without, and that no other item is a spare of, in the order of the kit."""
    needed = set().union(*essential_by_chain(wiring).values())
    spared = {item.spare_of for item in wiring.kit.items.values()}
    return [item for item in wiring.kit.items.values() if item.key in needed - spared]


def essential_items(wiring: Wiring, chain: Chain) -> set[str]:
    """Keys of the items without which no way of a chain is left: the dominators of its end.

    The graph has an edge for each joint that fits, in the direction in which something can flow; a node that lies on
    every path from the start to the end separates the two when it is taken away (Lengauer and Tarjan, ACM TOPLAS 1,
    1979; networkx.immediate_dominators).

    Raises:
        ValueError: the chain is not complete.

    """
    import networkx as nx

    graph = _graph(wiring, chain)
    if BEHIND not in graph or BEFORE not in graph or not nx.has_path(graph, BEFORE, BEHIND):
        raise ValueError(f"{chain.title} is not complete")
    above = nx.immediate_dominators(graph, BEFORE)
    found: set[str] = set()
    node = above[BEHIND]
    while node != BEFORE:
        found.add(node[0])
        node = above[node]
    return found


def _graph(wiring: Wiring, chain: Chain) -> nx.DiGraph[tuple[str, ...]]:
    """Items joined to items; a way leaves the start and enters the end by the chain's own ports."""
    import networkx as nx

    graph: nx.DiGraph[tuple[str, ...]] = nx.DiGraph()
    starts, ends = ({port.key for port in ports} for ports in (chain.starts, chain.ends))
    first, last = ({port.item for port in ports} for ports in (chain.starts, chain.ends))
    for start, end in _edges(wiring, chain):
        if (start[0] in first and start[1] not in starts) or (end[0] in last and end[1] not in ends):
            continue
        if start[1] in starts:
            graph.add_edge(BEFORE, (start[0],))
        graph.add_edge((start[0],), (end[0],))
        if end[1] in ends:
            graph.add_edge((end[0],), BEHIND)
    return graph


def _edges(wiring: Wiring, chain: Chain) -> Iterator[tuple[tuple[str, str], tuple[str, str]]]:
    """(item, port) pairs along which something flows from the starts of a chain on, over joints that fit."""
    waiting = list(chain.starts)
    seen = {port.key for port in waiting}
    ends = {port.key for port in chain.ends}
    for port in waiting:
        across = wiring.net.across(port)
        enters = across is not None and (across[0].takes or across[0].key in ends)
        if across is None or not enters or wiring.fits[across[1].key].fits is not True:
            continue
        yield (port.item, port.key), (across[0].item, across[0].key)
        onward = [exit_ for exit_ in wiring.net.exits(across[0]) if exit_.key not in seen]
        seen.update(exit_.key for exit_ in onward)
        waiting += onward
