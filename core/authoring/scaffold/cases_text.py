"""cases.yaml as commented text: below, at and above each limit, its first day, its uncertainty, what is not known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from afield.core.authoring.scaffold.answers import Answers, Chosen, Item
from afield.core.authoring.scaffold.flow import flow
from afield.core.authoring.scaffold.pack_text import schema_line
from afield.core.authoring.scaffold.rules_text import judged_kind
from afield.core.facts.declarations import Fact
from afield.core.frozen import frozen
from afield.core.quantities import Quantity, convert, parse_quantity

HEAD = """\
{schema}
#
# Examples with their answers. `afield pack test ./{id}` judges each of them and compares: when you change a
# limit, change its examples too, and see that all come out right. Each says what is known (subjects), on which day,
# and what must come out: passed, failed, cannot tell or not applicable; `margin` is the room left, below 0 what lacks.

cases:
"""


@frozen
class _Bound:
    """What a rule compares with: the figure, one step of its last printed digit, and in which direction there is room.

    Attributes:
        inward: -1 where less passes, 1 where more does.

    """

    figure: Decimal
    unit: str
    step: Decimal
    inward: int

    def words(self, number: Decimal) -> str:
        return f"{number:f} {self.unit}".rstrip()

    def given(self, number: Decimal) -> Any:
        """A value as a case states it: a count as a number."""
        if self.unit:
            return self.words(number)
        return int(number) if number == int(number) else float(number)

    def room(self, steps: int) -> Decimal:
        """The value that has so many steps of room."""
        return self.figure + steps * self.inward * self.step


def cases_yaml(answers: Answers, facts: Mapping[str, Fact]) -> str:
    """The text of cases.yaml."""
    cases = [case for chosen in answers.chosen for case in _Cases(chosen, answers, facts).all()]
    cases += [case for item in answers.items for case in _item_cases(item, answers)]
    return HEAD.format(schema=schema_line("cases"), id=answers.id) + "\n".join(cases)


class _Cases:
    def __init__(self, chosen: Chosen, answers: Answers, facts: Mapping[str, Fact]) -> None:
        self.starter, self.answers, self.facts = chosen.starter, answers, facts
        self.kind = judged_kind(chosen, answers)
        self.fact, self.figure = facts[chosen.starter.fact], chosen.figure
        bound = parse_quantity(self.starter.bound, self.fact.unit or "") if self.starter.bound else chosen.figure
        self.bound = _bound(bound, self.starter.comparison, self.fact)

    def all(self) -> Iterator[str]:
        """The cases of the rule."""
        yield from self.around_the_limit()
        yield from self.uncertain()
        yield from self.first_day()
        yield self.unknown()
        if self.starter.where:
            yield self.elsewhere(self.starter.where)
        if self.starter.greatest:
            yield self.gathered(self.starter.greatest)

    def around_the_limit(self) -> Iterator[str]:
        bound = self.bound
        for steps, name in ((1, "just inside the limit"), (0, "exactly at the limit"), (-1, "just outside the limit")):
            number = bound.room(steps)
            if self.can_be(number):
                expect = {"outcome": "failed" if steps < 0 else "passed", "margin": bound.words(steps * bound.step)}
                weight = {} if steps else {"severity": self.starter.severity}
                yield self.case(f"{name}, {bound.words(number)}", self.value(number), {**expect, **weight})

    def can_be(self, number: Decimal) -> bool:
        """Whether the fact can have that value, in the bound's unit."""
        least = self.fact.least
        return least is None or convert(float(number), self.bound.unit, self.fact.unit or "") >= least

    def uncertain(self) -> Iterator[str]:
        bound = self.bound
        number = bound.room(1)
        name = f"{bound.words(number)}, give or take {bound.words(bound.step)}"
        value = {"value": bound.given(number), "uncertainty": bound.given(bound.step)}
        if self.can_be(number):
            yield self.case(name, value, {"outcome": "passed", "margin": bound.words(bound.step)})
        name = f"{bound.words(bound.figure)}, give or take {bound.words(bound.step)}"
        value = {"value": bound.given(bound.figure), "uncertainty": bound.given(bound.step)}
        yield self.case(name, value, {**self.undecided(), "margin": bound.words(Decimal(0))})

    def undecided(self) -> dict[str, str]:
        """What comes out where the limit lies within the uncertainty of a value that meets it."""
        if self.starter.decision == "simple":
            return {"outcome": "passed"}
        return {"outcome": "cannot tell", "reason": "within uncertainty"}

    def first_day(self) -> Iterator[str]:
        """What is in force on the first day and not on the day before: the limit, and what pack.yaml says."""
        at, program = self.value(self.bound.figure), self.program()
        said = {"program": program} if program else {}
        yield self.case("on the first day", at, {"outcome": "passed", **said}, self.answers.since)
        before = self.answers.since - timedelta(days=1)
        lapsed = {"outcome": "cannot tell", "reason": "no value in force"}
        expect: dict[str, Any] = {"outcome": "passed"} if self.starter.bound else lapsed
        said = {"program": dict.fromkeys(program)} if program else {}
        yield self.case("on the day before", at, {**expect, **said}, before)

    def program(self) -> dict[str, Any]:
        """What the program then says of itself, a limit by its figure."""
        facts = self.starter.program.items()
        return {name: str(self.figure) if isinstance(value, Mapping) else value for name, value in facts}

    def unknown(self) -> str:
        expect = {"outcome": "cannot tell", "reason": "missing input"}
        return self.case("nobody knows", {"unknown": "missing input"}, expect)

    def elsewhere(self, where: Mapping[str, str]) -> str:
        name = f"where the {self.facts[where['fact']].title} is {where['otherwise']}"
        value = self.value(self.bound.figure)
        return self.case(name, value, {"outcome": "not applicable"}, where_value=where["otherwise"])

    def gathered(self, kind: str) -> str:
        """Of two that are gathered the greater one decides."""
        at, less = (self.value(self.bound.room(steps)) for steps in (0, -1))
        day = self.answers.since + timedelta(days=1)
        second = {"kind": kind, "key": f"{self.key(kind)}-too", "facts": {self.starter.fact: less}}
        subjects = [*self.subjects({self.starter.fact: at}), second]
        name = f"{self.starter.limit}: the greater of two decides"
        expect = {"outcome": "passed", "margin": self.bound.words(Decimal(0))}
        return case_text(name, self.starter.rule, day, subjects, expect)

    def value(self, number: Decimal) -> Any:
        given = self.bound.given(number)
        return given if self.fact.exact else {"value": given, "uncertainty": self.bound.given(Decimal(0))}

    def case(
        self, name: str, value: Any, expect: Mapping[str, Any], day: date | None = None, where_value: str | None = None
    ) -> str:
        facts = {self.starter.fact: value}
        if self.starter.where:
            facts[self.starter.where["fact"]] = where_value or self.starter.where["is"]
        # The second day: it is not the edge of anything.
        on = day or self.answers.since + timedelta(days=1)
        return case_text(f"{self.starter.limit}: {name}", self.starter.rule, on, self.subjects(facts), expect)

    def subjects(self, given: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
        """The subject that is judged first, then those that the other facts are of."""
        kinds = dict.fromkeys([self.kind, *(self.facts[name].kind for name in given)])
        for kind in kinds:
            facts = {name: value for name, value in given.items() if self.facts[name].kind == kind}
            entry: dict[str, Any] = {"kind": kind, "key": self.key(kind)}
            yield {**entry, "facts": facts} if facts else entry

    def key(self, kind: str) -> str:
        place = self.starter.reference["id"] if self.starter.reference else "example"
        keys = {"trip": "trip", "program": f"program:{self.answers.id}", "claim": f"claim:{self.answers.id}/{place}"}
        return keys.get(kind, f"{kind}:{self.answers.id}/{place}/{self.answers.since + timedelta(days=1)}")


def _bound(figure: Quantity, comparison: str, fact: Fact) -> _Bound:
    exponent = int(figure.digits.as_tuple().exponent)
    step = Decimal(1).scaleb(min(exponent, 0))
    return _Bound(figure.digits, figure.unit, step, -1 if comparison == "at_most" else 1)


def _item_cases(item: Item, answers: Answers) -> Iterator[str]:
    day = answers.since + timedelta(days=1)
    key = "trip" if answers.judges == "trip" else f"program:{answers.id}"
    subjects = [{"kind": answers.judges, "key": key}]
    title = item.text.rstrip(".")
    open_ = {"outcome": "cannot tell", "reason": "to be confirmed"}
    yield case_text(f"{title}: not yet ticked off", item.id, day, subjects, open_)
    done = {"outcome": "passed", "severity": "advised"}
    yield case_text(f"{title}: ticked off", item.id, day, subjects, done, confirmed=True)


def case_text(
    name: str, rule: str, day: date, subjects: Any, expect: Mapping[str, Any], confirmed: bool = False
) -> str:
    """One case in lines."""
    lines = [f"  - name: {flow(name, False)}", f"    rule: {rule}", f"    date: {day}", "    subjects:"]
    lines += [f"      - {flow(subject)}" for subject in subjects]
    lines += ["    confirmed: true"] if confirmed else []
    return "\n".join([*lines, f"    expect: {flow(expect)}"]) + "\n"
