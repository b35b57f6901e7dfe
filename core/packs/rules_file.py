"""Reads the rules of a pack: each entry becomes a Rule with its conditions, or a list of problems."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from afield.core.documents import Document, InputError, Problem
from afield.core.host.registry import Registry
from afield.core.packs.dated import day_of
from afield.core.packs.model import TEXTS, Rule
from afield.core.packs.origins import PackName
from afield.core.rules.complaint import Complaint
from afield.core.rules.condition_reading import read_condition
from afield.core.rules.conditions import Condition
from afield.core.rules.limit_reading import read_source
from afield.core.rules.limits import Limit, Source

if TYPE_CHECKING:
    from afield.core.packs.outlines import RuleElsewhere

Path = tuple[str | int, ...]


def read_rules(
    pack: PackName,
    document: Document,
    registry: Registry,
    limits: Mapping[str, Limit],
    absent: tuple[str, ...],
    program: bool,
    inherited: Iterable[Rule] = (),
    elsewhere: Mapping[str, RuleElsewhere] | None = None,
    own: tuple[str, ...] = (),
) -> tuple[Rule, ...]:
    """The rules in their written order.

    Args:
        pack: that they are written in.
        document: its rules file.
        registry: what plugins declare.
        limits: those that the rules may name.
        absent: plugins that the pack needs and that are not there.
        program: whether the pack judges a program.
        inherited: rules of the pack that it extends, whose verdicts may be asked for.
        elsewhere: rules of other packs, as "pack/rule", whose verdicts may be asked for.
        own: ids of the pack and of those that it extends.

    Raises:
        InputError: a condition that does not fit what plugins declare; every problem is listed.

    """
    reader = _Reader(pack, document, registry, limits, absent, program, inherited, elsewhere or {}, own)
    written = document.data.get("rules", [])
    rules = tuple(reader.rule(entry, ("rules", index)) for index, entry in enumerate(written))
    if reader.problems:
        raise InputError(reader.problems)
    return rules


def problem_of(document: Document, complaint: Complaint) -> Problem:
    """A complaint about a path as a problem at a place; a second place is named in the advice."""
    place = document.place(complaint.path)
    other = f" The other is at {document.place(complaint.other_path)}." if complaint.other_path else ""
    return Problem(place, complaint.what, complaint.advice + other, document.line(place))


class _Reader:
    def __init__(
        self,
        pack: PackName,
        document: Document,
        registry: Registry,
        limits: Mapping[str, Limit],
        absent: tuple[str, ...],
        program: bool,
        inherited: Iterable[Rule],
        elsewhere: Mapping[str, RuleElsewhere],
        own: tuple[str, ...],
    ) -> None:
        self.pack, self.document, self.registry = pack, document, registry
        self.limits, self.absent, self.program, self.own = limits, absent, program, own
        self.kinds_of_rules = {name: rule.kind for name, rule in elsewhere.items()}
        self.kinds_of_rules |= {rule.id: rule.for_each for rule in inherited}
        self.kinds_of_rules |= {entry["id"]: entry["for_each"] for entry in document.data.get("rules", [])}
        self.problems: list[Problem] = []

    def rule(self, entry: Mapping[str, Any], path: Path) -> Rule:
        return Rule(
            key=f"{self.pack.id}/{entry['id']}", id=entry["id"], pack=self.pack.id, title=entry["title"],
            why=entry.get("why", ""), severity=entry["severity"], for_each=entry["for_each"],
            place=self.document.place(path), require=self.condition(entry, "require", path),
            where=self.condition(entry, "where", path), confirm=entry.get("confirm"), when=entry.get("when"),
            evidence=entry.get("evidence"), assumes=tuple(entry.get("assumes", ())),
            decision=entry.get("decision", "guarded"), from_=day_of(entry, "from"), until=day_of(entry, "until"),
            source=self.source(entry, path), texts={name: entry[name] for name in TEXTS if name in entry}, path=path,
            by=self.pack,
        )  # fmt: skip

    def source(self, entry: Mapping[str, Any], path: Path) -> Source | None:
        source, complaints = read_source(entry.get("source"), (*path, "source"))
        self.problems.extend(problem_of(self.document, complaint) for complaint in complaints)
        return source

    def condition(self, entry: Mapping[str, Any], key: str, path: Path) -> Condition | None:
        if key not in entry:
            return None
        kinds = self.registry.kinds
        condition, complaints = read_condition(
            entry[key], (*path, key), self.registry.facts, self.limits,
            kind=entry["for_each"] if entry["for_each"] in kinds else None, kinds=kinds, rules=self.kinds_of_rules,
            absent=self.absent, program=self.program, own=self.own,
        )  # fmt: skip
        self.problems.extend(problem_of(self.document, complaint) for complaint in complaints)
        return condition
