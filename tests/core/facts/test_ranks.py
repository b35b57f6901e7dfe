"""Which of several values is in force: case > measured > logged > stated > computed."""

from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.measured import RANKS, CannotTell, Estimate, Measured


@pytest.mark.parametrize("order", list(permutations(RANKS[1:]))[::5])
def test_the_strongest_rank_is_in_force_in_whatever_order_they_come(
    world: Any, toy: Any, order: tuple[str, ...]
) -> None:
    fact = toy.finding("wall.gap", lambda: 1.0)
    records = [toy.number(float(RANKS.index(rank)), rank=rank) for rank in order]
    found = world([fact], {("trip", "wall.gap"): records}).value("trip", "wall.gap")
    chain = []
    record: Measured | None = found
    while record is not None:
        chain.append(record.rank)
        record = record.displaced
    assert chain == ["case", "measured", "logged", "stated", "computed"]


@given(st.sets(st.sampled_from(RANKS[1:]), min_size=1))
def test_of_any_ranks_the_strongest_is_in_force(ranks: set[str]) -> None:
    from afield.core.facts.declarations import Fact, Kind
    from afield.core.facts.subjects import Subject
    from afield.core.facts.world import World

    records = [Measured(rank, rank=rank) for rank in sorted(ranks)]
    table = {("trip", "wall.note"): records}
    subjects = {"trip": Subject("trip", "trip", "trip")}
    made = World({"wall.note": Fact("wall.note", "trip", "text")}, {"trip": Kind("trip", ())}, subjects, table)
    assert made.value("trip", "wall.note").rank == max(ranks, key=RANKS.index)


def test_a_reading_keeps_the_computed_record_with_its_detail(world: Any, toy: Any) -> None:
    fact = toy.finding("wall.gap", lambda: Estimate(1.0, detail={"end": "top"}))
    found = world([fact], {("trip", "wall.gap"): toy.number(2.0, 0.1, "tape", "measured")}).value("trip", "wall.gap")
    assert (found.value, found.rank, dict(found.detail)) == (2.0, "measured", {})
    assert found.displaced is not None
    assert (found.displaced.value, found.displaced.rank, found.displaced.detail) == (1.0, "computed", {"end": "top"})


def test_a_computed_value_that_cannot_be_told_is_not_kept_under_a_reading(world: Any, toy: Any) -> None:
    def silent() -> float:
        raise CannotTell("the wall is not built yet")

    found = world([toy.finding("wall.gap", silent)], {("trip", "wall.gap"): toy.number(2.0, rank="measured")})
    assert found.value("trip", "wall.gap").displaced is None


def test_in_a_case_no_function_is_called_and_what_is_not_given_is_missing(world: Any, toy: Any) -> None:
    def never() -> float:
        raise AssertionError("a case called a fact function")

    found = world([toy.finding("wall.gap", never, title="gap")], computes=False).value("trip", "wall.gap")
    assert (found.reason.code, found.reason.text) == ("missing input", "the case does not give wall.gap")
    assert (found.reason.settle, found.reason.subject) == ("wall.gap", "trip")


def test_a_logged_value_is_in_force_over_the_stated_one_and_under_a_measured_one(world: Any, toy: Any) -> None:
    fact = toy.finding("wall.gap", lambda: 1.0)
    stated, logged = toy.number(2.0), toy.number(3.0, rank="logged")
    key = ("trip", "wall.gap")
    assert world([fact], {key: [logged, stated]}).value(*key).value == 3.0
    assert world([fact], {key: [logged, toy.number(4.0, rank="measured")]}).value(*key).value == 4.0


def test_each_value_is_found_once(world: Any, toy: Any) -> None:
    calls: list[int] = []

    def counted() -> float:
        calls.append(1)
        return 7.0

    fact = toy.finding("wall.gap", counted)
    found = world([fact])
    assert [found.value("trip", "wall.gap").value for _ in range(3)] == [7.0, 7.0, 7.0]
    assert calls == [1]
    assert list(found.known_records()) == [("trip", "wall.gap")]
