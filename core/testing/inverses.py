"""Whether a fact's inverse agrees with the fact: every candidate is judged forward, and looked for in the region."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

from afield.core.engine import Engine, altered, load
from afield.core.facts.declarations import Fact
from afield.core.facts.measured import CannotTell
from afield.core.placing import EVERYWHERE, NOWHERE, Asked
from afield.core.testing.findings import Finding
from afield.core.testing.material import Material, Probe
from afield.core.testing.observing import facts_of

if TYPE_CHECKING:
    from afield.core.facts.subjects import Subject
    from afield.core.packs.trip import Trip

CHECK = "inverse and forward"
COMPARISONS: dict[str, Callable[[float, float], bool]] = {
    "at_most": lambda value, limit: value <= limit,
    "at_least": lambda value, limit: value >= limit,
    "below": lambda value, limit: value < limit,
    "above": lambda value, limit: value > limit,
}
MOST_LIMITS = 5


def of_inverses(plugin: str, engine: Engine, material: Material) -> Iterator[Finding]:
    """One finding for each fact with an inverse."""
    for fact in facts_of(plugin, engine):
        if fact.inverse is None:
            continue
        probe = material.probes.get(fact.name)
        if probe is None:
            text = "its inverse has no probe: give one in `probes.py` beside the check files"
            yield Finding(CHECK, fact.name, "not looked at", text)
        else:
            yield _tried(fact, probe, engine, material.plans)


def _tried(fact: Fact, probe: Probe, engine: Engine, plans: Sequence[Path]) -> Finding:
    judged = 0
    for plan in plans:
        trip = load(plan, engine)
        there = {candidate: altered(trip, probe.patch(candidate)) for candidate in probe.candidates(trip)}
        for subject in [found for found in trip.subjects.values() if found.kind == fact.kind]:
            for fault in _faults(fact, probe, trip, subject, _forward(fact, subject, there)):
                if isinstance(fault, str):
                    return Finding(CHECK, fact.name, "failed", fault)
                judged += fault
    if not judged:
        return Finding(CHECK, fact.name, "not looked at", "no candidate could be judged both ways")
    return Finding(CHECK, fact.name, "passed", f"{judged} candidates judged both ways")


def _faults(fact: Fact, probe: Probe, trip: Trip, subject: Subject, values: Mapping[Any, float]) -> Iterator[str | int]:
    """A disagreement in words, or how many candidates agreed."""
    for limit in _limits(sorted(set(values.values()))):
        for comparison in COMPARISONS:
            yield _agreement(fact, probe, trip, subject, Asked(comparison, limit, sure=False), values)


def _agreement(
    fact: Fact, probe: Probe, trip: Trip, subject: Subject, asked: Asked, values: Mapping[Any, float]
) -> str | int:
    assert fact.inverse is not None
    try:
        region = fact.inverse(subject, asked, probe.free(trip), trip.world)
    except CannotTell:
        return 0
    agreed = 0
    for candidate, value in values.items():
        inside = region is EVERYWHERE if region in (EVERYWHERE, NOWHERE) else probe.inside(region, candidate)
        holds = COMPARISONS[asked.comparison](value, asked.limit)
        if inside is not None and inside != holds:
            where = "in" if inside else "not in"
            told = f"{asked.comparison} {asked.limit:g}"
            return f"{subject.key}: {candidate} is {where} the region of {told}, but judged there it is {value:g}"
        agreed += inside is not None
    return agreed


def _forward(fact: Fact, subject: Subject, there: Mapping[Any, Trip]) -> dict[Any, float]:
    records = {candidate: trip.world.value(subject.key, fact.name) for candidate, trip in there.items()}
    return {candidate: float(record.value) for candidate, record in records.items() if record.known}


def _limits(values: Sequence[float]) -> list[float]:
    """Limits half way between neighbouring values, spread over all of them."""
    between = [(low + high) / 2 for low, high in pairwise(values)]
    return between[:: max(1, len(between) // MOST_LIMITS)][:MOST_LIMITS]
