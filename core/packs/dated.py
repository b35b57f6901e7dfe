"""Dated entries of a pack: program facts and references."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from afield.core.packs.model import DatedFact, Pack, Reference
from afield.core.rules.limits import in_force

Path = tuple[str | int, ...]


def day_of(entry: Mapping[str, Any], key: str) -> date | None:
    """The date under the key, None where it is left open."""
    return date.fromisoformat(entry[key]) if key in entry else None


def dated_facts(value: Any, path: Path) -> tuple[DatedFact, ...]:
    """The versions of a program fact: a plain value or a limit is one version without dates."""
    if isinstance(value, list) and value and all(isinstance(entry, dict) for entry in value):
        return tuple(
            _dated_fact(entry["value"], day_of(entry, "from"), day_of(entry, "until"), (*path, index), ("value",))
            for index, entry in enumerate(value)
        )
    return (_dated_fact(value, None, None, path, ()),)


def _dated_fact(value: Any, from_: date | None, until: date | None, path: Path, below: Path) -> DatedFact:
    if isinstance(value, dict):
        return DatedFact(None, value["limit"], from_, until, path, (*path, *below, "limit"))
    return DatedFact(value, None, from_, until, path, (*path, *below))


def references_in(entries: list[Mapping[str, Any]]) -> tuple[Reference, ...]:
    """The references of a pack, each dated."""
    return tuple(
        Reference(entry["id"], entry["title"], day_of(entry, "from"), day_of(entry, "until"), ("references", index))
        for index, entry in enumerate(entries)
    )


def said_on(pack: Pack, fact: str, day: date) -> Any:
    """What a pack says of its program on a day, as written; of a limit its figure; None where nothing is in force."""
    version = in_force(pack.facts.get(fact, ()), day)
    if version is None or version.limit is None:
        return version and version.value
    limit = in_force(pack.limits[version.limit].versions, day)
    return None if limit is None or limit.value is None else f"{limit.value:f} {limit.unit}".rstrip()
