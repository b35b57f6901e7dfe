"""Reads the waivers of a plan and those of a pack that extends another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from afield.core.documents import Document, InputError, Problem
from afield.core.facts.declarations import Kind
from afield.core.facts.graph import kinds_around
from afield.core.facts.subjects import Subject
from afield.core.packs.model import Pack, Rule
from afield.core.packs.selecting import visible
from afield.core.packs.waivers import Waiver, problems_of_dates, read_waiver
from afield.core.rules.complaint import meant


def plan_waivers(
    document: Document, packs: Sequence[Pack], subjects: Mapping[str, Subject], kinds: Mapping[str, Kind]
) -> tuple[Waiver, ...]:
    """The plan's waivers, in written order.

    Raises:
        InputError: a rule that is not in play, a subject on which the rule gives no verdict, or days that are none;
            every problem is listed.

    """
    reader = _PlanWaivers(document, packs, subjects, kinds)
    indexes = range(len(document.data.get("waivers", [])))
    problems = [problem for index in indexes for problem in reader.problems(index)]
    if not problems:
        waivers = [read_waiver(document, ("waivers", index), reader.rule_at(index)) for index in indexes]
        paths = [("waivers", index) for index in indexes]
        problems = problems_of_dates(document, zip(paths, waivers, strict=True))
    if problems:
        raise InputError(problems)
    return tuple(waivers)


class _PlanWaivers:
    def __init__(
        self, document: Document, packs: Sequence[Pack], subjects: Mapping[str, Subject], kinds: Mapping[str, Kind]
    ) -> None:
        self.document, self.packs, self.subjects, self.kinds = document, packs, subjects, kinds
        self.rules = {rule.key: (rule, pack) for pack in packs for rule in pack.rules}

    def rule_at(self, index: int) -> str:
        return str(self.document.data["waivers"][index]["rule"])

    def problems(self, index: int) -> Iterator[Problem]:
        name, of = self.rule_at(index), self.document.data["waivers"][index].get("of")
        if name not in self.rules:
            what = f"there is no rule {name} on this trip"
            yield self.document.problem(("waivers", index, "rule"), what, self.meant_rule(name))
        elif of is not None:
            yield from self.problems_of_subject(index, of, *self.rules[name])

    def meant_rule(self, name: str) -> str:
        """What to write for a rule that is not in play; one of a pack that another extends goes by that one's name."""
        pack_name, _, rule = name.partition("/")
        for pack in self.packs:
            if pack_name in [base.id for base in list(pack.lineage())[1:]] and f"{pack.id}/{rule}" in self.rules:
                return f"The pack {pack.id} extends {pack_name}, and its verdicts go by its own name: {pack.id}/{rule}."
        return meant(name, self.rules, "rules on this trip")

    def problems_of_subject(self, index: int, of: str, rule: Rule, pack: Pack) -> Iterator[Problem]:
        path = ("waivers", index, "of")
        fitting = [subject.key for subject in visible(self.subjects.values(), pack) if self.holds(subject, rule)]
        many, whole = f"subjects of {rule.key}", "Without `of:` the whole rule is waived."
        if of not in self.subjects:
            yield self.document.problem(path, f"the plan has no subject {of}", meant(of, fitting, many))
        elif of not in fitting:
            what = f"{rule.key} is judged for each {rule.for_each}, and gives no verdict on {of}"
            advice = meant("", fitting, many) if len(fitting) > 1 else f"Write `of: {fitting[0]}`."
            yield self.document.problem(path, what, f"{advice} {whole}")

    def holds(self, subject: Subject, rule: Rule) -> bool:
        """Whether the rule's verdicts are on the subject, or on what lies within it."""
        return rule.for_each in self.kinds and subject.kind in kinds_around(rule.for_each, self.kinds)


def pack_waivers(pack: Pack, base: Pack) -> tuple[Waiver, ...]:
    """The waivers of a pack for rules of the one that it extends, and those that this one has itself."""
    document = pack.documents["rules"]
    entries = document.data.get("waivers", [])
    own = [
        read_waiver(document, ("waivers", index), f"{pack.id}/{entry['rule']}", pack.name)
        for index, entry in enumerate(entries)
    ]
    return (*own, *(_renamed(waiver, pack) for waiver in base.waivers))


def _renamed(waiver: Waiver, pack: Pack) -> Waiver:
    return replace(waiver, rule=f"{pack.id}/{waiver.rule.partition('/')[2]}")


def problems_of_pack_waivers(pack: Pack, base: Pack) -> Iterator[Problem]:
    """What is wrong with the waivers in a pack's own file."""
    document = pack.documents["rules"]
    known = {rule.id: rule for rule in base.rules}
    own = {rule.id for rule in pack.rules if pack.writes(rule)}
    for index, entry in enumerate(document.data.get("waivers", [])):
        name = entry["rule"]
        if name not in known:
            advice = OWN if name in own else meant(name, known, f"rules of {base.id}")
            yield document.problem(("waivers", index, "rule"), f"{base.name} has no rule {name}", advice)
    written = [waiver for waiver in pack.waivers if waiver.by == pack.name]
    paths = [("waivers", index) for index in range(len(written))]
    yield from problems_of_dates(document, zip(paths, written, strict=True))


OWN = "It is a rule of this pack, which waives none of its own: give the rule another severity, or dates."
