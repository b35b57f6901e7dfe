"""Items of the kit as this plugin reads them: what is stated, how well it is known, and how to ask for what is not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from typing import Any

from afield.core.api import CannotTell, Subject, _, amount_in, frozen
from afield.plugins.radio.figures import OWN, TYPICAL, Figure

Undecided = Sequence[Mapping[str, Any]]
"""The fact `kit.undecided`."""


@frozen
class Thing:
    """One item of the kit.

    Attributes:
        key: of its subject, without "item:".
        data: all that is stated of it, quantities as text.
        file: where it is written, for the reader; "" where that is not known.

    """

    key: str
    name: str
    class_: str | None = None
    data: Mapping[str, Any] = field(default_factory=dict)
    file: str = ""

    @property
    def tunes(self) -> bool:
        """Whether it matches what follows to what comes before it."""
        return self.class_ == "tuner" or "tunes" in self.data.get("features", ())

    def is_one(self, class_: str) -> bool:
        """Whether it is of the class, by its word or by the group of figures that only the class has."""
        return self.class_ == class_ or bool(self.of(class_))

    @property
    def spare(self) -> bool:
        """Whether it is only there to replace another."""
        return "spare_of" in self.data

    def of(self, group: str) -> Mapping[str, Any]:
        """A group of figures, such as `amplifier`; empty where nothing is stated."""
        found = self.data.get(group)
        return found if isinstance(found, Mapping) else {}

    def ports(self, role: str, direction: str) -> list[Mapping[str, Any]]:
        """Its ports of a role and a direction."""
        ports = self.data.get("ports", ())
        return [port for port in ports if port.get("role") == role and port.get("direction") == direction]

    def share(self, group: str) -> float:
        """How well the figures of a group are known, as a share of each (95 %)."""
        return TYPICAL if self.typical(group) else OWN

    def typical(self, key: str) -> bool:
        """Whether a group, or one figure of it such as `amplifier.gain`, is the catalogue's."""
        typical = self.data.get("typical", ())
        return key in typical or key.partition(".")[0] in typical

    def figure(self, group: str, written: str, unit: str, origin: str) -> Figure:
        """A stated quantity of a group, with what it may be off."""
        value = amount_in(written, unit)
        return Figure(value, self.share(group) * value, origin)

    def lacking(self, sentence: str, path: str) -> CannotTell:
        """That a figure is not stated, by a marked sentence about {name}, and where to write it."""
        text = _(sentence).format(name=self.name)
        return CannotTell(text, self.written_at(path), "not stated", f"item:{self.key}")

    def written_at(self, path: str) -> str:
        """Where a figure of it is to be written, in words."""
        return _("{path} of {name} in {file}").format(path=path, name=self.name, file=self.file or _("its kit file"))


def things_of(kit_things: Mapping[str, Mapping[str, Any]]) -> dict[str, Thing]:
    """The items by key, from the fact `kit.things`."""
    return {key: _thing(key, told) for key, told in kit_things.items()}


def _thing(key: str, told: Mapping[str, Any]) -> Thing:
    data = told.get("data") or {}
    return Thing(key, str(told["name"]), told.get("class") or data.get("class"), data, told.get("file", ""))


def decided(found: bool, undecided: Undecided, subject: Subject, role: str, *sides: str) -> bool:
    """What was found of an item, unless it may yet be otherwise: a chain that it may be part of is not decided.

    Args:
        found: whether it is so by the ways that are known.
        undecided: the fact `kit.undecided`.
        subject: the item.
        role: of the chains that matter.
        sides: "from", "to", "through": as what it would have to be part of one.

    Raises:
        CannotTell: it is not so yet, and may be.

    """
    key = subject.key.partition(":")[2]
    for chain in () if found else undecided:
        if chain["role"] == role and any(key in chain[side] for side in sides):
            raise CannotTell(chain["why"], chain["settle"], "applicability", chain["chain"])
    return found
