"""Ways to complete a chain with what is in the bag: none, exactly one, or more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from afield.plugins.kit.joints import Net
from afield.plugins.kit.model import Chain, Kit, Port
from afield.plugins.kit.words import CHARGES

MOST_STEPS = 5_000
"""Steps of a search after which more than one way is taken to fit: no bag that people can oversee needs as many."""

POWER = ("DC", "USB", "mains")

Way = tuple[tuple[Port, Port], ...]
"""The pairs of ports that would be joined anew."""

Buckets = dict[tuple[str, str | None], list[Port]]
"""Ports by connector and gender, which is what decides whether they fit."""


class TooManySteps(Exception):
    """The search was given up."""


@dataclass
class Search:
    """Finds ways; a way goes through an item once, and through no spare.

    Attributes:
        found: at most two, told apart by items and kinds of ports.

    """

    kit: Kit
    net: Net
    chain: Chain
    found: dict[tuple[object, ...], Way] = field(default_factory=dict)
    steps: int = 0

    def ways(self) -> list[Way]:
        """No way, the only one, or the first two.

        Raises:
            TooManySteps: neither is clear after MOST_STEPS.

        """
        self.named = {port.key for port in (*self.chain.starts, *self.chain.ends)}
        free = [port for port in self.kit.ports.values() if self.usable(port)]
        self.ends = {port.key for port in self.chain.ends}
        # The terminals of a battery give, and take all the same what a chain that ends there brings.
        self.takers = _by_connector(port for port in free if port.takes or port.key in self.ends)
        self.givers = _by_connector(port for port in free if port.gives)
        self.useful = self.leading_to_the_end()
        for start in alike_once(self.chain.starts):
            self.walk(start, frozenset({start.item}), (), (start.shape,))
        return list(self.found.values())

    def usable(self, port: Port) -> bool:
        """Whether a port is free to be joined; what the chain names is, even on a spare."""
        if port.role != self.chain.role or self.net.across(port) is not None or port.key in self.net.blind:
            return False
        return port.key in self.named or self.kit.items[port.item].spare_of is None

    def partners(self, port: Port, among: Buckets) -> Iterator[Port]:
        """Free ports of other items that fit a free one."""
        for alike in among.values():
            if self.kit.mates.fit(port, alike[0]):
                yield from (other for other in alike if other.item != port.item)

    def onward(self, port: Port) -> Iterator[tuple[Port, bool]]:
        """Ports on the other side of one, each with whether the joint would be new."""
        across = self.net.across(port)
        if across is not None:
            # One that does not fit is what somebody wants joined all the same; that it does not fit is said of it.
            if across[0].takes or across[0].key in self.ends:
                yield across[0], False
        elif self.usable(port):
            fitting = alike_once(self.partners(port, self.takers))
            yield from ((other, True) for other in fitting if not self.is_fed(other))

    def is_fed(self, port: Port) -> bool:
        """Whether the net behind a free port has a source of power already: a second one is joined by people only.

        What charges a battery may be joined to the net of that battery, and the battery to what charges it.
        """
        if self.chain.role not in POWER or port.direction != "both":
            return False
        sources = [source for source in self.net.behind(port) if source.direction == "source"]
        return any(source.key not in self.ends and not self.is_charger(source) for source in sources)

    def is_charger(self, source: Port) -> bool:
        """Whether a source is what charges a battery, in a chain that a battery gives to."""
        given = any(self.kit.items[start.item].class_ == "battery" for start in self.chain.starts)
        return given and self.kit.items[source.item].class_ in CHARGES

    def walk(self, port: Port, visited: frozenset[str], joined: Way, trail: tuple[object, ...]) -> None:
        """Go on from a port that gives, until the end or until two ways are found."""
        for other, is_new in self.onward(port):
            if len(self.found) > 1:
                return
            if other.item in visited or other.key not in self.useful:
                continue
            self.steps += 1
            if self.steps > MOST_STEPS:
                raise TooManySteps
            way = (*joined, (port, other)) if is_new else joined
            here = (*trail, other.shape)
            if other.key in self.ends:
                self.found.setdefault(here, way)
            else:
                self.walk_through(other, visited | {other.item}, way, here)

    def walk_through(self, port: Port, visited: frozenset[str], joined: Way, trail: tuple[object, ...]) -> None:
        """Go on from every exit of the item that a port leads into; free exits that are alike serve once."""
        exits = list(self.net.exits(port))
        free = [other for other in exits if self.net.across(other) is None]
        for exit_ in [other for other in exits if other not in free] + list(alike_once(free)):
            self.walk(exit_, visited, joined, (*trail, exit_.shape))

    def leading_to_the_end(self) -> set[str]:
        """Keys of the ports from which the end can be reached at all, so that no dead end is searched twice."""
        useful = {port.key for port in self.chain.ends}
        waiting = list(self.chain.ends)
        self.asked: set[tuple[str, str | None]] = set()
        while waiting:
            port = waiting.pop()
            for giver in self.inward(port):
                for entrance in self.net.entrances(giver):
                    if entrance.key not in useful:
                        useful.add(entrance.key)
                        waiting.append(entrance)
        return useful

    def inward(self, port: Port) -> Iterator[Port]:
        """Ports that give to one; for free ports of one kind they are the same, so they are given once."""
        across = self.net.across(port)
        if across is not None:
            if across[0].gives:
                yield across[0]
        elif (port.connector, port.gender) not in self.asked and self.usable(port):
            self.asked.add((port.connector, port.gender))
            fitting = (alike for alike in self.givers.values() if self.kit.mates.fit(port, alike[0]))
            yield from (giver for alike in fitting for giver in alike)


def _by_connector(ports: Iterable[Port]) -> Buckets:
    found: Buckets = {}
    for port in ports:
        found.setdefault((port.connector, port.gender), []).append(port)
    return found


def alike_once(ports: Iterable[Port]) -> Iterator[Port]:
    """The ports without those that are like an earlier one of the same item."""
    seen = set()
    for port in ports:
        if port.shape not in seen:
            seen.add(port.shape)
            yield port
