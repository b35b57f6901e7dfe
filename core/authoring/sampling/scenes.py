"""Cases made for a rule: its subject with those around it, and one value of every fact that it asks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property
from typing import Any

from afield.core.authoring.sampling.bounds import (
    Judging,
    compared_with,
    days_of_change,
    facts_of,
    gathered_facts,
    gathers,
    verdicts_of,
)
from afield.core.authoring.sampling.candidates import Candidate, candidates_of, is_finite
from afield.core.authoring.sampling.combining import combined, is_whole
from afield.core.authoring.sampling.members import Members, members_of
from afield.core.documents import read_text
from afield.core.facts.graph import kinds_around
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.cases import Case
from afield.core.packs.model import Pack
from afield.core.rules.outcomes import WORDS

NO_DAY = "2026-01-01"
"""The day of a case of a rule that no case tries and that no date bounds: any day is as good."""


@frozen(slots=False)
class Scenes:
    """All that is tried of one rule.

    Attributes:
        pack: whose cases they would be.
        judgings: the rule in each of the versions that are compared, with its pack.
        registry: what plugins declare.
        cases: of the pack; new ones take their subjects' keys and days from them.

    """

    pack: Pack
    judgings: Sequence[Judging]
    registry: Registry
    cases: Sequence[Case]

    @property
    def rule(self) -> str:
        """The rule's id."""
        return self.judgings[0][1].id

    @cached_property
    def facts(self) -> list[str]:
        """The facts that are given: of the subject and those around it, also where what is gathered asks for them."""
        asked = facts_of(self.judgings)
        outer = [name for name in gathered_facts(self.judgings) if self._is_around(name)]
        return [name for name in dict.fromkeys([*asked, *outer]) if self._candidates(name)]

    def _is_around(self, name: str) -> bool:
        declared, members = self.registry.facts.get(name), {each.kind for each in gathers(self.judgings)}
        return declared is not None and declared.kind in self._kinds and declared.kind not in members

    @cached_property
    def _kinds(self) -> list[str]:
        """The kind that the rule judges and those around it, the outermost first; the trip for a kind unknown here."""
        kind = self.judgings[0][1].for_each
        return list(reversed(kinds_around(kind, self.registry.kinds))) if kind in self.registry.kinds else ["trip"]

    @cached_property
    def verdicts(self) -> list[str]:
        """The rules whose verdicts are given."""
        return verdicts_of(self.judgings)

    @cached_property
    def members(self) -> list[Members]:
        """What is gathered."""
        measures = [measure for measure in gathers(self.judgings) if measure.kind in self.registry.kinds]
        kinds = dict.fromkeys(measure.kind for measure in measures)
        alike = {kind: [measure for measure in measures if measure.kind == kind] for kind in kinds}
        return [members_of(kind, alike[kind], self.judgings, self.registry) for kind in kinds]

    @property
    def is_exhaustive(self) -> bool:
        """Whether no facts can tell the versions apart that these do not."""
        asked = facts_of(self.judgings)
        told = all(name in self.registry.facts and is_finite(self.registry.facts[name]) for name in asked)
        return told and asked == self.facts and not gathers(self.judgings) and is_whole(self._slots)

    @cached_property
    def _slots(self) -> list[list[Candidate]]:
        checks = any(rule.confirm is not None for _, rule in self.judgings)
        return [
            *(self._candidates(name) for name in self.facts),
            *([Candidate(word) for word in WORDS] for _ in self.verdicts),
            *(members.candidates for members in self.members),
            [Candidate(False), Candidate(True, 1)] if checks else [Candidate(False)],
            [Candidate(day, index > 0) for index, day in enumerate(self._days)],
        ]

    def _candidates(self, name: str) -> list[Candidate]:
        declared = self.registry.facts.get(name)
        return candidates_of(declared, compared_with(name, self.judgings)) if declared else []

    @cached_property
    def _days(self) -> list[str]:
        """A day on which cases try the rule, then those on which something changes, and the days before these."""
        mine = [case.data["date"] for case in self.cases if case.data["rule"] == self.rule]
        any_day = max([*mine] or [case.data["date"] for case in self.cases] or [NO_DAY])
        changes = [day for day in days_of_change(self.judgings) if date.min < day]
        around = [str(day - timedelta(days=back)) for day in changes for back in (0, 1)]
        return list(dict.fromkeys([any_day, *around]))

    def tried(self) -> Iterator[Mapping[str, Any]]:
        """The cases, without name and expectation, the plainest first."""
        for row in combined(self._slots):
            yield self._case([candidate.written for candidate in row])

    def _case(self, values: Sequence[Any]) -> dict[str, Any]:
        facts = dict(zip(self.facts, values, strict=False))
        verdicts = dict(zip(self.verdicts, values[len(facts) :], strict=False))
        gathered = values[len(facts) + len(verdicts) : -2]
        found = {"rule": self.rule, "date": values[-1], "subjects": self._subjects(facts, verdicts, gathered)}
        return {**found, "confirmed": True} if values[-2] else found

    def _subjects(
        self, facts: Mapping[str, Any], verdicts: Mapping[str, Any], gathered: Sequence[Any]
    ) -> list[dict[str, Any]]:
        """The subject that is judged last, those around it before it, then the members of what it gathers."""
        kind = self._kinds[-1]
        found = [self._subject(each, facts, verdicts if each == kind else {}) for each in self._kinds]
        needed = [entry for entry in found if len(entry) > 2 or entry["kind"] == kind]
        extra = [
            {"kind": members.kind, "key": self._key(members.kind, index + 1), **entry}
            for members, entries in zip(self.members, gathered, strict=True)
            for index, entry in enumerate(entries)
        ]
        return [*needed, *extra]

    def _subject(self, kind: str, facts: Mapping[str, Any], verdicts: Mapping[str, Any]) -> dict[str, Any]:
        own = {name: value for name, value in facts.items() if self.registry.facts[name].kind == kind}
        entry: dict[str, Any] = {"kind": kind, "key": self._key(kind)}
        if own:
            entry["facts"] = own
        if verdicts:
            entry["verdicts"] = dict(verdicts)
        return entry

    def _key(self, kind: str, number: int = 0) -> str:
        used = [] if number else self._used_keys(kind)
        if used or kind == "trip":
            return used[0] if used else "trip"
        if kind == "program":
            return f"program:{self.pack.id}"
        name = f"example-{number}" if number else "example"
        return f"{kind}:{self.pack.id}/{name}" if self.pack.judges == "program" else f"{kind}:{name}"

    def _used_keys(self, kind: str) -> list[str]:
        mine = sorted(self.cases, key=lambda case: case.data["rule"] != self.rule)
        return [entry["key"] for case in mine for entry in case.data["subjects"] if entry["kind"] == kind]


def made_case(pack: Pack, registry: Registry, data: Mapping[str, Any]) -> Case:
    """A case that is written nowhere."""
    return Case(pack, registry, read_text("cases: []"), 0, data)
