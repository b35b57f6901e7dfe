from collections.abc import Callable
from datetime import UTC, date, datetime

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
    Explanation,
    Gathered,
    Limit,
    Measure,
    Member,
    aggregate_column,
    aggregate_interval,
    column_of,
    compile_rule,
    explain,
    read_condition,
)

Compiled = Callable[..., CompiledRule]
Columns = Callable[..., Callable[[Measure, str | None], Column]]
FAR = {"fact": "place.farthest", "at_most": {"limit": "corridor"}}
LINE = {"fact": "reference.kind", "is": "line"}
NOT_THERE = unknown(Reason("not stated", "the reference's kind is not stated", "claims", "claim:x/y"))


def test_a_verdict_is_explained_by_its_comparisons(compiled: Compiled, columns: Columns) -> None:
    record = Measured(30.49, "m")
    rule = compiled(FAR, where=LINE)
    explained = rule.explain(0, columns({"place.farthest": [record], "reference.kind": [Measured("line")]}))
    warning = "100 ft governs; the 30.5 m printed beside it would decide otherwise"
    assert (explained.outcome, explained.margin, explained.unit) == (FAILED, -0.032808399, "ft")
    assert (explained.uncertainty, explained.decider, explained.required) == (0.0, 0, 1)
    assert (explained.reason, explained.warnings) == (None, (warning,))
    far, line = explained.leaves
    assert (far.outcome, far.value, far.unit, far.bound_printed) == (FAILED, 100.032808399, "ft", "100 ft")
    assert (far.record, far.bounds[0].limit) == (record, "corridor")
    assert far.bounds[0].version is not None
    assert (line.outcome, line.value, line.bound_printed, line.margin) == (PASSED, "line", "line", None)


def test_an_explanation_agrees_with_the_columns(compiled: Compiled, columns: Columns) -> None:
    of = columns(
        {
            "place.farthest": [Measured(30.0 + i / 5, "m", 29.0 + i / 5, 31.0 + i / 5) for i in range(-9, 9)],
            "reference.kind": [Measured("line"), Measured("area"), NOT_THERE] * 6,
        }
    )
    rule = compiled({"none": [FAR, {"all": [LINE, FAR]}]}, where={"fact": "reference.kind", "one_of": ["line"]})
    judged = rule.judge(of, 18)
    explained = [explain(rule, index, of) for index in range(18)]
    assert bytes(one.outcome for one in explained) == judged.outcome
    assert [one.decider for one in explained] == judged.decider
    assert [one.uncertainty for one in explained] == judged.uncertainty
    for one, margin in zip(explained, judged.margin, strict=True):
        assert one.margin == (None if margin is None else pytest.approx(margin, abs=1e-9))


def test_margins_are_worked_out_in_decimals(compiled: Compiled, columns: Columns) -> None:
    rule = compiled({"none": [{"fact": "place.farthest", "at_most": "30.5 m"}]})
    explained = rule.explain(0, columns({"place.farthest": [Measured(30.48, "m")]}))
    assert (explained.margin, explained.leaves[0].margin) == (-0.02, 0.02)


def reason(explained: Explanation) -> tuple[str, str, str | None, str | None]:
    assert explained.reason is not None
    return explained.reason.code, explained.reason.text, explained.reason.settle, explained.reason.subject


def test_the_uncertainty_that_reaches_the_limit_is_named(compiled: Compiled, columns: Columns) -> None:
    explained = compiled(FAR).explain(0, columns({"place.farthest": [Measured(30.0, "m", 29.0, 31.0)]}))
    assert explained.outcome == CANNOT_TELL
    assert reason(explained) == (
        "within uncertainty", "98 ft ± 3 ft (95 %) does not decide against 100 ft", "place.farthest", None,
    )  # fmt: skip


def test_the_reason_of_a_missing_value_is_passed_on(compiled: Compiled, columns: Columns) -> None:
    explained = compiled(LINE).explain(0, columns({"reference.kind": [NOT_THERE]}))
    assert reason(explained) == ("not stated", "the reference's kind is not stated", "claims", "claim:x/y")


def test_a_value_that_cannot_be_compared_is_named(compiled: Compiled, columns: Columns) -> None:
    explained = compiled(FAR).explain(0, columns({"place.farthest": [Measured("far", "m")]}))
    assert reason(explained) == (
        "cannot be computed", "the farthest part has no value that can be compared", "place.farthest", None,
    )  # fmt: skip


def test_an_unknown_applicability_is_passed_on(compiled: Compiled, columns: Columns) -> None:
    of = columns({"place.farthest": [Measured(1.0, "m")], "reference.kind": [NOT_THERE]})
    explained = compiled(FAR, where=LINE).explain(0, of)
    assert (explained.outcome, explained.margin, explained.unit) == (CANNOT_TELL, None, None)
    assert reason(explained) == (
        "applicability", "whether it applies cannot be told: the reference's kind is not stated", "claims", "claim:x/y",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("where", "text"),
    [
        (LINE, "it does not apply where reference.kind is area"),
        ({"none": [{"fact": "reference.kind", "is": "area"}]}, "it does not apply where reference.kind is area"),
        ({"fact": "reference.kind", "exists": False}, "it does not apply where reference.kind is stated"),
        (
            {"fact": "place.farthest", "above": "2 m"},
            "it does not apply where the farthest part is 1.0 m ± 0.5 m (95 %)",
        ),
    ],
)
def test_what_makes_a_rule_not_apply_is_told(
    compiled: Compiled, columns: Columns, where: dict[str, object], text: str
) -> None:
    of = columns({"place.farthest": [Measured(1.0, "m", 0.5, 1.5)], "reference.kind": [Measured("area")]})
    explained = compiled(FAR, where=where).explain(0, of)
    assert explained.outcome == NOT_APPLICABLE
    assert reason(explained) == ("applicability", text, None, None)


def test_a_limit_without_a_value_in_force_is_named(compiled: Compiled, columns: Columns) -> None:
    of = columns({"place.farthest": [Measured(1.0, "m")]})
    lapsed = compiled(FAR, day=date(2023, 6, 1)).explain(0, of)
    assert (lapsed.outcome, lapsed.leaves[0].bound_printed) == (CANNOT_TELL, "")
    assert reason(lapsed) == (
        "no value in force", "the limit corridor has no value in force on 2023-06-01", None, None,
    )  # fmt: skip
    none = compiled(FAR, day=date(2024, 6, 1)).explain(0, of)
    assert none.outcome == NOT_APPLICABLE
    assert reason(none) == ("no value in force", "There was no corridor yet.", None, None)


def test_an_absent_plugin_is_named(facts: dict[str, Fact], limits: dict[str, Limit], columns: Columns) -> None:
    condition, _ = read_condition({"fact": "bus.voltage", "at_least": "11 V"}, (), facts, limits, absent=("power",))
    assert condition is not None
    explained = compile_rule(condition, None, date(2026, 6, 27), limits, facts).explain(0, columns({}))
    assert reason(explained) == (
        "plugin absent", "bus.voltage needs the plugin power, which is not there", "plugin power", None,
    )  # fmt: skip


def test_a_verdict_that_cannot_be_told_is_named(compiled: Compiled) -> None:
    def columns_for(measure: Measure, unit: str | None) -> Column:
        return column_of([Measured("cannot tell")], unit, "text")

    explained = compiled({"verdict": "other", "is": "passed"}).explain(0, columns_for)
    assert reason(explained) == ("missing input", "the verdict on other cannot be told", None, None)


def test_an_undecided_member_is_what_would_settle_a_count(compiled: Compiled) -> None:
    why = Reason("not stated", "its time is not stated", "log", "contact:1")
    members = [Member(PASSED)] * 9 + [Member(CANNOT_TELL, subject="contact:1", reason=why)]

    def columns_for(measure: Measure, unit: str | None) -> Column:
        return aggregate_column([aggregate_interval("count", members)], unit)

    explained = compiled({"count": "contact", "at_least": {"limit": "contacts"}}).explain(0, columns_for)
    assert (explained.outcome, explained.margin, explained.unit) == (CANNOT_TELL, -1.0, "")
    assert reason(explained) == (
        "within uncertainty", "whether contact:1 counts cannot be told: its time is not stated", "log", "contact:1",
    )  # fmt: skip


def test_the_least_of_nothing_does_not_apply(compiled: Compiled) -> None:
    def columns_for(measure: Measure, unit: str | None) -> Column:
        return aggregate_column([Gathered(None)], unit)

    explained = compiled({"least": "contact", "of": "contact.power", "at_least": "3 W"}).explain(0, columns_for)
    assert explained.outcome == NOT_APPLICABLE
    assert reason(explained) == (
        "applicability", "there is nothing to take the least of the power over each contact of", None, None,
    )  # fmt: skip


def test_the_ends_of_a_range_warn_one_by_one(facts: dict[str, Fact], limits: dict[str, Limit]) -> None:
    data = {"fact": "place.farthest", "between": ["1 ft", {"limit": "corridor"}]}
    condition, _ = read_condition(data, (), facts, limits)
    assert condition is not None
    rule = compile_rule(condition, None, date(2026, 6, 27), limits, facts)
    explained = rule.explain(0, lambda measure, unit: column_of([Measured(30.49, "m")], unit))
    assert explained.warnings == ("100 ft governs; the 30.5 m printed beside it would decide otherwise",)
    assert explained.leaves[0].bound_printed == "1 ft and 100 ft"


def test_an_instants_margin_is_in_minutes(compiled: Compiled, columns: Columns) -> None:
    rule = compiled({"fact": "trip.begins", "at_most": "2026-06-27T22:30Z"})
    begins = Measured(datetime(2026, 6, 27, 22, 0, tzinfo=UTC))
    explained = rule.explain(0, columns({"trip.begins": [begins]}))
    assert (explained.outcome, explained.margin, explained.unit) == (PASSED, 30.0, "min")
    assert explained.leaves[0].bound_printed == "2026-06-27 22:30+00:00"
