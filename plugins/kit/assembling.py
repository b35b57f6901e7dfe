"""All kit files of a plan as one kit: items, spares, connections and chains, each name looked up in all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from afield.core.api import Document, InputError, Origin, Problem, _, did_you_mean, quoted_list, slug
from afield.plugins.kit.chains import chain_between, default_chains
from afield.plugins.kit.charging import charges, charging_nothing
from afield.plugins.kit.connectors import Connectors
from afield.plugins.kit.items import ItemReader
from afield.plugins.kit.loops import loops
from afield.plugins.kit.model import Chain, Connection, End, Item, Kit
from afield.plugins.kit.modes import planned_families
from afield.plugins.kit.reading import kit_documents


def kit_of(plan: Document, folder: Path | None) -> Kit:
    """The kit of a plan; one without kit files has no items.

    Raises:
        InputError: anything that the files or the plan say wrongly about it; every problem found is listed.

    """
    documents = tuple(kit_documents(plan, folder or plan.folder or Path()))
    # What is found of a kit is kept in words, so a kit of one language does not serve in another.
    return _assembled(plan, documents, _("the kit"))


@lru_cache(maxsize=8)
def _assembled(plan: Document, documents: tuple[Document, ...], spoken: str) -> Kit:
    """The same documents (by identity) are assembled once; subjects and facts both ask for them."""
    assembler = Assembler([*documents, plan])
    kit = assembler.kit(documents)
    if assembler.problems:
        raise InputError(assembler.problems)
    return kit


def own_connectors(documents: Iterable[Document]) -> tuple[Connectors, list[Problem]]:
    """The connectors that kit files bring, and those that are another name of an unknown one."""
    written = {
        name: (document, entry) for document in documents for name, entry in document.data.get("connectors", {}).items()
    }
    connectors = Connectors({name: entry for name, (_, entry) in written.items()})
    problems = []
    for name, (document, entry) in written.items():
        for key, other in [("is", entry.get("is")), *(("mates", mate) for mate in entry.get("mates", ()))]:
            if other is not None and other not in connectors.names:
                what = f"{other} is no known connector"
                problems.append(document.problem(("connectors", name, key), what, connectors.advice(other)))
    return connectors, problems


def _charging(connection: Connection) -> bool:
    """Whether one end charges the battery at the other."""
    one, other = ((end.item, end.port) for end in (connection.one, connection.other))
    if one[1] is None or other[1] is None:
        return False
    sides = (one[0], one[1]), (other[0], other[1])
    return charges(*sides) or charges(sides[1], sides[0])


@dataclass
class Assembler:
    """Puts the documents together; what is wrong is added to `problems`."""

    documents: list[Document]
    problems: list[Problem] = field(default_factory=list)
    items: dict[str, Item] = field(default_factory=dict)

    def kit(self, files: tuple[Document, ...]) -> Kit:
        """The kit, of use only if there are no problems."""
        connectors, self.problems = own_connectors(files)
        for document in files:
            reader = ItemReader(document, connectors, self.problems)
            self.add_items(reader.items())
        self.refuse_unknown_spares()
        self.problems += charging_nothing(self.items)
        ports = {port.key: port for item in self.items.values() for port in item.ports or ()}
        connections = tuple(self.connections())
        chains = tuple(self.chains()) or tuple(default_chains(self.items, planned_families(self.documents[-1].data)))
        self.problems += loops(connections)
        return Kit(self.items, connectors, connections, chains, files, ports)

    def add_items(self, items: Iterable[Item]) -> None:
        """Take up the items of a file."""
        for item in items:
            first = self.items.setdefault(item.key, item)
            if first is not item:
                alike = "" if first.name == item.name else " Capitals, spaces and punctuation do not tell names apart."
                advice = f"The first is at {first.origin.place()}.{alike} Keep one of the two, or name another."
                self.add(item.origin, ("name",), f"a second item {item.name}", advice)

    def refuse_unknown_spares(self) -> None:
        """Refuse a spare of an item that is not there, or of itself."""
        for item in self.items.values():
            if item.spare_of is None or (item.spare_of in self.items and item.spare_of != item.key):
                continue
            name = item.data["spare_of"]
            itself = item.spare_of == item.key
            what = "an item cannot be a spare of itself" if itself else f"there is no item {name} to be a spare of"
            advice = "Name the item that it takes the place of." if itself else self.other_item(name)
            self.add(item.origin, ("spare_of",), what, advice)

    def other_item(self, name: str) -> str:
        """Advice on an unknown name."""
        names = [item.name for item in self.items.values()]
        if not names:
            return "The plan names no kit file; add one, such as kit: [kit/low-power.yaml]."
        guess = did_you_mean(name, names)
        return f'Did you mean "{guess}"?' if guess else f"The kit has {quoted_list(names)}."

    def connections(self) -> Iterator[Connection]:
        """The connections of all documents."""
        used: dict[str, Origin] = {}
        pairs: dict[tuple[str, str], Origin] = {}
        for origin, written in self.written("connections"):
            ends = [self.end(origin, (index,), text, True) for index, text in enumerate(written)]
            if ends[0] is None or ends[1] is None:
                continue
            connection = Connection(ends[0], ends[1], origin)
            self.refuse_used(connection, used)
            self.refuse_twice(connection, pairs)
            self.refuse_outputs(connection)
            yield connection

    def written(self, section: str) -> Iterator[tuple[Origin, Any]]:
        """Each entry of a section of any document."""
        for document in self.documents:
            for index, entry in enumerate(document.data.get(section, ())):
                yield Origin(document, (section, index), document.folder), entry

    def end(self, origin: Origin, at: tuple[str | int, ...], text: str, one_port: bool) -> End | None:
        """The item, and the port, that a text names; None if it names none."""
        name, dot, port_name = text.rpartition(".")
        item = self.items.get(slug(name)) if dot else None
        whole = self.items.get(slug(text))
        if item is None and whole is not None:
            return self.whole(origin, at, whole, text, one_port)
        if item is None:
            unknown = name if dot else text
            self.add(origin, at, f"there is no item {unknown} in the kit", self.other_item(unknown))
            return None
        port = next((port for port in item.ports or () if port.name == port_name), None)
        if port is None and item.ports is not None:
            self.refuse_port(origin, at, item, port_name)
            return None
        return End(item, port, text)

    def whole(self, origin: Origin, at: tuple[str | int, ...], item: Item, text: str, one_port: bool) -> End | None:
        """An item named without a port: in a connection it must have one port, or unknown ones."""
        if not one_port or item.ports is None:
            return End(item, None, text)
        if len(item.ports) != 1:
            ports = quoted_list(f"{item.name}.{port.name}" for port in item.ports)
            advice = f"Write one of {ports}." if item.ports else "Join another item, or give it a port."
            counted = len(item.ports) or "no"
            self.add(origin, at, f"{item.name} has {counted} ports; a connection joins one", advice)
            return None
        return End(item, item.ports[0], f"{text}.{item.ports[0].name}")

    def refuse_port(self, origin: Origin, at: tuple[str | int, ...], item: Item, name: str) -> None:
        """Refuse a port that the item does not have."""
        names = [port.name for port in item.ports or ()]
        guess = did_you_mean(name, names)
        known = f"Its ports are {quoted_list(names)}." if names else "It has none."
        advice = f'Did you mean "{item.name}.{guess}"?' if guess else known
        self.add(origin, at, f"{item.name} has no port {name}", advice)

    def refuse_used(self, connection: Connection, used: dict[str, Origin]) -> None:
        """Refuse a port that is joined already."""
        for index, end in enumerate((connection.one, connection.other)):
            if end.address == end.item.key:
                continue  # an item without known ports, and none named: it may have any number
            first = used.setdefault(end.address, connection.origin)
            if first is not connection.origin or (index and connection.one.address == end.address):
                what = f"the port {end.written} is used twice"
                advice = f"It is joined at {first.place()} already. Remove one, or put a splitter between."
                self.add(connection.origin, (index,), what, advice)

    def refuse_twice(self, connection: Connection, pairs: dict[tuple[str, str], Origin]) -> None:
        """Refuse a second connection of two items of which no ports are named."""
        pair = connection.one.address, connection.other.address
        first = pairs.setdefault(pair, connection.origin)
        if first is not connection.origin and pair == (connection.one.item.key, connection.other.item.key):
            what = f"a second connection from {connection.one.written} to {connection.other.written}"
            self.add(connection.origin, (), what, f"The first is at {first.place()}. Remove one, or name the ports.")

    def refuse_outputs(self, connection: Connection) -> None:
        """Refuse to join two outputs."""
        ports = [end.port for end in (connection.one, connection.other)]
        if _charging(connection):
            return
        if all(port is not None and port.direction == "source" for port in ports) and ports[0] != ports[1]:
            names = [f"{end.item.name}.{end.port.name}" for end in (connection.one, connection.other) if end.port]
            what = f"{names[0]} and {names[1]} are both outputs"
            self.add(connection.origin, (), what, "Join an output to an input.")

    def chains(self) -> Iterator[Chain]:
        """The chains of all documents."""
        seen: dict[str, Origin] = {}
        for origin, written in self.written("chains"):
            start = self.end(origin, ("from",), written["from"], False)
            end = self.end(origin, ("to",), written["to"], False)
            if start is None or end is None or self.refuse_role(origin, written["role"], start, end):
                continue
            chain = chain_between(written["role"], start, end, origin)
            first = seen.setdefault(chain.key, origin)
            if first is not origin:
                self.add(origin, (), f"a second chain {chain.title}", f"The first is at {first.place()}. Remove one.")
            yield chain

    def refuse_role(self, origin: Origin, role: str, start: End, end: End) -> bool:
        """Refuse an end through which something else goes."""
        before = len(self.problems)
        for at, one in (("from", start), ("to", end)):
            if one.port is not None and one.port.role != role:
                what = f"{role} does not go through {one.written}: it is a port for {one.port.role}"
                self.add(origin, (at,), what, f"Name a port for {role}.")
            elif one.port is None and one.item.ports is not None and not one.item.with_role(role):
                self.add(origin, (at,), f"{one.item.name} has no port for {role}", "Name another item, or give it one.")
        return len(self.problems) > before

    def add(self, origin: Origin, at: tuple[str | int, ...], what: str, advice: str) -> None:
        """Note a problem."""
        self.problems.append(origin.document.problem((*origin.path, *at), what, advice))
