"""What a comparison compares: a fact, a verdict, or a number gathered over many subjects."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeAlias

from afield.core.documents import Path
from afield.core.rules.complaint import Complaint, as_written, meant
from afield.core.rules.conditions import AGGREGATES, Aggregate, Condition, FactOf, Measure, VerdictOf
from afield.core.rules.outcomes import WORDS
from afield.core.rules.vocabulary import Target, Vocabulary

MEASURE_KEYS = ("fact", "verdict", *AGGREGATES, "of", "where", "distinct")
_HEADS = ("fact", "verdict", *AGGREGATES)

ReadCondition: TypeAlias = Callable[[Any, Path, str | None], Condition | None]
Read: TypeAlias = tuple[Measure, Target]


class MeasureReader:
    """Reads measures; what is wrong goes to the list of complaints."""

    def __init__(self, vocabulary: Vocabulary, complaints: list[Complaint], read_condition: ReadCondition) -> None:
        self.known, self.complaints, self.read_condition = vocabulary, complaints, read_condition

    def measure(self, data: Mapping[str, Any], path: Path, kind: str | None) -> Read | None:
        """The measure and what its bounds must fit; None with a complaint."""
        heads = [key for key in data if key in _HEADS]
        if not heads:
            self._complain(path, "there is nothing to compare", "Write `fact: NAME`, or `count: KIND` and the like.")
            return None
        if len(heads) > 1:
            what = f'"{heads[0]}" and "{heads[1]}" are two things to compare'
            self._complain((*path, heads[1]), what, "Write one; join two conditions with `all`.", (*path, heads[0]))
            return None
        return self._of_head(heads[0], data, path, kind)

    def _of_head(self, head: str, data: Mapping[str, Any], path: Path, kind: str | None) -> Read | None:
        if not isinstance(data[head], str) or not data[head]:
            return self._refused((*path, head), f"{as_written(data[head])} is no name", f"Write `{head}: NAME`.")
        if head in AGGREGATES:
            return self._aggregate(head, data, path, kind)
        for key in ("of", "where", "distinct"):
            if key in data:
                advice = f"It belongs to {', '.join(AGGREGATES)}; remove it, or join conditions with `all`."
                self._complain((*path, key), f'"{key}" does not go with "{head}"', advice)
                return None
        if head == "verdict":
            return self._verdict(data[head], (*path, head), kind)
        return self._fact(data[head], (*path, head), kind)

    def _fact(self, name: Any, path: Path, kind: str | None) -> tuple[FactOf, Target] | None:
        if not isinstance(name, str) or not name:
            return self._refused(
                path, f"{as_written(name)} is no name of a fact", "Write one, in words joined by dots."
            )
        fact = self.known.facts.get(name)
        if fact is None:
            return self._undeclared(name, path, kind)
        if fact.type == "opaque":
            return self._refused(path, f"{name} is only drawn and printed", "Compare another fact.")
        if not self.known.reaches(kind, fact.kind):
            advice = f"Gather it with least, greatest or sum over {fact.kind}, or write the rule for each {fact.kind}."
            return self._refused(path, f"{name} is a fact of a {fact.kind}, not of a {kind}", advice)
        if fact.gathers_claims and self.known.program:
            advice = "A program's rules judge its own claims; move the rule to a pack that judges the trip."
            return self._refused(path, f"{name} gathers claims of all programs", advice)
        return FactOf(fact.name), Target(fact.title or fact.name, fact.type, fact.unit or "", fact.choices)

    def _undeclared(self, name: str, path: Path, kind: str | None) -> tuple[FactOf, Target] | None:
        if self.known.absent:
            return FactOf(name, self.known.absent), Target(name, "")
        return self._refused(path, f"no plugin declares a fact {name}", meant(name, self.known.facts_of(kind), "facts"))

    def _verdict(self, written: str, path: Path, kind: str | None) -> Read | None:
        name, rules = self.known.local(written), self.known.rules
        if rules is not None and name not in rules:
            mine = [rule for rule in rules if "/" not in rule]
            return self._refused(path, f"the pack has no rule {name}", meant(name, mine, "rules"))
        if rules is not None and not self.known.reaches(kind, rules[name]):
            advice = f"Count it: `count: {rules[name]}, where: {{verdict: {name}, is: passed}}`."
            return self._refused(path, f"{name} is judged for each {rules[name]}, not for a {kind}", advice)
        return VerdictOf(name), Target(f"the verdict on {name}", "verdict", choices=WORDS)

    def _aggregate(self, how: str, data: Mapping[str, Any], path: Path, kind: str | None) -> Read | None:
        before = len(self.complaints)
        member, absent = self._member_kind(data[how], (*path, how))
        of = self._gathered(how, data, path, member)
        where = self.read_condition(data["where"], (*path, "where"), member) if "where" in data else None
        distinct = self._distinct(how, data, path, member)
        if len(self.complaints) > before:
            return None
        aggregate = Aggregate(how, data[how], of[0] if of else None, where, distinct, absent)
        return aggregate, of[1] if of else Target(f"the count of {data[how]}", "number")

    def _member_kind(self, name: str, path: Path) -> tuple[str | None, tuple[str, ...]]:
        """The kind, None where it is not known; and the absent plugins that may know it."""
        if not self.known.kinds or name in self.known.kinds:
            return name, ()
        if not self.known.absent:
            self._complain(path, f"there is no kind {name}", meant(name, self.known.kinds, "kinds"))
        return None, self.known.absent

    def _gathered(
        self, how: str, data: Mapping[str, Any], path: Path, member: str | None
    ) -> tuple[FactOf, Target] | None:
        if how == "count":
            if "of" in data:
                advice = "Remove it; `where` says which subjects count."
                self._complain((*path, "of"), 'a count takes no "of"', advice)
            return None
        if "of" not in data:
            return self._refused((*path, how), f'"{how}" does not say of what', "Write `of: NAME`, a number fact.")
        read = self._fact(data["of"], (*path, "of"), member)
        if read and read[1].type not in ("number", ""):
            advice = f"Write a number fact, or `count: {data[how]}`."
            return self._refused((*path, "of"), f"{read[0].name} is no number", advice)
        return read

    def _distinct(self, how: str, data: Mapping[str, Any], path: Path, member: str | None) -> tuple[FactOf, ...]:
        if "distinct" not in data:
            return ()
        written = data["distinct"]
        if how != "count" or not isinstance(written, list) or not written:
            advice = "Write a list of facts: `count: KIND, distinct: [NAME]`."
            self._complain((*path, "distinct"), '"distinct" goes with a count and names facts', advice)
            return ()
        read = [self._fact(name, (*path, "distinct", index), member) for index, name in enumerate(written)]
        return tuple(fact[0] for fact in read if fact is not None)

    def _refused(self, path: Path, what: str, advice: str) -> tuple[FactOf, Target] | None:
        """Complains; there is no measure then."""
        self._complain(path, what, advice)
        return None

    def _complain(self, path: Path, what: str, advice: str, other_path: Path | None = None) -> None:
        self.complaints.append(Complaint(path, what, advice, other_path))
