"""The UTC days under whose rules a pack judges, where a plugin can tell them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from afield.core.facts.world import World
from afield.core.packs.model import Pack
from afield.core.rules.limits import Dated


def known_utc_days(pack: Pack, world: World, day: date) -> list[date]:
    """The UTC days that the trip touches, if anything of the pack turns on which they are; [] if they are not known.

    They are asked only where it matters: a zone has to be found for them.
    """
    if pack.date_basis != "utc" or not turns_about(pack, day):
        return []
    for name, declared in world.facts.items():
        record = world.value("trip", name) if declared.tells_utc_days else None
        if record is not None and record.known:
            return [date.fromisoformat(text) for text in record.value]
    return []


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
