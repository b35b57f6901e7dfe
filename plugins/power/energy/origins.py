"""The figures that balances rest on, item by item, with the origin of the error of each.

They are facts of their own, so that two variants which share an item, or a way of working, share its error: it then
cancels in the difference between them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell
from afield.plugins.power.dc.draws import efficiency_of
from afield.plugins.power.energy.feeds import is_converter, is_store
from afield.plugins.power.energy.loads import DUTY, LAW, SHARE, draw_of, use_of
from afield.plugins.power.energy.slots import steps_of
from afield.plugins.power.energy.store import store_of
from afield.plugins.power.energy.sun import share_of_sun
from afield.plugins.power.stated import Figure, Thing

STATED = ("loads", "converter", "battery", "solar", "ports", "typical")
"""What of an item its figures depend on."""


def figures_of(thing: Thing, air_c: float | None) -> dict[str, Figure]:
    """The item's figures by origin; those of a battery that is not described are left out."""
    return {figure.origin: figure for figure in _figures(thing, air_c)}


def _figures(thing: Thing, air_c: float | None) -> Iterator[Figure]:
    if "loads" in thing.data:
        yield draw_of(thing)
        yield use_of(thing)
    if is_converter(thing) or is_store(thing):
        yield efficiency_of(thing)
    if "battery" in thing.data:
        yield from _of_store(thing, air_c)
    if "solar" in thing.data:
        yield share_of_sun(thing)


def _of_store(thing: Thing, air_c: float | None) -> Iterable[Figure]:
    try:
        return store_of(thing, air_c).figures.values()
    except CannotTell:
        return ()


def stated_of(thing: Thing, air_c: float | None) -> dict[str, Any]:
    """What the figures were made from, as plain data: another item of the same name has other errors."""
    stated = {key: thing.data[key] for key in STATED if key in thing.data}
    air = {"air_c": air_c} if "battery" in stated else {}
    return {**stated, **air} if stated else {}


def ways_of_working(timeline: Mapping[str, Any]) -> list[dict[str, Any] | None]:
    """Mode and share of transmitting of each slot, None where it is not known."""
    return [_way_of_working({**timeline, "slots": [slot]}) for slot in timeline["slots"]]


def _way_of_working(timeline: Mapping[str, Any]) -> dict[str, Any] | None:
    try:
        (slot,) = steps_of(timeline).slots
    except CannotTell:
        return None
    return {"mode": slot.mode.name, "duty": slot.mode.duty, "share": slot.share, "around": slot.share_around}


def parts_of(figures: Sequence[tuple[Any, Mapping[str, Any]]], law: Mapping[str, float]) -> dict[str, float]:
    """Every origin with the half-width of its figure: of all items, of the way of working, of the law."""
    of_items = {origin: around for _, one in figures for origin, around in one.get("figures", {}).items()}
    return {**of_items, SHARE: 1.0, DUTY: 1.0, LAW: law["around"]}
