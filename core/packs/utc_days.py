"""The UTC days under whose rules a pack judges, where a plugin can tell them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from afield.core.facts.subjects import Subject
from afield.core.facts.world import World
from afield.core.packs.model import Pack
from afield.core.rules.limits import Dated


def known_utc_days(pack: Pack, world: World, day: date, asked: bool = False) -> list[date]:
    """The UTC days that the trip touches, if anything of the pack turns on which they are; [] if they are not known.

    They are asked only where it matters: a zone has to be found for them.

    Args:
        pack, world, day: as judged.
        asked: they are wanted in any case.

    """
    if pack.date_basis != "utc" or not (asked or turns_about(pack, day)):
        return []
    telling = [name for name, declared in world.facts.items() if declared.tells_utc_days and declared.kind == "trip"]
    return next((found for name in telling if (found := _told(world, "trip", name))), [])


def own_utc_days(subject: Subject, world: World) -> list[date]:
    """The UTC days of a slot, a UTC day or whatever else has days of its own; [] if none are known."""
    telling = [(declared.kind, name) for name, declared in world.facts.items() if declared.tells_utc_days]
    holders = [(subject.within(kind), name) for kind, name in telling if kind != "trip"]
    return next((found for key, name in holders if key and (found := _told(world, key, name))), [])


def _told(world: World, key: str, name: str) -> list[date]:
    record = world.value(key, name)
    return [date.fromisoformat(text) for text in record.value] if record.known else []


def turns_about(pack: Pack, day: date) -> bool:
    """Whether anything in the pack comes into force, or ceases to be, on the day or on the day after it."""
    return any(turn in (day, day + timedelta(days=1)) for turn in _turns(pack))


def _turns(pack: Pack) -> Iterator[date]:
    dated: Iterable[Dated] = [
        *pack.rules,
        *(version for limit in pack.limits.values() for version in limit.versions),
        *(version for versions in pack.facts.values() for version in versions),
        *(pack.references or ()),
    ]
    for one in dated:
        yield from (turn for turn in (one.from_, one.until) if turn is not None)
