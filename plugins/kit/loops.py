"""Loops of direct current: two ways from one supply to one place, or a supply joined to itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from afield.core.api import Problem
from afield.plugins.kit.model import Connection, Item, Port


def loops(connections: Iterable[Connection]) -> Iterator[Problem]:
    """A problem for each connection that closes a loop in DC, at that connection."""
    roots: dict[str, str] = {}
    for connection in connections:
        one, other = connection.one, connection.other
        if one.port is None or other.port is None or {one.port.role, other.port.role} != {"DC"}:
            continue
        ends = [_root(roots, _node(end.item, end.port)) for end in (one, other) if end.port]
        if ends[0] == ends[1]:
            what = f"joining {one.written} to {other.written} closes a loop in DC"
            advice = "Remove one of the connections of the loop: current would flow both ways round."
            yield connection.origin.document.problem(connection.origin.path, what, advice)
        roots[ends[0]] = ends[1]


def _node(item: Item, port: Port) -> str:
    """What the current meets: an item, or, where it only takes current, one input of it."""
    takes_only = all(other.direction == "sink" for other in item.with_role("DC"))
    return port.key if takes_only else item.key


def _root(roots: dict[str, str], node: str) -> str:
    while node in roots and roots[node] != node:
        node = roots[node]
    return node
