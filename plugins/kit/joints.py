"""Joints: two ports that are joined, as stated or as inferred, and the net that they make."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from afield.core.api import Origin, _, frozen
from afield.plugins.kit.model import End, Item, Kit, Port


@frozen
class Joint:
    """Two ends that are joined.

    Attributes:
        one, other: an end without a port belongs to an item whose ports are not known.
        inferred: joined because exactly one way fits, not because it is stated.
        origin: where it is stated.

    """

    one: End
    other: End
    inferred: bool = False
    origin: Origin | None = None

    @property
    def key(self) -> str:
        """Unique in the kit."""
        return f"{self.one.address}/{self.other.address}"

    @property
    def blank(self) -> Item | None:
        """An item of it whose ports are not known."""
        return next((end.item for end in (self.one, self.other) if end.port is None), None)

    @property
    def ports(self) -> tuple[Port, ...]:
        """Its ports as far as they are known."""
        return tuple(end.port for end in (self.one, self.other) if end.port is not None)

    @property
    def words(self) -> str:
        """In words."""
        return joined_words(self.one.written, self.other.written)


def joined_words(one: str, other: str) -> str:
    """Two ports that are joined, or two connectors that go into each other."""
    return _("{one} to {other}").format(one=one, other=other)


class Net:
    """The joints of a kit, and how to walk along them.

    Attributes:
        items: of the kit.
        joints: in their order.
        blind: keys of the ports that are joined to an item whose ports are not known.

    """

    def __init__(self, kit: Kit, joints: Iterable[Joint]) -> None:
        self.items: Mapping[str, Item] = kit.items
        self.joints = list(joints)
        self.blind = {joint.ports[0].key for joint in self.joints if len(joint.ports) == 1}
        self._joined = {}
        for joint in self.joints:
            if len(joint.ports) == 2:
                one, other = joint.ports
                self._joined[one.key] = (other, joint)
                self._joined[other.key] = (one, joint)

    def across(self, port: Port) -> tuple[Port, Joint] | None:
        """The port on the other side, and the joint; None if it is free."""
        return self._joined.get(port.key)

    def exits(self, port: Port) -> Iterator[Port]:
        """Ports by which what went in at a port comes out of its item."""
        for other in self.items[port.item].with_role(port.role):
            if other.gives and other.key != port.key:
                yield other

    def entrances(self, port: Port) -> Iterator[Port]:
        """Ports by which what comes out at a port went into its item."""
        for other in self.items[port.item].with_role(port.role):
            if other.takes and other.key != port.key:
                yield other

    def behind(self, port: Port) -> list[Port]:
        """Ports of devices at which the net ends behind a port: it goes through cables, and ends at a device.

        A device gives or takes there, so it decides what flows: the port itself, if it is a device's.
        """
        found: list[Port] = []
        waiting, seen = [port], {port.key}
        for current in waiting:
            if current.direction != "both":
                found.append(current)
                continue
            for inner in self.items[current.item].with_role(current.role):
                across = self.across(inner)
                if inner.key not in seen and inner.direction == "both":
                    seen.add(inner.key)
                    waiting += [across[0]] if across and across[0].key not in seen else []
        return found
