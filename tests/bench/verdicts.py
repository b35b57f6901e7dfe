"""Verdicts a second on one core, against a floor of bare Python comparisons in the same run.

Run: python tests/bench/verdicts.py

1,000 rules on 100 subjects whose facts are known: 60 % one numeric comparison, 20 % composites of three, 10 % `one_of`,
10 % `exists`. Outcome, margin and uncertainty are made as columns. Columns of facts are kept for all rules that compare
in the same unit, as a run does; how long it takes to make them from records is printed apart.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from time import perf_counter

from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Measured
from afield.core.rules import (
    Bound,
    Column,
    CompiledRule,
    Condition,
    FactOf,
    Group,
    Leaf,
    Limit,
    Measure,
    Version,
    column_of,
    compile_rule,
)

RULES, SUBJECTS, FACTS = 1_000, 100, 200
TARGET = 300_000
DAY = date(2026, 6, 27)
COMPARISONS = ("at_most", "at_least", "below", "above", "between")
WORDS = ("line", "area", "point", "ring")


def facts() -> dict[str, Fact]:
    """Half numbers in metres, half text."""
    numbers = {f"number.n{index}": Fact(f"number.n{index}", "claim", unit="m") for index in range(FACTS // 2)}
    texts = {f"text.t{index}": Fact(f"text.t{index}", "claim", type="text") for index in range(FACTS // 2)}
    return numbers | texts


def records(chance: random.Random) -> dict[str, list[Measured]]:
    """The values of all facts for all subjects; numbers with an uncertainty of 0 to 5 m."""
    return {
        name: [_number(chance) if fact.type == "number" else Measured(chance.choice(WORDS)) for _ in range(SUBJECTS)]
        for name, fact in facts().items()
    }


def _number(chance: random.Random) -> Measured:
    value, around = chance.uniform(0, 100), chance.uniform(0, 5)
    return Measured(value, "m", value - around, value + around)


def limits(chance: random.Random) -> dict[str, Limit]:
    """Fifty limits, half of them in feet."""
    names = [f"limit-{index}" for index in range(50)]
    return {
        name: Limit(
            name, (Version(date(2020, 1, 1), None, Decimal(chance.randint(5, 95)), chance.choice(("m", "ft"))),)
        )
        for name in names
    }


def numeric_leaf(chance: random.Random) -> Leaf:
    """One comparison of a number with a limit."""
    comparison = chance.choice(COMPARISONS)
    measure = FactOf(f"number.n{chance.randrange(FACTS // 2)}")
    if comparison == "between":
        return Leaf(measure, comparison, (Bound(value=Decimal(20), unit="m"), Bound(value=Decimal(60), unit="m")))
    return Leaf(measure, comparison, (Bound(limit=f"limit-{chance.randrange(50)}"),))


def conditions(chance: random.Random) -> list[Condition]:
    """The mix of conditions, in random order."""
    one_of = tuple(Bound(value=word) for word in WORDS[:2])
    mix: list[Condition] = [numeric_leaf(chance) for _ in range(RULES * 6 // 10)]
    mix += [
        Group(chance.choice(("all", "any", "none")), tuple(numeric_leaf(chance) for _ in range(3)))
        for _ in range(RULES * 2 // 10)
    ]
    mix += [Leaf(FactOf(f"text.t{index % 100}"), "one_of", one_of) for index in range(RULES // 10)]
    mix += [Leaf(FactOf(f"text.t{index % 100}"), "exists", (Bound(value=True),)) for index in range(RULES // 10)]
    chance.shuffle(mix)
    return mix


class Columns:
    """Makes each column once."""

    def __init__(self, values: dict[str, list[Measured]]) -> None:
        self.values, self.made = values, dict[tuple[Measure, str | None], Column]()
        self.types = {name: fact.type for name, fact in facts().items()}

    def __call__(self, measure: Measure, unit: str | None) -> Column:
        """The column of a fact in a unit."""
        column = self.made.get((measure, unit))
        if column is None:
            assert isinstance(measure, FactOf)
            column = column_of(self.values[measure.name], unit, self.types[measure.name])
            self.made[measure, unit] = column
        return column


def best_seconds(work: Callable[[], object], times: int = 5) -> float:
    """The least of several timings."""
    spans = []
    for _ in range(times):
        start = perf_counter()
        work()
        spans.append(perf_counter() - start)
    return min(spans)


def judge_all(rules: list[CompiledRule], columns: Columns) -> int:
    """Judges every rule on every subject; how many verdicts there were."""
    return sum(len(rule.judge(columns, SUBJECTS)) for rule in rules)


def bare_comparisons(values: list[float], times: int) -> None:
    """What plain Python does at best: one comparison a value, one list a rule, nothing else."""
    for bound in range(times):
        [value <= bound for value in values]


def main() -> None:
    """Prints the figures."""
    chance = random.Random(7)
    values, known_limits, mix = records(chance), limits(chance), conditions(chance)
    declared = facts()

    def compiled() -> list[CompiledRule]:
        return [compile_rule(condition, None, DAY, known_limits, declared) for condition in mix]

    rules = compiled()
    columns = Columns(values)
    start = perf_counter()
    verdicts = judge_all(rules, columns)
    cold = perf_counter() - start
    assert verdicts == RULES * SUBJECTS
    warm = best_seconds(lambda: judge_all(rules, columns))
    numbers = [record.value for record in values["number.n0"]]
    floor = best_seconds(lambda: bare_comparisons(numbers, RULES))
    print(f"{RULES} rules x {SUBJECTS} subjects = {verdicts} verdicts with outcome, margin and uncertainty")
    print(f"judged, facts known:            {verdicts / warm:12,.0f} verdicts/s (target {TARGET:,})")
    print(f"bare Python comparisons:        {verdicts / floor:12,.0f} comparisons/s")
    print(f"ratio to the floor:             {warm / floor:12.1f} x")
    print(f"judged, columns made from records: {verdicts / cold:9,.0f} verdicts/s ({len(columns.made)} columns)")
    print(f"compiling:                      {RULES / best_seconds(compiled):12,.0f} rules/s")


if __name__ == "__main__":
    main()
