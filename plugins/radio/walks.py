"""The ways of RF from each radio, through amplifiers, to what takes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, _, frozen, marked
from afield.plugins.radio.things import Thing


@frozen
class Leg:
    """From a port that gives RF to an item that takes it, with the pieces between in order.

    Attributes:
        port: name of the source's port.
        fits: whether all of it fits; None where that cannot be told.

    """

    source: Thing
    port: str
    pieces: tuple[Thing, ...]
    target: Thing
    fits: bool | None


NOTHING_JOINS = marked("no connection that is stated or can be inferred joins a radio to {name}")
NO_ANTENNA_JOINED = marked("no connection that is stated or can be inferred joins a radio to an antenna")
Walk = tuple[Leg, ...]
"""From a radio, amplifier by amplifier."""


def legs_of(ways: Iterable[Mapping[str, Any]], things: Mapping[str, Thing]) -> list[Leg]:
    """The RF ways, from the fact `kit.ways`; of spares none."""
    found = (_leg(way, things) for way in ways if way["role"] == "RF")
    return [leg for leg in found if not (leg.source.spare or leg.target.spare)]


def _leg(way: Mapping[str, Any], things: Mapping[str, Thing]) -> Leg:
    start, end = way["from"], way["to"]
    pieces = tuple(things[step["item"]] for step in way["through"])
    return Leg(things[start["item"]], start["port"], pieces, things[end["item"]], way["fits"])


def walks(legs: Sequence[Leg]) -> list[Walk]:
    """Every walk from a radio, as far as it goes; a loop of amplifiers is walked once round."""
    starts = [leg for leg in legs if leg.source.class_ == "radio" or leg.source.of("transmitter")]
    return [walk for leg in starts for walk in _onward((leg,), legs)]


def _onward(walk: Walk, legs: Sequence[Leg]) -> Iterator[Walk]:
    passed = {leg.source.key for leg in walk}
    here = walk[-1].target
    further = [leg for leg in legs if leg.source.key == here.key and here.key not in passed]
    if not further:
        yield walk
    for leg in further:
        yield from _onward((*walk, leg), legs)


def to_antennas(found: Iterable[Walk]) -> list[Walk]:
    """The walks that end at an antenna, those that fit if any does.

    Raises:
        CannotTell: there is none, or none fits.

    """
    ending = [walk for walk in found if walk[-1].target.is_one("antenna")]
    fitting = [walk for walk in ending if all(leg.fits is not False for leg in walk)]
    if fitting:
        return fitting
    if not ending:
        raise CannotTell(_(NO_ANTENNA_JOINED), "connections", "not stated", "trip")
    radio, antenna = ending[0][0].source.name, ending[0][-1].target.name
    what = _("what joins {radio} to {antenna} does not fit (see its connections)").format(radio=radio, antenna=antenna)
    raise CannotTell(what, "connections", subject="trip")


def up_to(found: Iterable[Walk], key: str) -> Walk | None:
    """The first walk that reaches an item, cut there; one that fits if there is one."""
    reaching = [walk[: place + 1] for walk in found for place, leg in enumerate(walk) if leg.target.key == key]
    fitting = [walk for walk in reaching if all(leg.fits is not False for leg in walk)]
    return next(iter(fitting or reaching), None)
