"""What a kit leaves open: chains of which it cannot be told how they run, and items that may be part of one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from afield.core.api import _
from afield.plugins.kit.chains import default_chains
from afield.plugins.kit.flows import ways_of
from afield.plugins.kit.model import Chain, Item, Kit
from afield.plugins.kit.wiring import ChainState, Wiring
from afield.plugins.kit.words import JOINS, POWERS, silent_ports

MAY_GIVE = dict.fromkeys(POWERS, ("DC", "USB"))
MAY_TAKE = {"antenna": ("RF",), "radio": ("DC",), "amplifier": ("RF", "DC")}
"""Class -> roles in which an item whose ports are not known may give or take, whatever chains are stated."""

Open = dict[str, Any]


def undecided_in(wiring: Wiring) -> list[Open]:
    """Everything that is open; the chains first, as what they say is the more exact."""
    states = [
        state for state in wiring.chains if state.complete is None and not state.joints and not state.chain.beside
    ]
    return [
        *(_of_chain(state, wiring.kit) for state in states),
        *(_not_among_stated(chain, wiring.kit) for chain in left_out(wiring)),
        *(one for item in wiring.kit.items.values() for one in _of_item(item)),
    ]


def _of_chain(state: ChainState, kit: Kit) -> Open:
    """A chain of which it cannot be told how it runs."""
    chain = state.chain
    why = f"{chain.title}: {state.why}"
    return _open(f"chain:{chain.key}", chain, why, state.settle or None, [*state.maybe, *may_join(kit, chain.role)])


def _not_among_stated(chain: Chain, kit: Kit) -> Open:
    """What a radio needs, where the kit states its chains and leaves that one out."""
    why = _("{chain} is neither joined nor among the stated chains").format(chain=chain.title)
    return _open(f"item:{chain.ends[0].item}", chain, why, "connections", may_join(kit, chain.role))


def _open(subject: str, chain: Chain, why: str, settle: str | None, maybe: Iterable[str]) -> Open:
    starts, ends = ({port.item for port in ports} for ports in (chain.starts, chain.ends))
    starts |= {item.key for item in chain.unknown_starts}
    ends |= {item.key for item in chain.unknown_ends}
    through = [key for key in dict.fromkeys(maybe) if key not in starts | ends]
    return {
        "chain": subject, "role": chain.role, "why": why, "settle": settle, "from": sorted(starts), "to": sorted(ends),
        "through": through,
    }  # fmt: skip


def may_join(kit: Kit, role: str) -> Iterator[str]:
    """Keys of the items, spares left out, that may stand between two others in a chain of a role."""
    for item in kit.items.values():
        known = item.with_role(role)
        leads_on = any(one.takes and other.gives and one is not other for one in known for other in known)
        may = item.ports is None and role in JOINS.get(item.class_ or "", ())
        if item.spare_of is None and (leads_on or may):
            yield item.key


def left_out(wiring: Wiring) -> Iterator[Chain]:
    """Chains of direct current that radios and amplifiers need, where others are stated and nothing feeds them.

    One with a battery of its own may do without.
    """
    kit = wiring.kit
    if all(chain.origin is None for chain in kit.chains):
        return
    fed = {way["to"]["item"] for way in ways_of(wiring) if way["role"] == "DC"}
    asked = {port.item for chain in kit.chains if chain.role == "DC" for port in chain.ends}
    for chain in default_chains(kit.items):
        keys = {port.item for port in chain.ends}
        needs = chain.role == "DC" and keys and not (chain.serves or chain.beside)
        if needs and not keys & (fed | asked) and not any("battery" in kit.items[key].data for key in keys):
            yield chain


def _of_item(item: Item) -> Iterator[Open]:
    """What an item may be part of whose ports are not known; a spare is part of nothing."""
    if item.ports is not None or item.spare_of is not None:
        return
    for side, table in (("from", MAY_GIVE), ("to", MAY_TAKE)):
        for role in _roles(item, table):
            yield {
                "chain": f"item:{item.key}", "role": role, "why": silent_ports(item.name),
                "settle": item.supply_ports, "from": [], "to": [], "through": [], side: [item.key],
            }  # fmt: skip


def _roles(item: Item, table: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """By its class; a radio with a battery of its own need not be fed."""
    own = table is MAY_TAKE and item.class_ == "radio" and "battery" in item.data
    return () if own else table.get(item.class_ or "", ())
