"""What conditions demand, against brute force."""

from __future__ import annotations

from datetime import date
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from afield.core.authoring.lint.demands import Demand, demands_of
from afield.core.facts.declarations import Fact
from afield.core.rules.comparisons import OUTCOMES
from afield.core.rules.condition_reading import read_condition

FACTS = {"a.length": Fact("a.length", "trip", unit="m"), "a.word": Fact("a.word", "trip", "text")}
DAY = date(2026, 6, 27)
LEAVES = st.one_of(
    st.tuples(st.sampled_from(["at_most", "at_least", "below", "above", "is"]), st.integers(-3, 3).map(lambda n: [n])),
    st.tuples(st.just("between"), st.lists(st.integers(-3, 3), min_size=2, max_size=2).map(sorted)),
)
CONDITIONS = st.lists(LEAVES, min_size=1, max_size=3)
PLACES = [step / 2 for step in range(-8, 9)]
"""Every figure of the conditions, and a value between each two and beyond them."""


def read(data: Any) -> Any:
    condition, complaints = read_condition(data, (), FACTS, {})
    assert not complaints
    return demands_of(condition, DAY, {}, FACTS)


def written(leaves: list[tuple[str, list[int]]]) -> dict[str, Any]:
    bounds = {name: [f"{100 * number} cm" for number in numbers] for name, numbers in leaves}
    assert bounds
    return {
        "all": [
            {"fact": "a.length", name: [f"{100 * n} cm" for n in numbers] if name == "between" else f"{numbers[0]} m"}
            for name, numbers in leaves
        ]
    }


def met(leaves: list[tuple[str, list[int]]]) -> set[float]:
    return {
        value for value in PLACES
        if all(OUTCOMES[name]((value,), (value,), [float(n) for n in numbers])[0] == 0 for name, numbers in leaves)
    }  # fmt: skip


@given(CONDITIONS, CONDITIONS)
def test_conditions_exclude_each_other_where_no_value_meets_both(one: Any, other: Any) -> None:
    first, second = met(one), met(other)
    expected = bool(first) and bool(second) and not first & second
    assert bool(read(written(one)).excludes(read(written(other)))) == expected
    assert bool(read(written(other)).excludes(read(written(one)))) == expected


@given(CONDITIONS)
def test_units_do_not_matter(leaves: Any) -> None:
    metres = {"all": [
        {"fact": "a.length", name: [f"{n} m" for n in numbers] if name == "between" else f"{numbers[0]} m"}
        for name, numbers in leaves
    ]}  # fmt: skip
    assert read(metres) == read(written(leaves))


def test_words_exclude_each_other_where_they_share_none() -> None:
    red, cold = (read({"fact": "a.word", "one_of": words}) for words in (["red", "pink"], ["blue"]))
    assert red.excludes(cold) == ["a.word"]
    assert red.excludes(read({"fact": "a.word", "one_of": ["pink", "blue"]})) == []


def test_what_any_and_none_join_is_not_all_that_is_said() -> None:
    either = read({"any": [{"fact": "a.length", "at_most": "1 m"}, {"fact": "a.word", "is": "red"}]})
    assert (either.of, either.whole) == ({}, False)
    assert read({"none": [{"fact": "a.length", "at_most": "1 m"}]}).whole is False
    assert read({"any": [{"fact": "a.word", "is": "red"}]}).of == {"a.word": Demand(words=frozenset(["red"]))}


def test_without_a_condition_nothing_is_demanded() -> None:
    assert demands_of(None, DAY, {}, FACTS).of == {}
