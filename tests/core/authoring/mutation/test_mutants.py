"""Which changes are made of a pack: each kind of them, where it is written, and nothing that is no change."""

from typing import Any

import pytest

from afield.core.packs.loading import load_pack
from afield.core.rules.conditions import to_json

BOOKS, DAMP, COLOUR = "trip.books", "wall.damp", "shelf.colour"
PROGRAM = {"judges": "program"}


def rule(require: Any, **more: Any) -> Any:
    return {"id": "it", "require": require, **more}


@pytest.mark.parametrize(
    ("require", "changes"),
    [
        (
            {"fact": "wall.gap", "at_most": "0.5 m"},
            [
                "at_most becomes below", "at_most becomes at_least", "0.5 m becomes 0.6 m", "0.5 m becomes 0.4 m",
                "0.5 m becomes 0.5 ft",
            ],
        ),
        (
            {"fact": BOOKS, "above": 7},
            ["above becomes at_least", "above becomes below", "7 becomes 8", "7 becomes 6"],
        ),
        (
            {"fact": BOOKS, "between": [1, 3]},
            [
                "the upper end is dropped", "the lower end is dropped", "1 becomes 2", "1 becomes 0", "3 becomes 4",
                "3 becomes 2",
            ],
        ),
        ({"fact": BOOKS, "is": 2}, ["is becomes not is", "2 becomes 3", "2 becomes 1"]),
        ({"fact": DAMP, "is": True}, ["is true becomes false"]),
        ({"fact": DAMP, "exists": False}, ["exists false becomes true"]),
        ({"all": [{"fact": DAMP, "is": True}]}, ["all becomes none"]),
        ({"none": [{"fact": DAMP, "is": True}]}, ["none becomes all", "none becomes any"]),
    ],
)  # fmt: skip
def test_a_condition_is_changed_in_every_way(changed: Any, require: Any, changes: list[str]) -> None:
    found = [change.removeprefix("require: ") for change in changed.changes(rule(require))]
    inner = [change for change in found if not change.startswith(("decision", "require all 1", "require none 1"))]
    assert inner == changes


def test_words_are_dropped_one_by_one_and_the_whole_is_negated(changed: Any) -> None:
    require = {"fact": COLOUR, "one_of": ["red", "blue"]}
    assert changed.changes(rule(require, for_each="shelf")) == [
        "require: one_of becomes not one_of", "require: red is dropped", "require: blue is dropped",
    ]  # fmt: skip


def test_parts_of_a_group_are_dropped_and_changed_within(changed: Any) -> None:
    require = {"any": [{"fact": DAMP, "is": True}, {"all": [{"fact": DAMP, "is": False}, {"fact": BOOKS, "is": 1}]}]}
    found = changed.changes(rule(require))
    assert found[:4] == ["require: any becomes all", "require: any becomes none", "require any 1: it is dropped",
                         "require any 1: is true becomes false"]  # fmt: skip
    assert "require any 2 all 2: it is dropped" in found
    assert "require any 2 all 1: is false becomes true" in found


def test_where_is_dropped_and_turned_round_once(changed: Any) -> None:
    found = changed.changes(rule({"fact": BOOKS, "is": 1}, where={"fact": DAMP, "is": True}))
    assert [change for change in found if "where" in change] == ["where: it is dropped", "where: it is turned round"]


def test_what_an_aggregate_gathers_is_changed_too(changed: Any) -> None:
    counted = {"count": "shelf", "where": {"fact": "shelf.books", "above": 3}, "at_least": 1}
    found = changed.changes(rule(counted))
    assert "require its where: it is dropped" in found
    assert "require its where: above becomes at_least" in found
    assert "require: least becomes greatest" in changed.changes(
        rule({"least": "shelf", "of": "shelf.books", "at_least": 1})
    )
    distinct = {"count": "shelf", "distinct": ["shelf.colour"], "at_least": 2}
    assert "require: distinct is dropped" in changed.changes(rule(distinct))


def test_severity_decision_and_days_of_a_rule(changed: Any) -> None:
    dated = rule({"fact": "wall.gap", "below": "1 m"}, **{"from": "2024-01-01", "until": "2025-01-01"})
    found = [mutant.change for mutant in changed.mutants(dated)]
    assert found[-6:] == [
        "severity: required becomes advised", "decision: guarded becomes simple", "2024-01-01 becomes 2023-12-31",
        "2024-01-01 becomes 2024-01-02", "2025-01-01 becomes 2024-12-31", "2025-01-01 becomes 2025-01-02",
    ]  # fmt: skip


def test_figures_units_and_days_of_a_limit(changed: Any) -> None:
    versions = [
        {"from": "2023-01-01", "until": "2024-01-01", "none": "Nobody cared."},
        {"from": "2024-01-01", "value": "0.50", "unit": "m"},
    ]
    mutants = changed.mutants(rule({"fact": "wall.gap", "at_least": {"limit": "gap"}}), limits={"gap": versions})
    assert [mutant.change for mutant in mutants if mutant.kind == "limit"] == [
        "none from 2023-01-01: it is dropped", "0.50 m from 2024-01-01 becomes 0.51 m",
        "0.50 m from 2024-01-01 becomes 0.49 m", "0.50 m from 2024-01-01 becomes 0.50 ft",
        "2023-01-01 becomes 2022-12-31", "2023-01-01 becomes 2023-01-02", "2024-01-01 becomes 2023-12-31",
        "2024-01-01 becomes 2024-01-02",
    ]  # fmt: skip


def test_a_day_that_would_leave_nothing_in_force_is_not_moved(changed: Any) -> None:
    versions = [{"from": "2024-01-01", "until": "2024-01-02", "value": "1", "unit": "m"}]
    found = changed.changes(rule({"fact": "wall.gap", "below": {"limit": "gap"}}), limits={"gap": versions})
    assert [change for change in found if change.startswith("2024")] == [
        "2024-01-01 becomes 2023-12-31", "2024-01-02 becomes 2024-01-03",
    ]  # fmt: skip


def test_what_the_program_says_of_itself(changed: Any) -> None:
    dated = [{"from": "2024-01-01", "value": "red", "source": changed.house.SOURCE}]
    facts = {"program.colour": dated, "program.most_books": 12}
    mutants = changed.mutants(rule({"fact": "claim.boxed", "at_most": 3}, for_each="claim"), facts=facts, **PROGRAM)
    assert [(mutant.name, mutant.change) for mutant in mutants if mutant.kind == "fact"] == [
        ("program.colour", "red from 2024-01-01 is dropped"),
        ("program.colour", "red from 2024-01-01 becomes blue"),
        ("program.colour", "2024-01-01 becomes 2023-12-31"),
        ("program.colour", "2024-01-01 becomes 2024-01-02"),
        ("program.most_books", "12 is dropped"),
        ("program.most_books", "12 becomes 13"),
        ("program.most_books", "12 becomes 11"),
    ]


def test_each_change_is_placed_where_it_is_written(changed: Any) -> None:
    mutants = changed.mutants(rule({"fact": "wall.gap", "at_most": "0.5 m"}))
    lines = (changed.folder / "rules.yaml").read_text(encoding="utf-8").splitlines()
    places = {mutant.change: mutant.place for mutant in mutants}
    strict = places["require: at_most becomes below"]
    assert strict.file == "pack:tidy/rules.yaml"
    assert lines[strict.line - 1][strict.column - 1 :] == '"0.5 m"'
    severity = places["severity: required becomes advised"]
    assert lines[severity.line - 1][severity.column - 1 :].startswith('"required"')


def test_rules_that_ask_for_a_changed_verdict_are_reached(changed: Any) -> None:
    asking = {"id": "also", "require": {"verdict": "it", "is": "passed"}}
    mutants = changed.mutants(rule({"fact": DAMP, "is": True}), asking)
    reached = {mutant.name: mutant.rules for mutant in mutants}
    assert reached == {"it": ("it", "also"), "also": ("also",)}


def test_what_a_pack_takes_over_is_left_to_the_pack_that_it_extends(changed: Any) -> None:
    books = {"id": "few", "require": {"fact": BOOKS, "at_most": {"limit": "few"}}}
    changed.house.pack(
        rule({"fact": DAMP, "is": True}), books, name="base",
        limits={"few": [{"from": "2024-01-01", "value": "10"}]},
    )  # fmt: skip
    folder = changed.house.pack(name="club", extends="base", needs=[])
    source = {"source": changed.house.SOURCE}
    changes = [{"rule": "it", "severity": "note", "reason": "It dries."}]
    limits = {"few": [{"from": "2024-01-01", "value": "9", **source}]}
    changed.house.write(folder / "rules.yaml", {"changes": changes, "limits": limits})
    from afield.core.authoring.mutation.mutants import mutants_of

    mutants = mutants_of(load_pack(folder, changed.registry), changed.registry)
    assert [(mutant.kind, mutant.name, mutant.change) for mutant in mutants] == [
        ("rule", "it", "severity: note becomes required"),
        ("limit", "few", "9 from 2024-01-01 becomes 10"),
        ("limit", "few", "9 from 2024-01-01 becomes 8"),
        ("limit", "few", "2024-01-01 becomes 2023-12-31"),
        ("limit", "few", "2024-01-01 becomes 2024-01-02"),
    ]
    assert mutants[1].rules == ("few",)


def test_every_change_of_a_condition_is_a_condition_that_can_be_written(changed: Any) -> None:
    require = {"any": [{"fact": DAMP, "is": True}, {"fact": "wall.gap", "between": ["1 m", "2 m"]}]}
    mutants = changed.mutants(rule(require))
    conditions = [mutant.pack.rules[0].require for mutant in mutants if mutant.change.startswith("require")]
    for index, condition in enumerate(conditions):
        assert changed.pack(rule(to_json(condition)), name=f"written-{index}").rules[0].require is not None
    assert len(conditions) > 8
