"""A variant of a plan: which of the plan's measured and logged values still hold for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from afield.core.facts.declarations import Each, Fact
from afield.core.facts.measured import Measured
from afield.core.facts.subjects import Subject
from afield.core.facts.world import Key, World
from afield.core.packs.trip import Trip

READ = ("measured", "logged")


def overlaid(trip: Trip, base: Trip) -> Trip:
    """The variant's trip without the base's readings of whatever rests on something that the variant changes.

    Readings that the variant states itself were made for it, and stay.
    """
    own, inherited = _parted(trip.world.given, base.world.given)
    world = trip.world.overlay(inherited, changed_facts(trip.world, base.world))
    given = {key: list(records) for key, records in world.given.items()}
    for key, records in own.items():
        given.setdefault(key, []).extend(records)
    return replace(trip, world=replace(world, given=given))


Given = dict[Key, list[Measured]]


def _parted(given: Mapping[Key, Iterable[Measured]], base: Mapping[Key, Iterable[Measured]]) -> tuple[Given, Given]:
    own: Given = {}
    inherited: Given = {}
    for key, records in given.items():
        known = [_written(record) for record in base.get(key, ())]
        for record in records:
            is_own = record.rank in READ and _written(record) not in known
            (own if is_own else inherited).setdefault(key, []).append(record)
    return own, inherited


def _written(record: Measured) -> tuple[Any, ...]:
    return record.rank, record.place, _plain(record), dict(record.parts)


def _plain(record: Measured) -> Any:
    return getattr(record.value, "data", record.value)


def changed_facts(one: World, other: World) -> set[str]:
    """Names of the facts that two Worlds differ in: what is stated, and what reads or gathers subjects that differ."""
    stated_one, stated_other = _stated(one), _stated(other)
    keys = stated_one.keys() | stated_other.keys()
    stated = {key[1] for key in keys if stated_one.get(key) != stated_other.get(key)}
    kinds = changed_kinds(one.subjects, other.subjects)
    return stated | {name for name, fact in one.facts.items() if _reads(fact) & kinds}


def _stated(world: World) -> dict[Key, Any]:
    return {
        key: _plain(record) for key, records in world.given.items() for record in records if record.rank not in READ
    }


def changed_kinds(one: Mapping[str, Subject], other: Mapping[str, Subject]) -> set[str]:
    """The kinds of which a subject was added, taken away, or described otherwise."""
    described = [{(key, subject.kind): subject.data for key, subject in world.items()} for world in (one, other)]
    keys = described[0].keys() | described[1].keys()
    return {key[1] for key in keys if described[0].get(key) != described[1].get(key)}


def _reads(fact: Fact) -> set[str]:
    """Kinds of the subjects that the function sees, or counts."""
    gathered = {need.kind for need in fact.parameters.values() if isinstance(need, Each)}
    return gathered | ({fact.kind} if "subject" in fact.parameters.values() else set())
