"""Which items of a kit the planned RF goes through."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, Subject, _, marked
from afield.plugins.radio.things import Thing, Undecided, decided, things_of
from afield.plugins.radio.walks import NOTHING_JOINS, Walk, legs_of, up_to, walks

Ways = Sequence[Mapping[str, Any]]
Things = Mapping[str, Any]
NOT_OF = {"antenna": marked("{name} is no antenna"), "amplifier": marked("{name} is no amplifier")}
"""Class -> what is said of an item that is not of it."""


def thing_of(kit_things: Things, subject: Subject) -> Thing:
    """The item of a subject, with the file that it is written in."""
    told = kit_things[subject.key.partition(":")[2]]
    file = {"file": subject.origin.document.name} if subject.origin else {}
    return things_of({subject.key.partition(":")[2]: {**told, **file}}).popitem()[1]


def of_class(kit_things: Things, subject: Subject, class_: str) -> Thing:
    """The item of a subject.

    Raises:
        CannotTell: it is not of the class, one of `NOT_OF`, so that its question makes no sense.

    """
    thing = thing_of(kit_things, subject)
    if not thing.is_one(class_):
        raise CannotTell(_(NOT_OF[class_]).format(name=thing.name))
    return thing


def all_walks(ways: Ways, kit_things: Things, subject: Subject) -> list[Walk]:
    """Every walk of RF; the subject's item among the items with the file that it is written in."""
    one = thing_of(kit_things, subject)
    return walks(legs_of(ways, {**things_of(kit_things), one.key: one}))


def is_used(ways: Ways, kit_things: Things, undecided: Undecided, subject: Subject, class_: str) -> bool:
    """Whether the item is of the class and RF from a radio reaches it.

    Raises:
        CannotTell: it is of the class, and no radio reaches any antenna, so that it cannot be said what it is for; or
            the chain that it may be part of is not decided.

    """
    thing = thing_of(kit_things, subject)
    if thing.spare or not thing.is_one(class_):
        return False
    found = all_walks(ways, kit_things, subject)
    if up_to(found, thing.key) is not None:
        return True
    decided(False, undecided, subject, "RF", "to", "through")
    if any(walk[-1].target.is_one("antenna") for walk in found):
        return False
    raise CannotTell(_(NOTHING_JOINS).format(name=thing.name), "connections", "not stated", "trip")


def drive_of(ways: Ways, kit_things: Things, subject: Subject) -> Walk:
    """The walk from a radio to the input of an amplifier.

    Raises:
        CannotTell: there is none, or the item is no amplifier.

    """
    of_class(kit_things, subject, "amplifier")
    found = up_to(all_walks(ways, kit_things, subject), subject.key.partition(":")[2])
    if found is None:
        raise CannotTell(_(NOTHING_JOINS).format(name=subject.label), "connections", "not stated", "trip")
    return found
