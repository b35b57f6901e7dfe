from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import pytest

from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.rules import (
    CANNOT_TELL,
    FAILED,
    NOT_APPLICABLE,
    PASSED,
    Column,
    CompiledRule,
    Limit,
    Measure,
    column_of,
    compile_rule,
    read_condition,
)
from afield.core.rules.compile import DECISIONS
from afield.core.rules.judge import Judged, agree, narrowed
from afield.core.rules.outcomes import CANNOT_TELL as UNDECIDED

P, F, C, N = PASSED, FAILED, CANNOT_TELL, NOT_APPLICABLE
FAR = {"fact": "place.farthest", "at_most": {"limit": "corridor"}}
LINE = {"fact": "reference.kind", "is": "line"}
WARM = {"fact": "trip.temperature", "at_most": "30 degC"}
NOT_THERE = unknown(Reason("not stated", "it is not stated", "place"))
CRASHED = unknown(Reason("plugin failed", "it failed"))

Compiled = Callable[..., CompiledRule]
Columns = Callable[..., Callable[[Measure, str | None], Column]]


def metres(value: float, around: float = 0.0) -> Measured:
    return Measured(value, "m", value - around, value + around)


def test_a_rule_is_judged_in_columns_of_outcome_margin_and_uncertainty(compiled: Compiled, columns: Columns) -> None:
    records = [metres(30.48), metres(30.49), metres(24.384, 3.048), metres(30.0, 3.048), metres(36.576, 3.048)]
    judged = compiled(FAR).judge(columns({"place.farthest": records}), 5)
    assert list(judged.outcome) == [P, F, P, C, F]
    assert judged.margin == pytest.approx([0.0, -0.032808399, 20.0, 1.57480315, -20.0])
    assert judged.uncertainty == pytest.approx([0.0, 0.0, 10.0, 10.0, 10.0])
    assert list(judged.decider) == [0] * 5
    assert len(judged) == 5


def test_a_simple_decision_judges_the_value_alone(compiled: Compiled, columns: Columns) -> None:
    assert DECISIONS == ("guarded", "simple")
    of = columns({"place.farthest": [metres(30.48, 3.0), metres(30.5, 3.0), NOT_THERE]})
    assert list(compiled(FAR, decision="simple").judge(of, 3).outcome) == [P, F, C]


@pytest.mark.parametrize(
    ("day", "outcome"), [("2023-12-31", C), ("2024-01-01", N), ("2024-12-31", N), ("2025-01-01", P), ("2026-06-27", P)]
)
def test_the_limit_in_force_on_the_day_decides(compiled: Compiled, columns: Columns, day: str, outcome: int) -> None:
    rule = compiled(FAR, day=date.fromisoformat(day))
    judged = rule.judge(columns({"place.farthest": [metres(1.0)]}), 1)
    assert list(judged.outcome) == [outcome]
    assert (judged.margin == [None]) == (outcome != P)


def test_a_limit_never_asked_for_has_no_value_in_force(compiled: Compiled, columns: Columns) -> None:
    rule = compiled(FAR)
    without = compile_rule(rule.condition, None, rule.day, {}, {})
    assert list(without.judge(columns({"place.farthest": [metres(1.0)]}), 1).outcome) == [C]


def test_what_is_not_known_cannot_be_told_and_has_no_margin(compiled: Compiled, columns: Columns) -> None:
    judged = compiled(FAR).judge(columns({"place.farthest": [NOT_THERE, metres(1.0, 0.1), CRASHED]}), 3)
    assert list(judged.outcome) == [C, P, C]
    assert [margin is None for margin in judged.margin] == [True, False, True]
    assert [around is None for around in judged.uncertainty] == [True, False, True]


def test_exists_fails_only_on_a_definite_not_stated(compiled: Compiled, columns: Columns) -> None:
    of = columns({"place.farthest": [metres(1.0), NOT_THERE, CRASHED]})
    assert list(compiled({"fact": "place.farthest", "exists": True}).judge(of, 3).outcome) == [P, F, C]
    assert list(compiled({"fact": "place.farthest", "exists": False}).judge(of, 3).outcome) == [F, P, C]


def test_where_decides_whether_the_rule_applies(compiled: Compiled, columns: Columns) -> None:
    kinds = [Measured("line"), Measured("area"), NOT_THERE, Measured("line")]
    of = columns({"place.farthest": [metres(1.0)] * 3 + [metres(99.0)], "reference.kind": kinds})
    rule = compiled(FAR, where=LINE)
    judged = rule.judge(of, 4)
    assert list(judged.outcome) == [P, N, C, F]
    assert [margin is None for margin in judged.margin] == [False, True, True, False]
    assert list(judged.decider) == [0, 1, 1, 0]
    assert rule.judge(of, 4, rule.applicability(of, 4)) == judged


def test_a_where_that_is_not_applicable_makes_the_rule_so(compiled: Compiled, columns: Columns) -> None:
    rule = compiled(LINE, where=FAR, day=date(2024, 6, 1))
    of = columns({"place.farthest": [metres(1.0)], "reference.kind": [Measured("line")]})
    assert list(rule.judge(of, 1).outcome) == [N]


def test_instants_have_margins_in_minutes(compiled: Compiled, columns: Columns) -> None:
    rule = compiled({"fact": "trip.begins", "below": "2026-06-28T00:00Z"})
    begins = [Measured(datetime(2026, 6, 27, 22, 30, tzinfo=UTC)), Measured("2026-06-28T00:00Z"), Measured("noon")]
    judged = rule.judge(columns({"trip.begins": begins}), 3)
    assert (list(judged.outcome), judged.margin) == ([P, F, C], [90.0, 0.0, None])


def test_bounds_in_two_units_are_compared_in_the_first(compiled: Compiled, columns: Columns) -> None:
    rule = compiled({"fact": "place.farthest", "between": ["10 ft", "30.48 m"]})
    judged = rule.judge(columns({"place.farthest": [metres(30.48), metres(3.048), metres(30.49)]}), 3)
    assert (list(judged.outcome), judged.margin[:2]) == ([P, P, F], [0.0, 0.0])
    assert rule.leaves[0].unit == "ft"


# Deciders: far is 1 m from its limit with U 0.5 m (2 uncertainties), warm 1 degC from its limit with U 0.1 (10).
FAR_M = {"fact": "place.farthest", "at_most": "10 m"}
NEAR_CALL, CLEAR_CALL = metres(9.0, 0.5), Measured(29.0, "degC", 28.9, 29.1)


@pytest.mark.parametrize("operator", ["all", "any"])
def test_the_closest_call_among_those_with_the_outcome_decides(
    compiled: Compiled, columns: Columns, operator: str
) -> None:
    of = columns({"place.farthest": [NEAR_CALL], "trip.temperature": [CLEAR_CALL]})
    judged = compiled({operator: [WARM, FAR_M]}).judge(of, 1)
    assert (list(judged.outcome), judged.margin, judged.decider) == ([P], [1.0], [1])
    assert judged.uncertainty == [0.5]


def test_a_child_of_another_outcome_never_decides(compiled: Compiled, columns: Columns) -> None:
    of = columns({"place.farthest": [metres(10.0, 0.1)], "trip.temperature": [Measured(45.0, "degC", 44.0, 46.0)]})
    judged = compiled({"all": [FAR_M, WARM]}).judge(of, 1)
    assert (list(judged.outcome), judged.margin, judged.decider) == ([F], [-15.0], [1])
    judged = compiled({"any": [WARM, FAR_M]}).judge(of, 1)
    assert (list(judged.outcome), judged.margin, judged.decider) == ([C], [0.0], [1])


def test_the_first_written_decides_where_not_all_are_numeric(compiled: Compiled, columns: Columns) -> None:
    of = columns(
        {"place.farthest": [NEAR_CALL], "trip.temperature": [CLEAR_CALL], "reference.kind": [Measured("line")]}
    )
    judged = compiled({"all": [WARM, LINE, FAR_M]}).judge(of, 1)
    assert (judged.margin, judged.decider) == ([1.0], [0])
    judged = compiled({"all": [LINE, WARM, FAR_M]}).judge(of, 1)
    assert (judged.margin, judged.decider) == ([None], [0])


def test_exact_values_that_tie_leave_the_first_written(compiled: Compiled, columns: Columns) -> None:
    of = columns({"place.farthest": [metres(9.0)], "trip.temperature": [Measured(20.0, "degC")]})
    assert compiled({"all": [WARM, FAR_M]}).judge(of, 1).decider == [0]
    assert compiled({"all": [FAR_M, WARM]}).judge(of, 1).decider == [0]


def test_none_turns_the_outcome_and_the_margin(compiled: Compiled, columns: Columns) -> None:
    of = columns({"place.farthest": [metres(9.0, 0.5), metres(11.0, 0.5), metres(10.0)]})
    judged = compiled({"none": [FAR_M]}).judge(of, 3)
    assert (list(judged.outcome), judged.margin) == ([F, P, F], [-1.0, 1.0, 0.0])
    twice = compiled({"none": [{"none": [FAR_M]}]}).judge(of, 3)
    assert (list(twice.outcome), twice.margin) == ([P, F, P], [1.0, -1.0, 0.0])
    assert str(judged.margin[2]) == "0.0"


def test_children_that_do_not_apply_drop_out(compiled: Compiled, columns: Columns) -> None:
    of = columns({"place.farthest": [metres(1.0)], "trip.temperature": [Measured(45.0, "degC")]})
    day = date(2024, 6, 1)
    assert list(compiled({"all": [FAR, WARM]}, day=day).judge(of, 1).outcome) == [F]
    assert list(compiled({"none": [FAR, WARM]}, day=day).judge(of, 1).outcome) == [P]
    assert list(compiled({"none": [FAR]}, day=day).judge(of, 1).outcome) == [N]


def test_the_decider_of_a_tree_is_a_leaf(compiled: Compiled, columns: Columns) -> None:
    tree = {"all": [WARM, {"any": [{"fact": "place.farthest", "at_most": "3 m"}, FAR_M]}]}
    of = columns({"place.farthest": [NEAR_CALL], "trip.temperature": [CLEAR_CALL]})
    rule = compiled(tree)
    judged = rule.judge(of, 1)
    assert (judged.decider, judged.margin) == ([2], [1.0])
    assert rule.leaves[2].leaf.path == ("require", "all", 1, "any", 1)


def test_no_subjects_give_no_verdicts(compiled: Compiled, columns: Columns) -> None:
    rule = compiled({"all": [FAR, LINE]}, where=LINE)
    assert len(rule.judge(columns({"place.farthest": [], "reference.kind": []}), 0)) == 0


def test_verdicts_on_other_rules_are_asked_as_columns_of_words(compiled: Compiled) -> None:
    words = ["passed", "failed", "cannot tell", "not applicable"]

    def columns_for(measure: Measure, unit: str | None) -> Column:
        return column_of([Measured(word) for word in words], unit, "text")

    judged = compiled({"verdict": "other", "is": "passed"}).judge(columns_for, 4)
    assert list(judged.outcome) == [P, F, C, F]


def test_a_fact_of_an_absent_plugin_cannot_be_told_and_is_not_asked(
    facts: dict[str, Fact], limits: dict[str, Limit], columns: Columns
) -> None:
    data: dict[str, Any] = {"any": [{"fact": "bus.voltage", "at_least": "11 V"}, {"fact": "bus.x", "exists": False}]}
    condition, _ = read_condition(data, (), facts, limits, absent=("power",))
    assert condition is not None
    rule = compile_rule(condition, None, date(2026, 6, 27), limits, facts)
    assert list(rule.judge(columns({}), 2).outcome) == [C, C]


def test_a_subject_with_fewer_dates_is_agreed_over_those_only() -> None:
    first = Judged(bytes([0, 0, 1]), [1.0, 2.0, None], [0.5, 0.5, None], [0, 0, 0])
    second = Judged(bytes([1, 0, 0]), [-1.0, 3.0, 4.0], [0.5, 0.5, 0.5], [1, 1, 1])
    joint = agree([first, second])
    assert list(joint.chosen) == [-1, 0, -1]
    found = narrowed(joint, [first, second], {0: [1], 1: [1], 2: [0, 1]})
    assert list(found.outcome) == [1, 0, UNDECIDED]
    assert list(found.margin) == [-1.0, 3.0, None]
    assert (list(found.decider)[:2], list(found.chosen)) == ([1, 1], [1, 1, -1])
    assert narrowed(joint, [first, second], {}) == Judged(
        joint.outcome, list(joint.margin), list(joint.uncertainty), list(joint.decider), list(joint.chosen)
    )
