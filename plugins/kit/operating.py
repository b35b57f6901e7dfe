"""Chains that follow from what is in the bag and from the mode: a key, a microphone or a computer to the radio."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from afield.core.api import marked
from afield.plugins.kit.model import Chain, Item, Port
from afield.plugins.kit.modes import DATA, MORSE, VOICE
from afield.plugins.kit.words import CABLES

BUILT_IN = "built-in microphone"


class Means(NamedTuple):
    """What a radio is worked with.

    Attributes:
        family: of the modes that need it.
        role: what goes to the radio.
        classes: of the items from which it may come.
        wanted: what is needed, in words.

    """

    family: str
    role: str
    classes: tuple[str, ...]
    wanted: str


COMPUTERS = ("computer", "phone", "interface")
MEANS = (
    Means(MORSE, "keying", ("key", "interface", "computer"), "a key"),
    Means(VOICE, "audio", ("microphone",), "a microphone"),
    Means(DATA, "data", COMPUTERS, "a computer"),
    Means(DATA, "audio", COMPUTERS, "a computer"),
)


class Lacking(NamedTuple):
    """What is said of a radio for which something is lacking, and what would help.

    Attributes:
        port, with_port: the radio has no port for it; a radio that has one.
        piece, piece_for: the kit has none of it; one that fits the radio's port.

    """

    port: str
    with_port: str
    piece: str
    piece_for: str


LACKING = {
    MORSE: Lacking(
        marked("{radio} has no port for a key"), marked("a radio with a port for a key"),
        marked("the kit has no key for {radio}"), marked("a key for {port} ({plug})"),
    ),
    VOICE: Lacking(
        marked("{radio} has no port for a microphone, and no built-in one is stated"),
        marked("a radio with a port for a microphone, or features: [built-in microphone] if {radio} has one"),
        marked("the kit has no microphone for {radio}"), marked("a microphone for {port} ({plug})"),
    ),
    DATA: Lacking(
        marked("{radio} has no port for data or audio"), marked("a radio with a port for data or audio"),
        marked("the kit has no computer for {radio}"), marked("a computer for {port} ({plug})"),
    ),
}  # fmt: skip
"""By the family of the modes that need it."""


def operating_chains(items: Sequence[Item], families: frozenset[str]) -> Iterator[Chain]:
    """The chains from keys, microphones and computers to each radio that has a port for them.

    A computer may be there to keep the log: its chain is due only where a planned mode needs it, or where a lead or an
    interface for it is in the bag.

    Args:
        items: of the kit, without its spares.
        families: what the planned modes need.

    """
    for radio in (item for item in items if item.class_ == "radio"):
        due = [means for means in MEANS if is_due(radio, means, items, families)]
        for means in due:
            others = [other for other in due if other.family == means.family]
            yield chain_to(radio, means, items, means.family not in families or len(others) > 1)


def is_due(radio: Item, means: Means, items: Sequence[Item], families: frozenset[str]) -> bool:
    """Whether a chain follows from what is there."""
    if not (starts_of(means, items) or blank_givers(means, items)):
        return False
    if radio.ports is not None and not ends_of(radio, means):
        return False
    if means.family != DATA:
        return True
    wanted = means.family in families and (means.role == "data" or not ends_of(radio, MEANS[2]))
    return wanted or any(leads(item, means.role) for item in items)


def leads(item: Item, role: str) -> bool:
    """Whether an item of known ports is there to lead something to a radio: a lead, an adapter or an interface."""
    return item.class_ in (*CABLES, "interface") and bool(item.with_role(role))


def chain_to(radio: Item, means: Means, items: Sequence[Item], beside: bool = False) -> Chain:
    """The chain to a radio, from whatever may be its start.

    Args:
        radio: of known or unknown ports.
        means: what it is to be worked with.
        items: of the kit, without its spares.
        beside: the outing goes on without it.

    """
    starts, ends = starts_of(means, items), ends_of(radio, means)
    blank = () if starts and ends else blank_givers(means, items)
    key = f"{means.role}/any.{means.wanted.replace(' ', '-')}/{radio.key}"
    mine = (radio,) if radio.ports is None else ()
    own_microphone = means.family == VOICE and BUILT_IN in (radio.features or ())
    return Chain(
        key, means.role, means.wanted, radio.name, starts, ends, blank, mine, means.wanted,
        beside=beside or own_microphone,
    )  # fmt: skip


def ends_of(radio: Item, means: Means) -> tuple[Port, ...]:
    """Ports of a radio that it may end at."""
    return tuple(port for port in radio.with_role(means.role) if port.takes)


def starts_of(means: Means, items: Sequence[Item]) -> tuple[Port, ...]:
    """Ports at which it may begin; an interface that the same comes into from elsewhere only passes it on."""
    found = [item for item in items if item.class_ in means.classes]
    return tuple(port for item in found for port in item.with_role(means.role) if port.gives and begins(item, port))


def begins(item: Item, port: Port) -> bool:
    """Whether what comes out at a port begins there."""
    others = (other for other in item.with_role(port.role) if other.key != port.key)
    return item.class_ != "interface" or not any(other.takes for other in others)


def blank_givers(means: Means, items: Sequence[Item]) -> tuple[Item, ...]:
    """Items from which it may come, and whose ports are not known."""
    return tuple(item for item in items if item.class_ in means.classes and item.ports is None)
