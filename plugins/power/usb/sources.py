"""Where a device's USB power comes from: the way that gives most, and the converters before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, _
from afield.plugins.power.dc.flows import Way, gives_power, ways_of
from afield.plugins.power.stated import Thing, things_of

if TYPE_CHECKING:
    from afield.plugins.power.usb.agreement import Agreement

MOST_STEPS = 4


def ways_to(kit_ways: Sequence[Mapping[str, Any]], key: str) -> list[Way]:
    """The USB ways that end at an item."""
    return [way for way in ways_of(kit_ways, "USB") if way.sink == key]


def best_way(
    kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any], key: str
) -> tuple[Way, dict[str, Thing], Agreement]:
    """The way that gives an item most power, the things, and what is agreed on.

    Raises:
        CannotTell: nothing feeds it or its source, or a port on one of its ways is not described.

    """
    from afield.plugins.power.usb.agreement import agreement_on

    things, ways = things_of(kit_things), ways_to(kit_ways, key)
    if not ways:
        what = _("nothing feeds {name} over USB").format(name=things[key].name)
        raise CannotTell(what, "connections", "not stated", f"item:{key}")
    found = [(way, agreement_on(way, things)) for way in ways]
    way, agreement = max(found, key=lambda one: one[1].watts)
    _refuse_unfed(kit_ways, things, way.source)
    return way, things, agreement


def _refuse_unfed(kit_ways: Sequence[Mapping[str, Any]], things: Mapping[str, Thing], key: str) -> None:
    """A converter gives nothing that nothing feeds."""
    thing = things[key]
    if thing.class_ in ("converter", "charger") and not converters_before(kit_ways, things, key)[1]:
        what = _("no battery or supply feeds {name}").format(name=thing.name)
        raise CannotTell(what, "connections", "not stated", f"item:{key}")


def shared_note(kit_ways: Sequence[Mapping[str, Any]], way: Way, things: Mapping[str, Thing]) -> tuple[str, ...]:
    """What is assumed of a source that has several ports of USB in use."""
    from afield.plugins.power.usb.agreement import SHARED

    ports = {other.source_port for other in ways_of(kit_ways, "USB") if other.source == way.source}
    return (f"{things[way.source].name}: {_(SHARED)}",) if len(ports) > 1 else ()


def converters_before(
    kit_ways: Sequence[Mapping[str, Any]], things: Mapping[str, Thing], key: str
) -> tuple[list[Thing], str]:
    """The converters from a device's source back to a battery, nearest first, and the battery's name.

    The name is empty where no direct current of a battery or supply comes to them.
    """
    feeding = [*ways_of(kit_ways, "DC"), *ways_of(kit_ways, "mains")]
    chain: list[Thing] = []
    for _step in range(MOST_STEPS):
        chain.append(things[key])
        before = next((way for way in feeding if way.sink == key), None)
        if before is None:
            return [], ""
        if gives_power(things[before.source]):
            return chain, things[before.source].name
        key = before.source
    return [], ""
