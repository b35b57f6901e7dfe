"""Which battery feeds which items, through which converters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, _, frozen
from afield.plugins.power.battery.cells import has_battery
from afield.plugins.power.stated import Thing, voltages

FLOWS = ("DC", "USB", "mains")
USB_V = 5.0
"""At which a USB port's amperes are meant where nothing else is said."""
CONVERTING = ("converter", "charger")
TRANSMITTERS = ("radio", "amplifier")

Ways = Sequence[Mapping[str, Any]]


@frozen
class Fed:
    """An item that takes power, the voltage at its port (None: that of the battery), and what it feeds in turn."""

    thing: Thing
    volts: float | None
    onward: tuple[Fed, ...] = ()

    def all(self) -> Iterator[Fed]:
        """The item and all behind it."""
        yield self
        for fed in self.onward:
            yield from fed.all()


def is_store(thing: Thing) -> bool:
    """Whether the item holds energy of its own: a battery, a power bank, a supply that takes no mains."""
    return has_battery(thing) or (thing.class_ == "supply" and not thing.has_port("mains", "sink"))


def is_converter(thing: Thing) -> bool:
    """Whether the item only passes on what it takes."""
    return not is_store(thing) and ("converter" in thing.data or thing.class_ in (*CONVERTING, "supply"))


def stores_that_feed(things: Mapping[str, Thing], ways: Ways) -> list[Thing]:
    """Every battery or supply from which a way leads to another item, in the order of the kit."""
    givers = {way["from"]["item"] for way in ways if way["role"] in FLOWS and way["to"]["item"] != way["from"]["item"]}
    return [thing for key, thing in things.items() if key in givers and is_store(thing)]


def refuse_undecided(undecided: Ways) -> None:
    """Raise CannotTell for a chain of power of which it is not decided how it runs; what only gives is let be."""
    for chain in undecided:
        if chain["role"] in FLOWS and chain["to"]:
            raise CannotTell(chain["why"], chain["settle"], "not stated", chain["chain"])


def fed_by(store: Thing, things: Mapping[str, Thing], ways: Ways) -> tuple[Fed, ...]:
    """What a battery feeds, each item once."""
    return tuple(_onward(store, things, ways, {store.key}))


def _onward(giver: Thing, things: Mapping[str, Thing], ways: Ways, seen: set[str]) -> Iterator[Fed]:
    for way in ways:
        taker = things.get(way["to"]["item"])
        if way["role"] not in FLOWS or way["from"]["item"] != giver.key or taker is None or taker.key in seen:
            continue
        seen.add(taker.key)
        onward = tuple(_onward(taker, things, ways, seen)) if is_converter(taker) else ()
        yield Fed(taker, _volts(way, giver, taker), onward)


def _volts(way: Mapping[str, Any], giver: Thing, taker: Thing) -> float | None:
    """Voltage at which an item takes its current; None for that of the battery itself."""
    if way["role"] == "DC" and is_store(giver):
        return None
    if way["role"] == "USB":
        return USB_V
    ends = voltages(taker.port(way["to"]["port"])) or voltages(giver.port(way["from"]["port"]))
    return sum(ends) / 2 if ends else None


def driven(ways: Ways, things: Mapping[str, Thing]) -> dict[str, Thing]:
    """Radio -> the amplifier that it drives."""
    return {
        way["from"]["item"]: things[way["to"]["item"]]
        for way in ways
        if way["role"] == "RF" and "amplifier" in things[way["to"]["item"]].data
    }


def unfed(things: Mapping[str, Thing], fed: Sequence[Fed]) -> list[Thing]:
    """Radios and amplifiers that no battery of the kit feeds, spares left out."""
    reached = {each.thing.key for one in fed for each in one.all()}
    kept = [thing for key, thing in things.items() if thing.class_ in TRANSMITTERS and key not in reached]
    return [thing for thing in kept if not thing.spare]


def refuse_unfed(things: Mapping[str, Thing], fed: Sequence[Fed]) -> None:
    """Raise CannotTell for a radio or amplifier that takes direct current, has no battery inside, and gets none.

    A balance without it would be too good: whatever it lacks, it is to be fed of what is in the bag.
    """
    for thing in unfed(things, fed):
        if thing.has_port("DC", "sink") and not has_battery(thing):
            what = _("nothing that is joined feeds {name}, and a balance without it would be too good")
            raise CannotTell(what.format(name=thing.name), "connections", "not stated", f"item:{thing.key}")
