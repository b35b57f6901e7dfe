from collections.abc import Callable, Sequence
from dataclasses import replace
from graphlib import CycleError
from itertools import product
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.rules import (
    CANNOT_TELL,
    FAILED,
    NOT_APPLICABLE,
    PASSED,
    Condition,
    Gathered,
    Member,
    aggregate_column,
    aggregate_interval,
    cycles,
    judging_order,
)
from afield.core.rules.columns import KNOWN, NO_MEMBER, UNTOLD

P, F, C, N = PASSED, FAILED, CANNOT_TELL, NOT_APPLICABLE


def watts(value: float, around: float = 0.0, **parts: float) -> Measured:
    return Measured(value, "W", value - around, value + around, parts)


def interval(gathered: Gathered) -> tuple[float, float, float]:
    assert gathered.record is not None
    assert gathered.record.low is not None
    assert gathered.record.high is not None
    return gathered.record.low, gathered.record.value, gathered.record.high


def test_a_count_runs_from_those_that_count_to_those_that_may() -> None:
    members = [Member(P), Member(C), Member(F), Member(P), Member(N), Member(C)]
    assert interval(aggregate_interval("count", members)) == (2, 2, 4)
    assert interval(aggregate_interval("count", [])) == (0, 0, 0)


def test_equal_members_count_once() -> None:
    def member(outcome: int, *names: str) -> Member:
        return Member(outcome, distinct=tuple(Measured(name) for name in names))

    members = [member(P, "a", "x"), member(P, "a", "x"), member(P, "a", "y"), member(C, "a", "x"), member(C, "b", "x")]
    assert interval(aggregate_interval("count", members, distinct=True)) == (2, 2, 3)


def test_a_member_of_unknown_identity_may_equal_another() -> None:
    unnamed = Member(P, distinct=(unknown(Reason("not stated", "no name")),))
    named = Member(P, distinct=(Measured("a"),))
    assert interval(aggregate_interval("count", [named, unnamed], distinct=True)) == (1, 1, 2)
    assert interval(aggregate_interval("count", [unnamed, unnamed], distinct=True)) == (1, 1, 2)


def test_a_sum_adds_what_the_undecided_may_add() -> None:
    members = [Member(P, watts(5, 1)), Member(C, watts(3, 1)), Member(C, watts(-3, 1)), Member(F, watts(99))]
    assert interval(aggregate_interval("sum", members)) == (5 - 1 - 4, 5, 5 + 1 + 4)
    # An undecided member that may be of either sign may also add nothing.
    assert interval(aggregate_interval("sum", [Member(C, watts(1, 2))])) == (-1, 0, 3)


def test_errors_of_one_origin_cancel_in_a_sum_and_others_add_in_quadrature() -> None:
    same = [Member(P, watts(5, 3, meter=3.0)), Member(P, watts(5, 3, meter=-3.0))]
    assert interval(aggregate_interval("sum", same)) == (10, 10, 10)
    apart = [Member(P, watts(5, 3, one=3.0)), Member(P, watts(5, 4, other=4.0))]
    assert interval(aggregate_interval("sum", apart)) == (5, 10, 15)
    unnamed = [Member(P, watts(5, 3)), Member(P, watts(5, 4))]
    assert interval(aggregate_interval("sum", unnamed)) == (3, 10, 17)


@pytest.mark.parametrize(("how", "expected"), [("least", (1, 3, 4)), ("greatest", (4, 5, 9))])
def test_least_and_greatest_are_drawn_out_by_the_undecided(how: str, expected: tuple[float, float, float]) -> None:
    members = [Member(P, watts(5, 1)), Member(P, watts(3, 1)), Member(C, watts(2, 1)), Member(C, watts(8, 1))]
    assert interval(aggregate_interval(how, members)) == expected


@pytest.mark.parametrize("how", ["least", "greatest"])
def test_the_least_of_no_sure_member_cannot_be_told_or_does_not_apply(how: str) -> None:
    assert aggregate_interval(how, [Member(F, watts(3))]) == Gathered(None)
    undecided = aggregate_interval(how, [Member(C, watts(3), subject="contact:1"), Member(C, watts(4))])
    assert undecided.record is not None
    assert undecided.record.reason == Reason(
        "within uncertainty", "whether contact:1 and 1 more counts cannot be told", None, "contact:1"
    )


@pytest.mark.parametrize("how", ["sum", "least", "greatest"])
@pytest.mark.parametrize("outcome", [P, C])
def test_a_member_without_the_fact_is_the_reason_that_it_cannot_be_told(how: str, outcome: int) -> None:
    reason = Reason("not stated", "the power is not stated", "kit", "contact:2")
    gathered = aggregate_interval(how, [Member(P, watts(3)), Member(outcome, unknown(reason, unit="W"))])
    assert gathered.record is not None
    assert gathered.record.reason == replace(reason, code="missing input")
    assert interval(aggregate_interval(how, [Member(P, watts(3)), Member(F, unknown(reason))])) == (3, 3, 3)


MEMBERS = st.lists(
    st.tuples(st.sampled_from([P, F, C, N]), st.integers(-9, 9), st.integers(0, 4)).map(
        lambda m: Member(m[0], watts(m[1], m[2]))
    ),
    max_size=5,
)


@given(st.sampled_from(["count", "sum", "least", "greatest"]), MEMBERS)
def test_however_the_undecided_turn_out_the_value_is_in_the_interval(how: str, members: list[Member]) -> None:
    gathered = aggregate_interval(how, members)
    if gathered.record is None or not gathered.record.known:
        return
    low, _, high = interval(gathered)
    settled = [_settled(members, turns) for turns in product((P, F), repeat=len(members))]
    possible = [_plain(how, end, counted) for counted in settled for end in (-1, 0, 1)]
    assert low <= min(possible)
    assert max(possible) <= high


def _settled(members: Sequence[Member], turns: Sequence[int]) -> list[Measured]:
    """The records that count once every undecided member has turned out."""
    outcomes = [turn if member.outcome == C else member.outcome for member, turn in zip(members, turns, strict=True)]
    return [m.record for m, outcome in zip(members, outcomes, strict=True) if outcome == P and m.record is not None]


def _plain(how: str, end: int, counted: Sequence[Measured]) -> float:
    values: list[float] = [record.value + end * record.uncertainty for record in counted]
    if how == "count":
        return len(values)
    return sum(values) if how == "sum" else (min if how == "least" else max)(values)


def test_a_column_of_aggregates_is_in_the_bounds_unit() -> None:
    doubt = Reason("within uncertainty", "x")
    silent = Gathered(unknown(Reason("missing input", "y")))
    column = aggregate_column([Gathered(watts(5, 1), doubt), Gathered(None), silent], "mW")
    assert (column.low[0], column.value[0], column.high[0]) == (4000.0, 5000.0, 6000.0)
    assert column.state == bytes([KNOWN, NO_MEMBER, UNTOLD])
    assert list(column.doubts) == [doubt, None, None]
    assert column.value[0] < inf


def rules(read: Callable[..., Condition], **asked: list[str]) -> dict[str, list[Condition]]:
    far = {"fact": "place.farthest", "at_most": "3 m"}
    return {
        name: [read({"all": [far, *[_counting(other) for other in others]]})] for name, others in asked.items()
    }  # fmt: skip


def _counting(rule: str) -> dict[str, object]:
    return {"count": "contact", "where": {"verdict": rule, "is": "passed"}, "at_least": 1}


def test_rules_that_wait_for_each_other_are_found(read: Callable[..., Condition]) -> None:
    asked = rules(read, a=["b"], b=["c"], c=["b"], d=["d"], e=["a"])
    assert cycles(asked) == [["b", "c", "b"], ["d", "d"]]
    with pytest.raises(CycleError):
        judging_order(asked)


def test_rules_are_judged_after_those_that_they_ask(read: Callable[..., Condition]) -> None:
    asked = rules(read, a=["b", "c"], b=["c"], c=[], d=["elsewhere"])
    assert cycles(asked) == []
    order = judging_order(asked)
    assert sorted(order) == ["a", "b", "c", "d"]
    assert order.index("c") < order.index("b") < order.index("a")
