"""Entries of a kit file -> items: the catalogue's figures under the written ones, quantities in SI units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from afield.core.api import Document, Origin, Problem, amount_in, did_you_mean, quoted_list, slug
from afield.plugins.kit.catalogue import catalogue_item, item_names
from afield.plugins.kit.connectors import Connectors
from afield.plugins.kit.figure_checks import wrong_figures
from afield.plugins.kit.model import Item, Port

Path = tuple[str | int, ...]
DUE = ("connector", "role", "direction")
FIGURES = {"amperes": "A", "watts_peak": "W", "watts_average": "W", "averaging": "min"}
GROUPS = ("battery", "transmitter", "amplifier", "converter", "antenna", "solar")
"""Groups of figures that can be written in part, over those of the catalogue's item."""
OF_A_NOMINAL = 0.15
"""How far, of itself, a sink's one stated voltage may be missed: 13.8 V stands for 11.7 to 15.9 V (common practice)."""


@dataclass
class ItemReader:
    """Makes the items of one kit file; what is wrong is added to `problems`."""

    document: Document
    connectors: Connectors
    problems: list[Problem] = field(default_factory=list)

    def items(self) -> list[Item]:
        """The items in their order, without those that nothing can be made of."""
        return [self.item(index) for index in range(len(self.document.data["items"]))]

    def item(self, index: int) -> Item:
        """The item at an index."""
        path: Path = ("items", index)
        written = self.document.value(path)
        own = {"name": written} if isinstance(written, str) else written
        base = self.base(own, path)
        data = {**base, **own, **merged_groups(base, own), **_typical(base, own)}
        key = slug(data["name"])
        if "ports" in data:
            data["ports"] = merged_ports(base.get("ports", ()), own.get("ports", ()))
        ports = tuple(self.ports(key, data, path)) if "ports" in data else None
        for at, what, advice in wrong_figures(data, own):
            self.add((*path, *at), what, advice)
        return Item(
            key, data["name"], data, Origin(self.document, path, self.document.folder), ports,
            tuple(data["features"]) if "features" in data else None,
            slug(data["spare_of"]) if "spare_of" in data else None, "mass" in base and "mass" not in own,
        )  # fmt: skip

    def base(self, own: Mapping[str, Any], path: Path) -> Mapping[str, Any]:
        """What the catalogue says of it."""
        if "is" not in own:
            return {}
        try:
            return catalogue_item(own["is"])
        except KeyError:
            guess = did_you_mean(own["is"], item_names())
            advice = f'Did you mean "{guess}"?' if guess else f"The catalogue has {quoted_list(item_names(), 100)}."
            self.add((*path, "is"), f"the catalogue has no item {own['is']}", advice)
            return {}

    def ports(self, item: str, data: Mapping[str, Any], path: Path) -> list[Port]:
        """Its ports, without those that nothing can be made of."""
        own = [port["name"] for port in _written_ports(self.document.value(path))]
        for index, name in enumerate(own):
            if name in own[:index]:
                self.add((*path, "ports", index), f"a second port {name}", "Name it otherwise.")
        made = (self.port(item, port, self.port_path(path, own, port["name"])) for port in data["ports"])
        return [port for port in made if port is not None]

    def port_path(self, path: Path, own: list[str], name: str) -> Path:
        """Where a port was written; the catalogue's, where the item is."""
        return (*path, "ports", own.index(name)) if name in own else path

    def port(self, item: str, data: Mapping[str, Any], path: Path) -> Port | None:
        """One port, None if something is wrong with it."""
        missing = next((key for key in DUE if key not in data), None)
        if missing:
            example = {"connector": "BNC", "role": "RF", "direction": "source"}[missing]
            self.add(path, f"the port {data['name']} has no {missing}", f"Add it, for example: {missing}: {example}")
            return None
        plug = self.plug(data, path)
        if plug is None:
            return None
        figures: dict[str, Any] = {name: amount_in(data[name], unit) for name, unit in FIGURES.items() if name in data}
        words = {name: data[name] for name in ("logic_level", "polarity") if name in data}
        connector, gender = plug
        return Port(
            item, data["name"], connector, gender, data["role"], data["direction"], self.volts(data, path),
            **figures, **words,
        )  # fmt: skip

    def plug(self, data: Mapping[str, Any], path: Path) -> tuple[str, str | None] | None:
        """Connector and gender."""
        try:
            proper, implied = self.connectors.found(data["connector"])
        except KeyError:
            name = data["connector"]
            self.add((*path, "connector"), f"{name} is no known connector", self.connectors.advice(name))
            return None
        gender = data.get("gender", implied)
        gendered = self.connectors.gendered(proper)
        if gendered and gender is None:
            self.add(path, f"the {proper} port {data['name']} has no gender", "Add gender: male, or gender: female.")
            return None
        if implied and gender != implied:
            what = f"a {data['connector']} is {implied}, not {gender}"
            self.add((*path, "gender"), what, "Remove the gender, or name the other connector.")
            return None
        return proper, gender if gendered else None

    def volts(self, data: Mapping[str, Any], path: Path) -> tuple[float, float] | None:
        """Lowest and highest volts; a cable bears all from 0."""
        if "volts" not in data:
            return None
        written = data["volts"]
        ends = written if isinstance(written, list) else [written, written]
        low, high = (amount_in(end, "V") for end in ends)
        if low > high:
            self.add((*path, "volts"), f"the voltages {ends[0]} to {ends[1]} fall", "Write the lowest first.")
        if data["direction"] == "both":
            return 0.0, high
        around = OF_A_NOMINAL if data["direction"] == "sink" and data["role"] == "DC" and low == high else 0.0
        return low * (1 - around), high * (1 + around)

    def add(self, path: Path, what: str, advice: str) -> None:
        """Note a problem."""
        self.problems.append(self.document.problem(path, what, advice))


def merged_groups(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """Groups of figures of which some are written: those over the catalogue's, unless it is of another chemistry."""
    both = [name for name in GROUPS if name in base and name in own and not _of_other_chemistry(base[name], own[name])]
    return {name: {**base[name], **own[name]} for name in both}


def _of_other_chemistry(base: Mapping[str, Any], own: Mapping[str, Any]) -> bool:
    return "chemistry" in own and own["chemistry"] != base.get("chemistry")


def _typical(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, list[str]]:
    """The names of what the catalogue alone says of an item: `loads`, or one figure of a group, `battery.nominal`."""
    figures = [
        f"{name}.{figure}" for name in merged_groups(base, own) for figure in base[name].keys() - own[name].keys()
    ]
    return {"typical": sorted([*(base.keys() - own.keys()), *figures])} if base else {}


def _written_ports(written: Any) -> list[Mapping[str, Any]]:
    return list(written.get("ports", ())) if isinstance(written, Mapping) else []


def merged_ports(base: Any, own: Any) -> list[dict[str, Any]]:
    """The catalogue's ports, each with what is written of a port of its name, and then the further ones."""
    written = {port["name"]: port for port in own}
    changed = [{**port, **written.get(port["name"], {})} for port in base]
    names = {port["name"] for port in base}
    return changed + [dict(port) for port in own if port["name"] not in names]
