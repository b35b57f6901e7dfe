"""What a kit states of an item, with how far each figure can be relied on."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from typing import Any

from afield.core.api import CannotTell, Subject, _, amount_in, frozen, local_digits, marked, slug

Undecided = Sequence[Mapping[str, Any]]
"""The fact `kit.undecided`."""
ORIGINS = {
    "current": marked("current of {name}"), "draw": marked("draw of {name}"), "capacity": marked("capacity of {name}"),
    "contacts": marked("contacts of {name}"), "draw while working": marked("draw while working of {name}"),
}  # fmt: skip
"""What a figure is -> the origin of its error, by which errors are told apart."""
OWN, TYPICAL = 0.05, 0.2
"""95 %, of a figure: as the user wrote it, and as the catalogue has it."""
OWN_NOTE = marked("Figures of the kit are taken as good to ± 5 % (95 %; common practice, no source).")
TYPICAL_NOTE = marked(
    "Figures of the catalogue are typical, taken as good to ± 20 % (95 %; common practice, no source)."
)
COMMON = marked("common practice, no source")
THE_KIT = marked("the kit")
ONE_VOLTAGE = 0.15
"""How far a port takes a voltage beside the one that is stated of it (schema of the kit)."""


@frozen
class Figure:
    """A number with its 95 % half-width, the origin of its error, and what the reader must know of it."""

    value: float
    around: float
    origin: str
    notes: tuple[str, ...] = ()


@frozen
class Thing:
    """An item of the kit as another plugin may see it.

    Attributes:
        key: without its kind, `dc-lead`.
        name: as written.
        class_: what it is; None if that is not stated.
        data: all that is stated of it, quantities as text.
        where: the file, for what to supply.

    """

    key: str
    name: str
    class_: str | None = None
    data: Mapping[str, Any] = field(default_factory=dict)
    where: str = THE_KIT

    def typical(self, key: str) -> bool:
        """Whether what is stated under a key, or as one figure of a group (`battery.usable`), is the catalogue's."""
        typical = self.data.get("typical", ())
        return key in typical or key.partition(".")[0] in typical

    def part(self, key: str) -> Mapping[str, Any]:
        """An object of its description; empty where it has none."""
        found: Mapping[str, Any] = self.data.get(key, {})
        return found

    def port(self, name: str) -> Mapping[str, Any]:
        """One of its ports as described; empty where it is not."""
        return next((port for port in self.data.get("ports", ()) if port["name"] == name), {})

    def has_port(self, role: str, direction: str) -> bool:
        """Whether a port of a role and a direction is described."""
        return any(
            (port.get("role"), port.get("direction")) == (role, direction) for port in self.data.get("ports", ())
        )

    @property
    def spare(self) -> bool:
        """Whether it is only there to take another's place."""
        return "spare_of" in self.data

    def silent(self, sentence: str, key: str, **places: str) -> CannotTell:
        """That something of it is not stated, and what to supply.

        Args:
            sentence: what is not stated, with a place for its {name}; in English.
            key: of what to supply.
            places: what further places of the sentence are filled with.

        """
        text = _(sentence).format(name=self.name, **places)
        return CannotTell(text, self.settle(key), "not stated", f"item:{self.key}")

    def settle(self, key: str) -> str:
        """What to supply of it, and in which file."""
        file = _(THE_KIT) if self.where == THE_KIT else self.where
        return _("{key} of {name} in {file}").format(key=key, name=self.name, file=file)

    def figure(self, what: str, value: float, key: str, own: float = OWN, typical: float = TYPICAL) -> Figure:
        """A stated number with the uncertainty of its kind; shares of it."""
        share, note = (typical, TYPICAL_NOTE) if self.typical(key) else (own, OWN_NOTE)
        notes = (_(note),) if (own, typical) == (OWN, TYPICAL) else ()
        return Figure(value, share * abs(value), ORIGINS[what].format(name=self.name), notes)


def thing_of(subject: Subject) -> Thing:
    """The item that a subject stands for."""
    where = subject.origin.document.name if subject.origin else THE_KIT
    return Thing(subject.key.partition(":")[2], subject.label, subject.data.get("class"), subject.data, where)


def things_of(kit_things: Mapping[str, Any]) -> dict[str, Thing]:
    """Every item of the kit, by key."""
    return {
        key: Thing(key, thing["name"], thing["class"], thing["data"], thing.get("file", THE_KIT))
        for key, thing in kit_things.items()
    }


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


def number(value: float, form: str = "g") -> str:
    """A number as it is printed in a sentence: formatted, with the decimal sign of the language spoken."""
    return local_digits(f"{value:{form}}")


def same_item(written: str, thing: Thing) -> bool:
    """Whether a name that somebody wrote means the item."""
    return slug(written) == thing.key


def voltages(port: Mapping[str, Any]) -> tuple[float, float] | None:
    """Lowest and highest voltage of a port in V; one voltage stands for both."""
    stated = port.get("volts")
    if stated is None:
        return None
    ends = [stated, stated] if isinstance(stated, str) else stated
    return amount_in(ends[0], "V"), amount_in(ends[1], "V")


@frozen
class Evaluated:
    """A value, what each origin adds to its uncertainty, and notes."""

    value: float
    parts: Mapping[str, float]
    notes: tuple[str, ...] = ()


def evaluated(function: Callable[[Mapping[str, float]], float], figures: Mapping[str, Figure]) -> Evaluated:
    """The function's value at the figures, and what the error of each does to it.

    Source: JCGM 100:2008, 5.1.3, note 2 (one input changed at a time); the greater of the two changes counts.

    Args:
        function: of values by origin.
        figures: by origin.

    """
    values = {origin: figure.value for origin, figure in figures.items()}
    value = function(values)
    parts = {}
    for origin, figure in figures.items():
        if figure.around:
            above = function({**values, origin: figure.value + figure.around}) - value
            below = value - function({**values, origin: figure.value - figure.around})
            parts[origin] = above if abs(above) >= abs(below) else below
    return Evaluated(value, {origin: part for origin, part in parts.items() if part}, notes_of(figures))


def notes_of(figures: Mapping[str, Figure]) -> tuple[str, ...]:
    """Every note of the figures once, in order."""
    return tuple(dict.fromkeys(note for figure in figures.values() for note in figure.notes))
