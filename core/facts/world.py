"""The World: one table (subject key, fact) -> Measured, filled lazily by rank."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from afield.core.facts.declarations import Fact, Kind
from afield.core.facts.graph import resting_on
from afield.core.facts.measured import RANKS, Measured, Reason, unknown
from afield.core.facts.resolver import Crash, Resolver
from afield.core.facts.subjects import Subject, of_kind, share_ancestors
from afield.core.frozen import frozen
from afield.core.language import _

Key = tuple[str, str]


@frozen
class Dropped:
    """A measured or logged value that a change upstream has made stale."""

    subject: str
    fact: str
    record: Measured


@dataclass
class World:
    """The values of all facts for all subjects of one plan (or of one case, or of one variant).

    Attributes:
        facts, kinds: what is declared.
        subjects: key -> subject.
        given: values that nobody computes, by rank; a later rank displaces an earlier one.
        computes: False in a case: fact functions are then never called.
        owners: fact name -> the plugin that declares it, for messages.
        failed_kinds: kinds whose subjects could not be had, with the reason; whatever gathers them cannot be told.

    """

    facts: Mapping[str, Fact]
    kinds: Mapping[str, Kind]
    subjects: Mapping[str, Subject]
    given: Mapping[Key, Iterable[Measured]] = field(default_factory=dict)
    computes: bool = True
    owners: Mapping[str, str] = field(default_factory=dict)
    failed_kinds: Mapping[str, Reason] = field(default_factory=dict)
    dropped: list[Dropped] = field(default_factory=list)
    crashes: list[Crash] = field(default_factory=list)
    _table: dict[Key, Measured] = field(default_factory=dict)

    def value(self, subject_key: str, fact_name: str) -> Measured:
        """The record in force for a fact of a subject; found on first asking."""
        key = (subject_key, fact_name)
        if key not in self._table:
            self._table[key] = self._found(key)
        return self._table[key]

    def known_records(self) -> dict[Key, Measured]:
        """Every record found so far."""
        return dict(self._table)

    def gathered(self, subject: Subject, kind: str) -> list[Subject]:
        """Subjects of a kind that share every ancestor of a kind that both have."""
        return [other for other in of_kind(self.subjects.values(), kind) if share_ancestors(subject, other)]

    def overlay(self, given: Mapping[Key, Iterable[Measured]], changed: Iterable[str]) -> World:
        """A World in which some given values differ.

        Measured and logged values of the changed facts, and of all downstream of them, are dropped, and listed: they
        were read before the change.
        """
        stale = set(resting_on(changed, self.facts))
        kept: dict[Key, list[Measured]] = {}
        dropped: list[Dropped] = []
        for (subject, fact_name), records in given.items():
            for record in records:
                if fact_name in stale and record.rank in ("measured", "logged"):
                    dropped.append(Dropped(subject, fact_name, record))
                else:
                    kept.setdefault((subject, fact_name), []).append(record)
        return replace(self, given=kept, dropped=dropped, crashes=[], _table={})

    def _found(self, key: Key) -> Measured:
        records = sorted(self.given.get(key, ()), key=lambda record: RANKS.index(record.rank))
        best: Measured | None = None
        if self._can_compute(key[1]):
            best = self._computed(key)
        for record in records:
            best = _of_subject(record, key[0]).displacing(best if best and best.known else None)
        if best is None:
            return self._absent(key)
        read = best.rank in ("logged", "measured")
        return self._without_ground(key, best) if read or not best.known else best

    def _without_ground(self, key: Key, reading: Measured) -> Measured:
        """The reading, unless something that even a reading stands on is not known; a case gives all that it needs."""
        subject, declared = self.subjects[key[0]], self.facts.get(key[1])
        for name in declared.stands_on if declared and self.computes else ():
            holder = subject.within(self.facts[name].kind) or subject.key
            ground = self.value(holder, name)
            if ground.reason is not None:
                return unknown(
                    ground.reason,
                    unit=reading.unit,
                    inputs=((holder, name),),
                    displaced=reading if reading.known else None,
                )
        return reading

    def _can_compute(self, fact_name: str) -> bool:
        declared = self.facts.get(fact_name)
        return self.computes and declared is not None and declared.function is not None

    def _computed(self, key: Key) -> Measured:
        return Resolver(self).computed(self.subjects[key[0]], self.facts[key[1]])

    def _absent(self, key: Key) -> Measured:
        declared = self.facts.get(key[1])
        if not self.computes:
            return unknown(Reason("missing input", f"the case does not give {key[1]}", key[1], key[0]))
        title = declared.title if declared and declared.title else key[1]
        settle = declared.settle if declared and declared.settle else key[1]
        unit = declared.unit if declared else None
        text = _("{fact} is not stated").format(fact=_(title))
        return unknown(Reason("not stated", text, settle, key[0]), unit=unit)


def _of_subject(record: Measured, subject: str) -> Measured:
    """The record; if it says why it has no value, with the subject that an input is lacking of."""
    if record.reason is None or record.reason.subject is not None:
        return record
    return replace(record, reason=replace(record.reason, subject=subject))
