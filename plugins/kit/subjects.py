"""Subjects derived from a plan's kit: its items, what joins them, and the chains that must be complete."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from afield.core.api import Document, Kind, Origin, Subject, _

if TYPE_CHECKING:
    from afield.plugins.kit.joints import Joint
    from afield.plugins.kit.model import Chain, Item

KINDS = [
    Kind("item", title="item of the kit"),
    Kind("connection", title="connection of two ports"),
    Kind("chain", title="chain that must be complete"),
]


def subjects(plan: Document) -> list[Subject]:
    """The subjects; none for a plan that says nothing of a kit.

    Raises:
        InputError: anything that the kit says wrongly.

    """
    if not {"kit", "connections", "chains"} & plan.data.keys():
        return []
    from afield.plugins.kit.assembling import kit_of
    from afield.plugins.kit.wiring import wired

    wiring = wired(kit_of(plan, plan.folder))
    place = Origin(plan, ("kit",), plan.folder)
    return [
        *map(_item, wiring.kit.items.values()),
        *(_connection(joint, place) for joint in wiring.joints),
        *_chains(wiring.kit.chains, place),
    ]


def _item(item: Item) -> Subject:
    return Subject(f"item:{item.key}", "item", item.name, {"trip": "trip"}, item.data, item.origin)


def _connection(joint: Joint, place: Origin) -> Subject:
    data: dict[str, Any] = {"from": joint.one.written, "to": joint.other.written, "inferred": joint.inferred}
    label = _("{joint} (inferred)").format(joint=joint.words) if joint.inferred else joint.words
    return Subject(f"connection:{joint.key}", "connection", label, {"trip": "trip"}, data, joint.origin or place)


def _chains(chains: tuple[Chain, ...], place: Origin) -> Iterator[Subject]:
    for chain in chains:
        data = {"role": chain.role, "from": chain.start, "to": chain.end}
        yield Subject(
            f"chain:{chain.key}", "chain", chain.title, {"trip": "trip"}, data, chain.origin or place
        )  # fmt: skip
