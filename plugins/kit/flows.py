"""Every way from a port that gives to one that takes, over joints and through cables, as plain data for others."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from afield.plugins.kit.charging import charges
from afield.plugins.kit.model import Port
from afield.plugins.kit.wiring import Wiring

Step = tuple[Port, Port, "Step | None"]
"""The ports by which something goes into an item and comes out, and the step before."""
FLOWING = frozenset(("DC", "USB", "RF", "keying", "mains"))


def ways_of(wiring: Wiring) -> list[dict[str, Any]]:
    """The ways, in the order of the items; of several between two ports, one with the fewest pieces between."""
    givers = (port for port in wiring.kit.ports.values() if port.direction == "source" and port.role in FLOWING)
    return [way for giver in givers for way in _from(giver, wiring)]


def _from(giver: Port, wiring: Wiring) -> Iterator[dict[str, Any]]:
    """The ways from one port, the shortest first: the search goes outward from it, and enters a port once."""
    waiting: list[tuple[Port, Step | None]] = [(giver, None)]
    seen = {giver.key}
    for port, behind in waiting:
        across = wiring.net.across(port)
        if across is None or across[0].key in seen or across[0].role != giver.role:
            continue
        taker = across[0]
        seen.add(taker.key)
        charged = charges((wiring.kit.items[giver.item], giver), (wiring.kit.items[taker.item], taker))
        if taker.direction == "sink" or charged:
            yield _way(giver, taker, _steps(behind), wiring)
        elif taker.direction == "both":
            exits = [port for port in wiring.net.exits(taker) if port.direction == "both" and port.key not in seen]
            seen.update(exit_.key for exit_ in exits)
            waiting += [(exit_, (taker, exit_, behind)) for exit_ in exits]


def _steps(last: Step | None) -> list[tuple[Port, Port]]:
    found = []
    while last is not None:
        found.append((last[0], last[1]))
        last = last[2]
    return found[::-1]


def _way(giver: Port, taker: Port, through: list[tuple[Port, Port]], wiring: Wiring) -> dict[str, Any]:
    joints = [found[1] for port in (giver, *(out for _, out in through)) if (found := wiring.net.across(port))]
    fits = [wiring.fits[joint.key].fits for joint in joints]
    return {
        "role": giver.role,
        "from": _end(giver),
        "to": _end(taker),
        "through": [{"item": into.item, "in": into.name, "out": out.name} for into, out in through],
        "fits": False if False in fits else None if None in fits else True,
        "inferred": any(joint.inferred for joint in joints),
    }


def _end(port: Port) -> dict[str, str]:
    return {"item": port.item, "port": port.name}
