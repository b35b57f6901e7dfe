"""Which ways must be complete: those that the kit states, else those that follow from the classes of its items."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from afield.core.api import Origin, slug
from afield.plugins.kit.charging import charges, charging_chains
from afield.plugins.kit.model import Chain, End, Item, Port
from afield.plugins.kit.operating import operating_chains
from afield.plugins.kit.words import CONVERTS, FED, POWERS


def chain_between(role: str, start: End, end: End, origin: Origin) -> Chain:
    """A stated chain; turned round where it was written from the taking to the giving end."""
    starts, ends = _ports(role, start), _ports(role, end)
    if _charging(end, start):
        start, end, starts, ends = end, start, ends, starts
    charging = _charging(start, end)
    if not charging and (_only_take(starts) or _only_give(ends)):
        start, end, starts, ends = end, start, ends, starts
    unknown = _blank([start.item]), _blank([end.item])
    key = f"{slug(role)}/{start.address}/{end.address}"
    giving = tuple(port for port in starts if port.gives)
    taking = tuple(port for port in ends if port.takes or charging)
    return Chain(key, role, start.written, end.written, giving, taking, *unknown, origin=origin)


def _ports(role: str, end: End) -> tuple[Port, ...]:
    return (end.port,) if end.port else end.item.with_role(role)


def _charging(start: End, end: End) -> bool:
    """Whether it runs from what charges to a battery."""
    pairs = ((one, other) for one in _ports("DC", start) for other in _ports("DC", end))
    return any(charges((start.item, one), (end.item, other)) for one, other in pairs)


def _only_take(ports: Iterable[Port]) -> bool:
    found = list(ports)
    return bool(found) and not any(port.gives for port in found)


def _only_give(ports: Iterable[Port]) -> bool:
    found = list(ports)
    return bool(found) and not any(port.takes for port in found)


def default_chains(items: Mapping[str, Item], families: frozenset[str] = frozenset()) -> Iterator[Chain]:
    """The ways that radios, amplifiers, converters and what is charged need; spares need none of their own.

    Args:
        items: of the kit.
        families: what the planned modes need.

    """
    used = [item for item in items.values() if item.spare_of is None]
    for item in used:
        if item.class_ == "radio":
            yield from _from(item, "RF", used, ("antenna",), "an antenna")
        if item.class_ == "amplifier":
            yield from _to(item, "RF", used, ("radio",), "a radio")
            yield from _from(item, "RF", used, ("antenna",), "an antenna")
            yield from _to(item, "keying", used, ("radio",), "a radio")
        if item.class_ in ("radio", "amplifier", *CONVERTS):
            yield from _powered(item, used)
        yield from _fed(item, used)
    yield from operating_chains(used, families)
    # What charges comes last, for the terminals of a battery are first of all there for what it feeds.
    yield from charging_chains(items)


def _powered(item: Item, items: list[Item]) -> Iterator[Chain]:
    """What it takes from a battery or a supply; a charger takes it from a solar panel as well."""
    if item.class_ == "charger":
        return _to(item, "DC", items, (*POWERS, "solar panel"), "a solar panel, a battery or a supply")
    return _to(item, "DC", items, POWERS, "a battery or a supply")


def _fed(item: Item, items: list[Item]) -> Iterator[Chain]:
    """What a charger takes from mains, and a computer or phone from USB, where something in the kit gives it.

    Both do without: a charger may stay for the hotel, and a laptop has a battery of its own.
    """
    role, wanted = FED.get(item.class_ or "", ("", ""))
    others = [other for other in items if other is not item and _ports_of(other, role, "source")]
    ends = _ports_of(item, role, "sink")
    if others and (ends or item.ports is None):
        starts = tuple(port for other in others for port in _ports_of(other, role, "source"))
        yield _default(role, item, (wanted, item.name), (starts, ends), others, wanted)


def _ports_of(item: Item, role: str, direction: str) -> tuple[Port, ...]:
    return tuple(port for port in item.with_role(role) if port.direction == direction)


def _from(item: Item, role: str, items: list[Item], classes: tuple[str, ...], wanted: str) -> Iterator[Chain]:
    starts = tuple(port for port in item.with_role(role) if port.gives)
    others = [other for other in items if other.class_ in classes and other is not item]
    ends = tuple(port for other in others for port in other.with_role(role) if port.takes)
    if starts or item.ports is None:
        yield _default(role, item, (item.name, wanted), (starts, ends), others, wanted)


def _to(item: Item, role: str, items: list[Item], classes: tuple[str, ...], wanted: str) -> Iterator[Chain]:
    ends = tuple(port for port in item.with_role(role) if port.takes)
    others = [other for other in items if other.class_ in classes and other is not item]
    starts = tuple(port for other in others for port in other.with_role(role) if port.gives)
    if ends or item.ports is None:
        yield _default(role, item, (wanted, item.name), (starts, ends), others, wanted)


def _default(
    role: str,
    item: Item,
    names: tuple[str, str],
    ports: tuple[tuple[Port, ...], tuple[Port, ...]],
    others: list[Item],
    wanted: str,
) -> Chain:
    # One antenna that is described is enough to judge by; the others are asked for only where there is none.
    mine, theirs = _blank([item]), _blank(others) if not all(ports) else ()
    unknown = (mine, theirs) if names[0] == item.name else (theirs, mine)
    # No key of an item holds a dot, so that "any." is no item.
    key = "/".join([slug(role), *(item.key if name == item.name else f"any.{slug(name)}" for name in names)])
    return Chain(key, role, *names, *ports, *unknown, wanted, serves=_serves(item, role))


def _blank(items: Iterable[Item]) -> tuple[Item, ...]:
    """Those whose ports are not known."""
    return tuple(item for item in items if item.ports is None)


def _serves(item: Item, role: str) -> bool:
    """Whether the outing goes on without what feeds the item: it only feeds others, or has a battery of its own."""
    has_battery = "battery" in item.data or any(load["state"] == "charging" for load in item.data.get("loads", ()))
    return item.class_ in CONVERTS or (role == "USB" and has_battery)
