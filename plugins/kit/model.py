"""A kit as it was read: items with their ports, what is joined, and which ways must be complete."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import Any

from afield.core.api import Document, Origin, _, frozen, slug
from afield.plugins.kit.words import end_words, key_of


def plug_words(connector: str, gender: str | None) -> str:
    """A connector with its gender, if it has one."""
    said = {"male": _("{connector} male"), "female": _("{connector} female")}
    return said[gender].format(connector=connector) if gender else connector


@frozen
class Port:
    """Where a plug goes.

    Attributes:
        item, name: key of the item, and the port's name in it.
        connector: its name in the catalogue.
        gender: "male" or "female"; None for a connector that has none.
        direction: "source", "sink" or "both".
        volts: lowest and highest, V.
        amperes: A.
        watts_peak, watts_average: W, the average over `averaging` minutes.

    """

    item: str
    name: str
    connector: str
    gender: str | None
    role: str
    direction: str
    volts: tuple[float, float] | None = None
    amperes: float | None = None
    watts_peak: float | None = None
    watts_average: float | None = None
    averaging: float | None = None
    logic_level: str | None = None
    polarity: str | None = None

    @property
    def key(self) -> str:
        """Unique in the kit: `radio.antenna`."""
        return f"{self.item}.{self.name}"

    @property
    def gives(self) -> bool:
        """Whether something may come out of it."""
        return self.direction != "sink"

    @property
    def takes(self) -> bool:
        """Whether something may go into it."""
        return self.direction != "source"

    @property
    def kind(self) -> str:
        """Connector and gender in words."""
        return plug_words(self.connector, self.gender)

    @property
    def shape(self) -> tuple[Any, ...]:
        """All but its name: two ports of one item and shape serve alike."""
        figures = (self.volts, self.amperes, self.watts_peak, self.watts_average, self.logic_level, self.polarity)
        return (self.item, self.connector, self.gender, self.role, self.direction, *figures)


@frozen(eq=False)
class Item:
    """One thing in the bag.

    Attributes:
        key: slug of the name, unique in the kit.
        data: what is stated of it, the catalogue's included.
        ports: None where nothing is known of them.
        features: None where nothing is known of them.
        spare_of: key of another item.
        catalogue: whether the mass is the catalogue's.
        origin: where it was written.

    """

    key: str
    name: str
    data: Mapping[str, Any]
    origin: Origin
    ports: tuple[Port, ...] | None = None
    features: tuple[str, ...] | None = None
    spare_of: str | None = None
    catalogue: bool = False

    @property
    def class_(self) -> str | None:
        """What it is; None if that is not stated."""
        return self.data.get("class")

    @property
    def stores(self) -> bool:
        """Whether it is or has a battery."""
        return self.class_ == "battery" or "battery" in self.data

    def with_role(self, role: str) -> tuple[Port, ...]:
        """Its known ports of a role."""
        return tuple(port for port in self.ports or () if port.role == role)

    @property
    def supply_ports(self) -> str:
        """What to state of it where its ports are not known, and where."""
        return key_of("ports", self.name, self.origin.document.name)


@frozen
class End:
    """An end of a connection or a chain as written: an item, and a port of it if one is named and known."""

    item: Item
    port: Port | None
    written: str

    @property
    def address(self) -> str:
        """Key of the port; of a port that is not known, as it is written."""
        if self.port is not None:
            return self.port.key
        named = slug(self.written) != self.item.key
        return f"{self.item.key}.{slug(self.written.rpartition('.')[2])}" if named else self.item.key


@frozen
class Connection:
    """Two ports that somebody joined."""

    one: End
    other: End
    origin: Origin


@frozen(eq=False)
class Chain:
    """A way that must be complete.

    Attributes:
        key: unique; `rf/radio/antenna`.
        starts, ends: ports at which it may begin and end; empty where the kit has none.
        unknown_starts, unknown_ends: items at which it may begin and end, and whose ports are not known.
        start, end: in words.
        wanted: what is needed where the kit has no such end, such as "an antenna".
        serves: the outing goes on without it, unless another chain needs the item at its end: that is a converter,
            which is of use only to what it feeds, or has a battery of its own.
        beside: the outing goes on without it, whatever hangs on the item at its end: it charges a battery, or serves
            no planned mode.

    """

    key: str
    role: str
    start: str
    end: str
    starts: tuple[Port, ...]
    ends: tuple[Port, ...]
    unknown_starts: tuple[Item, ...] = ()
    unknown_ends: tuple[Item, ...] = ()
    wanted: str = ""
    origin: Origin | None = None
    serves: bool = False
    beside: bool = False

    @property
    def unknown(self) -> tuple[Item, ...]:
        """Items at either end whose ports are not known; the one that the chain is for comes first."""
        ends = self.unknown_starts, self.unknown_ends
        return (*ends[0], *ends[1]) if self.wanted in ("", self.end) else (*ends[1], *ends[0])

    @property
    def title(self) -> str:
        """In words."""
        ends = {"start": end_words(self.start), "end": end_words(self.end)}
        return _("{role} from {start} to {end}").format(role=_(self.role), **ends)


@frozen(slots=False, eq=False)
class Kit:
    """All kit files of a plan together."""

    items: Mapping[str, Item]
    mates: Any
    connections: tuple[Connection, ...] = ()
    chains: tuple[Chain, ...] = ()
    files: tuple[Document, ...] = ()
    ports: Mapping[str, Port] = field(default_factory=dict)

    def label(self, port: Port) -> str:
        """A port in words: the item's name as written, and the port's."""
        return f"{self.items[port.item].name}.{port.name}"
