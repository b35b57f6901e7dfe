"""The ways that current takes from what gives to what takes, as the kit joins them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from afield.core.api import frozen
from afield.plugins.power.stated import Thing

SUPPLIES = ("battery", "supply")
"""Classes of items that feed a station by themselves."""


@frozen
class Way:
    """One way from a port that gives to a port that takes.

    Attributes:
        source, source_port, sink, sink_port: keys of the items, names of the ports.
        through: key, port in and port out of every item between.

    """

    source: str
    source_port: str
    sink: str
    sink_port: str
    through: tuple[tuple[str, str, str], ...] = ()

    @property
    def items(self) -> tuple[str, ...]:
        """Keys of the items between, from the source on."""
        return tuple(key for key, _, _ in self.through)

    @property
    def joints(self) -> tuple[tuple[str, str, str], ...]:
        """What is joined, from the source on: the two items, and a key of the joint."""
        givers = [(self.source, self.source_port), *((key, out) for key, _, out in self.through)]
        takers = [*((key, into) for key, into, _ in self.through), (self.sink, self.sink_port)]
        return tuple(
            (giver[0], taker[0], f"{giver[0]}.{giver[1]}/{taker[0]}.{taker[1]}")
            for giver, taker in zip(givers, takers, strict=True)
        )

    def words(self, things: Mapping[str, Thing]) -> str:
        """The items that it goes through, by their names."""
        return ", ".join(things[key].name for key in (self.source, *self.items, self.sink))


def ways_of(kit_ways: Iterable[Mapping[str, Any]], role: str) -> list[Way]:
    """The ways of a role, whether or not all on them fits: what does not fit is said of the connection."""
    return [
        Way(
            way["from"]["item"], way["from"]["port"], way["to"]["item"], way["to"]["port"],
            tuple((piece["item"], piece["in"], piece["out"]) for piece in way["through"]),
        )
        for way in kit_ways
        if way["role"] == role
    ]  # fmt: skip


def gives_power(thing: Thing) -> bool:
    """Whether it feeds others by itself."""
    return thing.class_ in SUPPLIES or (thing.class_ is None and "battery" in thing.data)


def feeding(kit_ways: Iterable[Mapping[str, Any]], things: Mapping[str, Thing]) -> list[Way]:
    """The ways of direct current from a battery or supply to a load; what charges a battery is no load."""
    return [
        way
        for way in ways_of(kit_ways, "DC")
        if gives_power(things[way.source]) and things[way.sink].class_ != "battery"
    ]
