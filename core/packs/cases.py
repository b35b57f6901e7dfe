"""Runs a pack's own cases: facts are given, no fact function is called, the verdict is compared with the expected."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cached_property
from typing import Any

from afield.core.documents import Document, InputError, Place, check_schema, read_document
from afield.core.facts.graph import kinds_around
from afield.core.facts.subjects import Subject
from afield.core.facts.world import World
from afield.core.frozen import frozen
from afield.core.host.composition import shipped_schema
from afield.core.host.registry import Registry
from afield.core.packs.case_facts import case_records
from afield.core.packs.dated import said_on
from afield.core.packs.judging import Bench, verdicts_of
from afield.core.packs.loading import common_schemas
from afield.core.packs.model import Pack
from afield.core.packs.verdicts import Verdict
from afield.core.quantities import Quantity, QuantityError, parse_quantity, to_12_digits, trimmed
from afield.core.rules.complaint import meant
from afield.core.rules.outcomes import WORDS


@frozen
class CaseResult:
    """How one case came out.

    Attributes:
        name: of the case.
        rule: its id.
        place: where the expectation is written.
        differences: what came out otherwise, in words; empty if the case is right.

    """

    name: str
    rule: str
    place: Place
    differences: tuple[str, ...]

    @property
    def right(self) -> bool:
        """Whether everything that was expected came out."""
        return not self.differences


def run_cases(pack: Pack, registry: Registry) -> list[CaseResult]:
    """The results of all cases of a pack, in written order; an empty list where it has none.

    Raises:
        InputError: a case that cannot be run: an unknown rule, fact or kind, a wrong unit.

    """
    return [case.result() for case in read_cases(pack, registry)]


def read_cases(pack: Pack, registry: Registry) -> list[Case]:
    """The cases of a pack, in written order; an empty list where it has none.

    Raises:
        InputError: the file cannot be read, does not fit its schema, or names a case twice.

    """
    path = pack.folder / "cases.yaml"
    if not path.is_file():
        return []
    document = read_document(path, f"{pack.shown}/cases.yaml")
    problems = check_schema(document, shipped_schema("cases"), common_schemas())
    if problems:
        raise InputError(problems)
    cases = document.data["cases"]
    _refuse_twice(document, [(("cases", index, "name"), case["name"]) for index, case in enumerate(cases)], "case")
    return [Case(pack, registry, document, index, case) for index, case in enumerate(cases)]


class Case:
    """One case of a pack; its subjects and facts are made once and can be judged by changed versions of the pack."""

    def __init__(self, pack: Pack, registry: Registry, document: Document, index: int, data: Mapping[str, Any]) -> None:
        self.pack, self.registry, self.document, self.data = pack, registry, document, data
        self.path: tuple[str | int, ...] = ("cases", index)

    @property
    def place(self) -> Place:
        """Where the case is written."""
        return self.document.place(self.path)

    @property
    def day(self) -> date:
        """The day for which the rule is judged."""
        return date.fromisoformat(self.data["date"])

    def result(self) -> CaseResult:
        """How it comes out.

        Raises:
            InputError: it cannot be run.

        """
        self._refuse_unknown_rules()
        keys = [entry["key"] for entry in self.data["subjects"]]
        paths = [(*self.path, "subjects", index, "key") for index in range(len(keys))]
        _refuse_twice(self.document, zip(paths, keys, strict=True), "subject")
        place = self.document.place((*self.path, "expect"))
        return CaseResult(self.data["name"], self.data["rule"], place, tuple(self.differences_under(self.pack)))

    def differences_under(self, pack: Pack) -> list[str]:
        """What comes out otherwise than expected under a version of the pack, in words."""
        try:
            return self._differences_under(pack)
        except InputError as error:
            if pack is self.pack:
                raise
            return [error.problems[0].what]  # the margin is of another dimension, say

    def _differences_under(self, pack: Pack) -> list[str]:
        verdict = self.verdict(pack)
        if verdict is None:
            judged = self.data.get("of", "its subject")
            return [f"the rule {self.data['rule']} gave no verdict on {judged}: the case reaches no rule"]
        return [*self._differences(verdict), *self._program_differences(pack)]

    @cached_property
    def bench(self) -> Bench:
        """What every version of the pack judges with."""
        subjects = self._subjects()
        given = case_records(self.document, self.path, self.data["subjects"], self.registry)
        world = World(self.registry.facts, self.registry.kinds, subjects, given, computes=False)
        confirmed = {f"{self.pack.id}/{self.data['rule']}"} if self.data.get("confirmed") else set()
        days = {self.pack.id: [self.day]}
        return Bench(world, self.registry, self.day, confirmed, days=days, told=self._told())

    def verdict(self, pack: Pack) -> Verdict | None:
        """The verdict under a version of the pack that has the rule; None where there is none on the subject meant."""
        found = verdicts_of(pack, self.bench, [self.data["rule"]])
        return next((verdict for verdict in found if self._is_meant(verdict)), None)

    def _is_meant(self, verdict: Verdict) -> bool:
        """Whether the verdict is on the subject that is named, or on one that the rule judges.

        The verdict that a rule gives on the trip where nothing is there to be judged counts only if the trip is named.
        """
        if "of" in self.data:
            return bool(self.data["of"] == verdict.subject.key)
        named = [entry["key"] for entry in self.data["subjects"]]
        return verdict.subject.kind == verdict.rule.for_each or verdict.subject.key in named

    def _told(self) -> dict[tuple[str, str], tuple[int, None]]:
        codes = {word: code for code, word in enumerate(WORDS)}
        return {
            (rule, entry["key"]): (codes[outcome], None)
            for entry in self.data["subjects"]
            for rule, outcome in entry.get("verdicts", {}).items()
        }

    def _subjects(self) -> dict[str, Subject]:
        found = {"trip": Subject("trip", "trip", "trip")}
        if self._lies_within_program():
            key = f"program:{self.pack.id}"
            found[key] = Subject(key, "program", self.pack.title, {"trip": "trip"}, program=self.pack.id)
        for index, entry in enumerate(self.data["subjects"]):
            if entry["key"] not in found:
                found[entry["key"]] = self._subject(index, entry, found)
        return found

    def _lies_within_program(self) -> bool:
        """Whether a subject of the case needs its program around it: one of the pack's own claims, say."""
        return self.pack.judges == "program" and any(
            "program" in kinds_around(entry["kind"], self.registry.kinds)[1:] for entry in self.data["subjects"]
        )

    def _subject(self, index: int, entry: Mapping[str, Any], others: Mapping[str, Subject]) -> Subject:
        kind, key = entry["kind"], entry["key"]
        if kind not in self.registry.kinds:
            raise self._problem(
                (*self.path, "subjects", index, "kind"), f"no kind is called {kind}", kind, self.registry.kinds
            )
        parents = {around: _parent(around, key, others) for around in kinds_around(kind, self.registry.kinds)[1:]}
        known = {around: parent for around, parent in parents.items() if parent is not None}
        label = key.split(":", 1)[-1].replace("/", " / ")
        owner = known.get("program", "").removeprefix("program:") or (self.pack.id if kind == "program" else None)
        return Subject(key, kind, label, known, program=owner)

    def _refuse_unknown_rules(self) -> None:
        rules = {rule.id: rule for rule in self.pack.rules}
        known: dict[str, Any] = {**rules, **self.pack.elsewhere}
        named = [((*self.path, "rule"), self.data["rule"], rules)]
        for index, entry in enumerate(self.data["subjects"]):
            path = (*self.path, "subjects", index, "verdicts")
            named += [((*path, rule), rule, known) for rule in entry.get("verdicts", {})]
        for path, rule, choices in named:
            if rule not in choices:
                asked = "asks for no verdict of" if "/" in rule else "has no rule"
                raise self._problem(path, f"the pack {asked} {rule}", rule, choices)

    def _problem(self, path: tuple[str | int, ...], what: str, word: str, known: Mapping[str, Any]) -> InputError:
        advice = meant(word, known, "known ones")
        return InputError([self.document.problem(path, what, advice, at_key=path[-1] == word)])

    def _differences(self, verdict: Verdict) -> list[str]:
        expected = self.data["expect"]
        found: list[str] = []
        if expected["outcome"] != verdict.word:
            why = f" ({verdict.reason.text})" if verdict.reason else ""
            found.append(f"expected {expected['outcome']}, but it is {verdict.word}{why}")
        code = verdict.reason.code if verdict.reason else None
        if "reason" in expected and expected["reason"] != code:
            found.append(f"expected the reason {expected['reason']}, but it is {code or 'none'}")
        if "margin" in expected:
            found += self._margin_difference(expected["margin"], verdict)
        if expected.get("severity", verdict.rule.severity) != verdict.rule.severity:
            found.append(f"expected the severity {expected['severity']}, but it is {verdict.rule.severity}")
        return found

    def _program_differences(self, pack: Pack) -> list[str]:
        """What the program says of itself on the day otherwise than expected."""
        expected = self.data["expect"].get("program", {})
        for name in expected:
            if name not in self.pack.facts:
                advice = meant(name, self.pack.facts, "program facts of the pack")
                path = (*self.path, "expect", "program", name)
                raise InputError([self.document.problem(path, f"the pack says no {name}", advice, at_key=True)])
        said = {name: said_on(pack, name, self.day) for name in expected}
        return [
            f"expected {name} to be {_in_words(value)}, but it is {_in_words(said[name])}"
            for name, value in expected.items()
            if value != said[name]
        ]

    def _margin(self, expected: str, unit: str) -> Quantity:
        try:
            return parse_quantity(expected, unit)
        except QuantityError as error:
            problem = self.document.problem((*self.path, "expect", "margin"), error.what, error.advice)
            raise InputError([problem]) from error

    def _margin_difference(self, expected: str, verdict: Verdict) -> list[str]:
        explanation = verdict.explanation
        if explanation is None or explanation.margin is None:
            return [f"expected a margin of {expected}, but the verdict has none"]
        unit = explanation.unit or ""
        wanted = self._margin(expected, unit)
        number = float(wanted.digits)
        shown = f"{trimmed(explanation.margin)} {unit}".rstrip()
        if wanted.unit != unit:
            return [f"expected a margin of {expected}, but margins are in the limit's unit: it is {shown}"]
        if to_12_digits(number) != to_12_digits(explanation.margin):
            return [f"expected a margin of {expected}, but it is {shown}"]
        return []


def _in_words(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return f"[{', '.join(_in_words(item) for item in value)}]"
    return "nothing" if value is None else str(value)


def _refuse_twice(document: Document, named: Iterable[tuple[tuple[str | int, ...], str]], what: str) -> None:
    first: dict[str, tuple[str | int, ...]] = {}
    for path, name in named:
        if first.setdefault(name, path) != path:
            advice = f"The first is at {document.place(first[name])}. Keep one of the two, or name another."
            raise InputError([document.problem(path, f"a second {what} {name}", advice)])


def _parent(kind: str, key: str, others: Mapping[str, Subject]) -> str | None:
    """The subject of the kind that encloses the key: the only one, or the one whose name begins the key's."""
    found = [subject.key for subject in others.values() if subject.kind == kind]
    local = key.split(":", 1)[-1]
    if kind == "program" and f"program:{local.split('/', 1)[0]}" != key and "/" in local:
        return f"program:{local.split('/', 1)[0]}"
    if len(found) > 1:
        found = [other for other in found if local.startswith(other.split(":", 1)[-1])]
    return found[0] if found else None
