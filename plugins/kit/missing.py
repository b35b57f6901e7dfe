"""The piece that a broken chain lacks, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from afield.core.api import _
from afield.plugins.kit.charging import charges, over_a_battery
from afield.plugins.kit.fit_words import charge_controller
from afield.plugins.kit.fits import piece_between
from afield.plugins.kit.joints import Net
from afield.plugins.kit.model import Chain, Kit, Port
from afield.plugins.kit.words import CABLES, end_words


def missing_piece(chain: Chain, kit: Kit, net: Net) -> str:
    """What would complete the chain: "a lead from radio.antenna to antenna.feed (BNC male to UHF male)"."""
    if not chain.starts or not chain.ends:
        return end_words(chain.wanted) if chain.wanted else _missing_port(chain)
    if _too_much_for_a_battery(chain, kit):
        return charge_controller(kit.label(chain.starts[0]), kit.label(chain.ends[0]))
    gap = gap_between(chain, kit, net)
    if gap is None:
        full = chain.ends[0] if _Reach(chain, kit, net, True).free() else chain.starts[0]
        told = _("a splitter for {role} at {port}, which is joined already")
        return told.format(role=_(chain.role), port=kit.label(full))
    return piece_between(*gap, kit)


def _missing_port(chain: Chain) -> str:
    item = chain.start if not chain.starts else chain.end
    return _("a port for {role} at {item}").format(role=_(chain.role), item=end_words(item))


def _too_much_for_a_battery(chain: Chain, kit: Kit) -> bool:
    """Whether a lead from what charges to a battery would not do, and the kit has no charger to stand between."""
    start, end = chain.starts[0], chain.ends[0]
    pair = ((kit.items[port.item], port) for port in (start, end))
    chargers = (item for item in kit.items.values() if item.class_ == "charger" and item.spare_of is None)
    return charges(*pair) and over_a_battery(start, end) and not any(item.with_role("DC") for item in chargers)


def gap_between(chain: Chain, kit: Kit, net: Net) -> tuple[Port, Port] | None:
    """The two free ports that the missing piece would join; None if the kit has no such two."""
    giving, taking = _Reach(chain, kit, net, True).free(), _Reach(chain, kit, net, False).free()
    pairs = [(one, other) for one in giving for other in taking if one.item != other.item]
    pairs = [pair for pair in pairs if not kit.mates.fit(*pair)] or pairs
    return min(pairs, key=lambda pair: _distance(pair, giving, taking, kit)) if pairs else None


def _distance(pair: tuple[Port, Port], giving: dict[Port, int], taking: dict[Port, int], kit: Kit) -> tuple[bool, int]:
    """An adapter at a cable that is there is less than a whole lead; then the fewest pieces on the way."""
    at_cable = any(kit.items[port.item].class_ in CABLES for port in pair)
    return not at_cable, giving[pair[0]] + taking[pair[1]]


class _Reach:
    """What can be reached from one end of a chain over joints, stated or possible."""

    def __init__(self, chain: Chain, kit: Kit, net: Net, forward: bool) -> None:
        self.kit, self.net, self.forward, self.chain = kit, net, forward, chain
        ports = chain.starts if forward else chain.ends
        self.depth = dict.fromkeys(ports, 0)
        self.ends = set(chain.ends if forward else chain.starts)
        self.items = {port.item for port in ports}

    def free(self) -> dict[Port, int]:
        """Free ports that can be reached -> over how many pieces."""
        waiting = list(self.depth)
        for port in waiting:
            for other in self.next_to(port):
                if other.item in self.items:
                    continue
                self.items.add(other.item)
                inner = self.net.exits(other) if self.forward else self.net.entrances(other)
                for found in inner:
                    self.depth[found] = self.depth[port] + 1
                    waiting.append(found)
        return {port: depth for port, depth in self.depth.items() if self.net.across(port) is None}

    def next_to(self, port: Port) -> Iterator[Port]:
        across = self.net.across(port)
        if across is not None:
            yield across[0]
        else:
            yield from (other for other in self.candidates() if self.kit.mates.fit(port, other))

    def candidates(self) -> Iterable[Port]:
        """Free ports of cables that may be put between; devices are not put into a chain that has no use for them."""
        for other in self.kit.ports.values():
            item = self.kit.items[other.item]
            is_cable = item.class_ in CABLES and item.spare_of is None
            if is_cable and other.role == self.chain.role and self.net.across(other) is None:
                yield other
