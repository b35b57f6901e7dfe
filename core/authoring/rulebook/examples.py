"""Examples made from a pack's cases: those nearest to the limit, of each outcome, once all cases come out right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from afield.core.authoring.rulebook.sentences import Speaker
from afield.core.documents import read_document
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.cases import run_cases
from afield.core.packs.model import Pack, Rule
from afield.core.quantities import Quantity, QuantityError, convert, parse_quantity
from afield.core.report.overrides import limit_names
from afield.core.rules.conditions import FactOf, Leaf, facts_asked, leaves
from afield.core.rules.limits import in_force, printed_figure

Json = Mapping[str, Any]
WORDS = {"passed": "Passes", "failed": "Fails", "cannot tell": "Cannot be told", "not applicable": "Does not apply"}
SHOWN = {"passed": 2, "failed": 2, "cannot tell": 2, "not applicable": 1}
"""Examples of each outcome that are shown."""
REASONS = {
    "within uncertainty": "the limit is within the uncertainty",
    "applicability": "so that it is not known whether it applies",
    "no value in force": "no value is in force",
}
"""Reasons that a reader is told in words; of the others the facts tell enough."""
FAR = 1e30
"""Distance from a limit of a case that compares no number."""


class WrongCases(Exception):
    """Cases of the pack come out otherwise than they say: examples made from them would mislead."""

    def __init__(self, pack: Pack, count: int) -> None:
        told = "a case comes" if count == 1 else f"{count} cases come"
        super().__init__(f"{told} out otherwise than {pack.shown}/cases.yaml says")
        self.pack = pack


@frozen
class Example:
    """One case as a reader sees it: outcome, what is known, the day where that matters."""

    outcome: str
    words: str


def tried_cases(pack: Pack, registry: Registry) -> dict[str, list[Json]]:
    """Rule -> its cases, of the pack and of those that it extends, as far as their limits still hold.

    Raises:
        WrongCases: a case that comes out otherwise.

    """
    found: dict[str, list[Json]] = {}
    for writer in pack.lineage():
        cases = _right_cases(writer, registry)
        for rule in pack.rules:
            mine = [case for case in cases if case["rule"] == rule.id]
            if mine and rule.id not in found and all(_still_holds(name, pack, writer) for name in limit_names(rule)):
                found[rule.id] = mine
    return found


def _still_holds(limit: str, pack: Pack, writer: Pack) -> bool:
    return pack.origins[limit].by == writer.origins[limit].by if limit in writer.origins else False


def _right_cases(pack: Pack, registry: Registry) -> list[Json]:
    results = run_cases(pack, registry)
    wrong = sum(not result.right for result in results)
    if wrong:
        raise WrongCases(pack, wrong)
    found: list[Json] = read_document(pack.folder / "cases.yaml").data["cases"] if results else []
    return found


def examples_of(rule: Rule, cases: Iterable[Json], speaker: Speaker) -> list[dict[str, Any]]:
    """The examples of a rule by outcome, those nearest to its limit first, none of them twice in other words."""
    teller = _Teller(rule, speaker)
    ranked = sorted(cases, key=teller.rank)
    found = []
    for outcome, word in WORDS.items():
        mine: dict[Any, str] = {}
        for case in ranked:
            if _comes_out(case, outcome):
                mine.setdefault(teller.likeness(case), teller.words(case))
        shown = list(dict.fromkeys(mine.values()))
        if shown:
            found.append({"outcome": outcome, "word": word, "examples": shown[: SHOWN[outcome]]})
    return found


def _comes_out(case: Json, outcome: str) -> bool:
    return bool(case["expect"]["outcome"] == outcome)


class _Teller:
    def __init__(self, rule: Rule, speaker: Speaker) -> None:
        self.rule, self.speaker = rule, speaker
        self.leaf = next(leaves(rule.require), None) if rule.require else None
        self.about_where = set(facts_asked(rule.where)) if rule.where else set()
        self.about_due = set(facts_asked(rule.require)) if rule.require else set()

    def rank(self, case: Json) -> tuple[bool, bool, bool, float]:
        """Cases of the limits in force last first, then those without uncertainty, then those nearest to the limit.

        Of those that cannot be told, first those that say how near is too near.
        """
        newest, within = (
            self.is_newest(date.fromisoformat(case["date"])),
            case["expect"].get("reason") != "within uncertainty",
        )
        wanted = case["expect"]["outcome"] == "cannot tell"
        return not newest, within, self.is_uncertain(case) != wanted, self.distance(case)

    def is_newest(self, day: date) -> bool:
        """Whether each limit of the rule has the value that is in force last."""
        limits = [self.speaker.pack.limits[name] for name in limit_names(self.rule) if name in self.speaker.pack.limits]
        return all(in_force(limit.versions, day) is limit.versions[-1] for limit in limits)

    def distance(self, case: Json) -> float:
        """How far the value of the first comparison is from its bound, in the bound's unit."""
        bound, leaf = self.bound(), self.leaf
        if bound is None or leaf is None or not isinstance(leaf.measure, FactOf):
            return FAR
        name = leaf.measure.name
        given = next((each["facts"][name] for each in case["subjects"] if name in each.get("facts", {})), None)
        return _distance(given.get("value") if isinstance(given, dict) else given, *bound)

    def likeness(self, case: Json) -> Any:
        """What two cases have in common that tell the same: a reason, a distance from the limit, or else the words."""
        if "reason" in case["expect"]:
            return case["expect"]["reason"]
        distance = self.distance(case)
        return (f"{distance:.9g}", self.is_uncertain(case)) if distance < FAR else self.words(case)

    def is_uncertain(self, case: Json) -> bool:
        """Whether some fact of the case has an interval, or no value."""
        facts = [value for subject in case["subjects"] for value in subject.get("facts", {}).values()]
        return any(isinstance(value, dict) and not _is_exact(value) for value in facts)

    def bound(self) -> tuple[Decimal, str] | None:
        """What the first comparison compares with: the limit's value that is in force last."""
        if self.leaf is None or not isinstance(self.leaf, Leaf):
            return None
        bound = self.leaf.bounds[0]
        if bound.limit is not None:
            limit = self.speaker.pack.limits.get(bound.limit)
            version = limit.versions[-1] if limit and limit.versions else None
            return (version.value, version.unit) if version and version.value is not None else None
        return (bound.value, bound.unit) if isinstance(bound.value, Decimal) else None

    def words(self, case: Json) -> str:
        """What the case gives, with the reason of what cannot be told, and the day where another value was in force."""
        told = "; ".join(self.subjects(case)) or "nothing of the kind is there"
        reason = REASONS.get(case["expect"].get("reason", ""), "") if _comes_out(case, "cannot tell") else ""
        told += f" ({reason})" if reason else ""
        return told if self.is_newest(date.fromisoformat(case["date"])) else f"{told}, on {case['date']}"

    def subjects(self, case: Json) -> Iterator[str]:
        kinds = [subject["kind"] for subject in case["subjects"]]
        for subject in case["subjects"]:
            label = f"{_last_name(subject['key'])}: " if kinds.count(subject["kind"]) > 1 else ""
            facts = [self.fact(name, value) for name, value in self.wanted(subject, case)]
            facts += [f'"{self.speaker.rule_title(rule)}" {word}' for rule, word in subject.get("verdicts", {}).items()]
            if facts:
                yield label + ", ".join(facts)

    def wanted(self, subject: Json, case: Json) -> list[tuple[str, Any]]:
        """The facts worth telling: of a case that applies, not those that only say that it does."""
        facts = list(subject.get("facts", {}).items())
        if case["expect"]["outcome"] == "not applicable" and self.about_where:
            return [(name, value) for name, value in facts if name in self.about_where]
        if case["expect"].get("reason") == "applicability" and any(_is_open(value) for _, value in facts):
            return [(name, value) for name, value in facts if _is_open(value)]
        only = self.about_where - self.about_due
        return [(name, value) for name, value in facts if name not in only or _is_open(value)]

    def fact(self, name: str, value: Any) -> str:
        """A fact of a case in words."""
        title, declared = self.speaker.title(name), self.speaker.facts.get(name)
        inner = value.get("value") if isinstance(value, dict) else value
        if _is_open(value):
            return f"{title} is {'not stated' if 'not_stated' in value else 'not known'}"
        if isinstance(inner, bool):
            return f"{title.removeprefix('whether ')}: {'yes' if inner else 'no'}"
        return f"{title} {_value_words(value, declared.unit if declared else None)}"


def _last_name(key: str) -> str:
    """What tells a subject apart from others of its kind: the last part of its key."""
    return key.rpartition(":")[2].rpartition("/")[2]


def _is_open(value: Any) -> bool:
    return isinstance(value, dict) and "value" not in value


def _is_exact(value: Json) -> bool:
    if "value" not in value:
        return False
    around = str(value.get("uncertainty", "0")).split()[0]
    return "low" not in value and float(around) == 0


def _value_words(value: Any, unit: str | None) -> str:
    if not isinstance(value, dict):
        return ", ".join(map(str, value)) if isinstance(value, list) else _figure(value, unit)
    words = _value_words(value["value"], unit)
    if "low" in value:
        return f"{words} (from {_figure(value['low'], unit)} to {_figure(value['high'], unit)})"
    return words if _is_exact(value) else f"{words} ± {_figure(value['uncertainty'], unit)}"


def _figure(value: Any, unit: str | None) -> str:
    """A number with its unit as printed; text as it is."""
    try:
        return printed_figure(*_pair(parse_quantity(str(value), unit))) if unit else str(value)
    except QuantityError:
        return str(value)


def _pair(quantity: Quantity) -> tuple[Decimal, str]:
    return quantity.digits, quantity.unit


def _distance(value: Any, bound: Decimal, unit: str) -> float:
    if isinstance(value, bool) or value is None:
        return FAR
    try:
        found = parse_quantity(str(value), unit)
        return abs(convert(found.value, found.unit, unit) - float(bound))
    except QuantityError:
        return FAR
