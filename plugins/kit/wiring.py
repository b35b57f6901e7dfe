"""The kit as it is joined: what is stated, what is inferred, and whether each chain is complete."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from functools import lru_cache

from afield.core.api import _, frozen
from afield.plugins.kit.findings import Fit
from afield.plugins.kit.fits import judged
from afield.plugins.kit.joints import Joint, Net, joined_words
from afield.plugins.kit.missing import missing_piece
from afield.plugins.kit.model import Chain, End, Item, Kit, Port
from afield.plugins.kit.paths import path_along
from afield.plugins.kit.ways import Search, TooManySteps, Way
from afield.plugins.kit.words import JOINS, end_words, silent_ports

PLAIN = re.compile(r"[^\W_][\w ().+-]*(?<! )")
"""What can stand in a list of YAML without quotes."""


@frozen
class ChainState:
    """Whether a chain is complete.

    Attributes:
        complete: None = cannot be told.
        joints: keys of the joints of one complete way, in order.
        why, settle: in words; empty where it is complete.
        pieces: what is missing.
        maybe: keys of the items that it may go through, where that is not decided.

    """

    chain: Chain
    complete: bool | None
    joints: tuple[str, ...] = ()
    why: str = ""
    pieces: tuple[str, ...] = ()
    settle: str = ""
    maybe: tuple[str, ...] = ()

    @property
    def needs(self) -> str:
        """What is missing, in words."""
        return "; ".join(self.pieces)


@frozen(slots=False, eq=False)
class Wiring:
    """A kit with its joints, each with whether it fits, and the states of its chains."""

    kit: Kit
    net: Net
    fits: Mapping[str, Fit]
    chains: Sequence[ChainState] = field(default_factory=list)

    @property
    def joints(self) -> list[Joint]:
        """In order: the stated ones, then the inferred ones."""
        return self.net.joints


@lru_cache(maxsize=8)
def wired(kit: Kit) -> Wiring:
    """The kit with all that can be inferred of its wiring."""
    return _Builder(kit).wiring()


def state_of(chain: Chain, wiring: Wiring) -> ChainState:
    """The state of a chain that need not be among the kit's: as all is joined, or as exactly one way more fits."""
    for state in wiring.chains:
        if state.chain.key == chain.key:
            return state
    builder = _Builder(wiring.kit, wiring.joints)
    if chain.starts and chain.ends:
        builder.inferred(chain)
    return builder.state(chain)


class _Builder:
    def __init__(self, kit: Kit, joints: Iterable[Joint] | None = None) -> None:
        self.kit = kit
        stated = (Joint(one.one, one.other, origin=one.origin) for one in kit.connections)
        self.joints = list(stated if joints is None else joints)
        self.doubtful: dict[str, tuple[Way, ...]] = {}
        self.refresh()

    def refresh(self) -> None:
        self.net = Net(self.kit, self.joints)
        self.fits = {joint.key: judged(joint, self.kit, self.net) for joint in self.joints}

    def wiring(self) -> Wiring:
        waiting = [chain for chain in self.kit.chains if chain.starts and chain.ends]
        # What one chain takes up may leave exactly one way to another, so the rest is tried again.
        while waiting:
            left = [chain for chain in waiting if not self.inferred(chain)]
            if len(left) == len(waiting):
                break
            waiting = left
        return Wiring(self.kit, self.net, self.fits, [self.state(chain) for chain in self.kit.chains])

    def inferred(self, chain: Chain) -> bool:
        """Whether the chain needs no further try: it is joined, or it has just been."""
        if path_along(self.net, chain, lambda joint: True):
            return True
        ways = self.ways(chain)
        self.doubtful[chain.key] = tuple(ways or ())
        if ways is None:
            self.doubtful[chain.key] = ((), ())
        elif len(ways) == 1:
            self.join(ways[0])
        return ways is not None and len(ways) == 1

    def ways(self, chain: Chain) -> list[Way] | None:
        try:
            return Search(self.kit, self.net, chain).ways()
        except TooManySteps:
            return None

    def join(self, way: Way) -> None:
        for one, other in way:
            self.joints.append(Joint(self.end(one), self.end(other), inferred=True))
        self.refresh()

    def end(self, port: Port) -> End:
        return End(self.kit.items[port.item], port, self.kit.label(port))

    def state(self, chain: Chain) -> ChainState:
        for accepted in ((True,), (True, None), (True, None, False)):
            path = path_along(self.net, chain, self.accepting(accepted))
            if path:
                return self.joined(chain, path)
        if chain.unknown:
            return _blank(chain, chain.unknown[0])
        ways = self.doubtful.get(chain.key, ())
        if len(ways) > 1:
            return self.ambiguous(chain, ways)
        return self.broken(chain)

    def accepting(self, accepted: Iterable[bool | None]) -> Accepts:
        return Accepts(self.fits, tuple(accepted))

    def joined(self, chain: Chain, path: tuple[Joint, ...]) -> ChainState:
        keys = tuple(joint.key for joint in path)
        worst = [self.fits[key] for key in keys if self.fits[key].fits is False]
        unsure = [self.fits[key] for key in keys if self.fits[key].fits is None]
        if worst:
            pieces = tuple(dict.fromkeys(fit.needs for fit in worst if fit.needs))
            return ChainState(chain, False, keys, "; ".join(fit.why for fit in worst), pieces)
        if unsure:
            return ChainState(chain, None, keys, unsure[0].why, settle=unsure[0].settle)
        return ChainState(chain, True, keys)

    def ambiguous(self, chain: Chain, ways: Sequence[Way]) -> ChainState:
        maybe = between(ways) if any(ways) else tuple(self.kit.items)
        why = _("more than one way fits")
        if all(ways):
            told = [", ".join(joined_words(self.kit.label(a), self.kit.label(b)) for a, b in way) for way in ways]
            why = _("more than one way fits: {one} or {other}; decide by a line such as {line}")
            why = why.format(one=told[0], other=told[1], line=_line(ways, self.kit))
        return ChainState(chain, None, why=why, settle="connections", maybe=maybe)

    def possible(self, role: str) -> Iterator[Item]:
        """Items whose ports are not known, and that may be what is missing in a chain of the role."""
        items = self.kit.items.values()
        return (item for item in items if item.ports is None and role in JOINS.get(item.class_ or "", ()))

    def broken(self, chain: Chain) -> ChainState:
        blanks = (joint.blank for joint in self.joints if all(port.role == chain.role for port in joint.ports))
        blank = next(filter(None, blanks), None) or next(self.possible(chain.role), None)
        if blank is not None and chain.starts and chain.ends:
            return _blank(chain, blank)
        pieces = (missing_piece(chain, self.kit, self.net),)
        why = _("nothing joins {start} to {end}").format(start=end_words(chain.start), end=end_words(chain.end))
        return ChainState(chain, False, why=why, pieces=pieces)


class Accepts:
    """Whether a joint's fit is one of those accepted."""

    def __init__(self, fits: Mapping[str, Fit], accepted: tuple[bool | None, ...]) -> None:
        self.fits, self.accepted = fits, accepted

    def __call__(self, joint: Joint) -> bool:
        """Of one joint."""
        return self.fits[joint.key].fits in self.accepted


def _blank(chain: Chain, item: Item) -> ChainState:
    return ChainState(chain, None, why=silent_ports(item.name), settle=item.supply_ports, maybe=(item.key,))


def _line(ways: Sequence[Way], kit: Kit) -> str:
    """The first joint of the first way that is not in the other, as it is written in a kit file or a plan."""
    first, second = ([(one.key, other.key, one, other) for one, other in way] for way in ways)
    others = {(one, other) for one, other, _, _ in second}
    apart = next((joint for joint in first if joint[:2] not in others), first[0])
    one, other = (_written(kit.label(port)) for port in apart[2:])
    return f"connections: [[{one}, {other}]]"


def _written(label: str) -> str:
    """In quotes where YAML needs them in a list."""
    return label if PLAIN.fullmatch(label) else json.dumps(label, ensure_ascii=False)


def between(ways: Iterable[Way]) -> tuple[str, ...]:
    """Keys of the items that some way begins at, goes through or ends at."""
    return tuple(dict.fromkeys(port.item for way in ways for pair in way for port in pair))
