"""A pack's own cases: facts are given, no function is called, the verdict is compared with the expected one."""

from pathlib import Path
from typing import Any

import pytest

from afield.core.documents import InputError
from afield.core.packs.cases import run_cases
from afield.core.packs.loading import load_pack

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
LIMIT = {"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]}


def case(facts: Any, outcome: str, rule: str = "gap", **more: Any) -> Any:
    expect = {"outcome": outcome, **more.pop("expect", {})}
    subjects = more.pop("subjects", [{"kind": "trip", "key": "trip", "facts": facts}])
    return {"rule": rule, "date": "2026-06-27", "subjects": subjects, "expect": expect, **more}


def differences(house: Any, *cases: Any, **pack: Any) -> list[tuple[str, ...]]:
    folder: Path = house.pack(*pack.pop("rules", [GAP]), limits=LIMIT, **pack)
    named = [{**entry, "name": f"case {index}"} for index, entry in enumerate(cases)]
    house.write(folder / "cases.yaml", {"cases": named})
    registry = house.engine.registry
    return [result.differences for result in run_cases(load_pack(folder, registry), registry)]


@pytest.mark.parametrize(
    ("given", "outcome", "expect"),
    [
        ("0.5 m", "passed", {"margin": "0 m"}),
        ("0.4 m", "failed", {"margin": "-0.1 m"}),
        ({"value": "0.5 m", "uncertainty": "1 cm"}, "cannot tell", {"reason": "within uncertainty"}),
        ({"value": "0.6 m", "low": "0.5 m", "high": "0.7 m"}, "passed", {}),
        ({"unknown": "missing input"}, "cannot tell", {"reason": "missing input"}),
        ({"not_stated": True}, "cannot tell", {"reason": "not stated"}),
    ],
)
def test_a_right_case_has_no_differences(house: Any, given: Any, outcome: str, expect: Any) -> None:
    assert differences(house, case({"wall.gap": given}, outcome, expect=expect)) == [()]


def test_a_case_that_comes_out_otherwise_says_how(house: Any) -> None:
    found = differences(
        house, case({"wall.gap": "0.6 m"}, "failed"), case({"wall.gap": "0.6 m"}, "passed", expect={"margin": "0.2 m"})
    )
    assert found == [
        ("expected failed, but it is passed",), ("expected a margin of 0.2 m, but it is 0.1 m",),
    ]  # fmt: skip


def test_a_case_that_reaches_no_rule_is_wrong_and_not_right(house: Any) -> None:
    (found,) = differences(house, case({"wall.gap": "0.6 m"}, "passed", of="shelf:a"))
    assert found == ("the rule gap gave no verdict on shelf:a: the case reaches no rule",)


def test_a_fact_that_the_case_leaves_out_is_missing_and_not_computed(house: Any) -> None:
    given = {"wall.height": "3 m", "ladder.length": "1 m"}
    assert differences(house, case(given, "cannot tell", expect={"reason": "missing input"})) == [()]


def test_outcomes_of_other_rules_can_be_given(house: Any) -> None:
    rules = [
        {"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 4}},
        {"id": "enough", "require": {"count": "shelf", "where": {"verdict": "few", "is": "passed"}, "at_least": 2}},
    ]

    def told(*outcomes: str) -> Any:
        shelves = [{"kind": "shelf", "key": f"shelf:{i}", "verdicts": {"few": word}} for i, word in enumerate(outcomes)]
        return [{"kind": "trip", "key": "trip"}, *shelves]

    found = differences(
        house,
        case({}, "passed", "enough", subjects=told("passed", "passed", "failed")),
        case({}, "cannot tell", "enough", subjects=told("passed", "cannot tell")),
        case({}, "failed", "enough", subjects=told("passed", "not applicable")),
        rules=rules,
    )
    assert found == [(), (), ()]


@pytest.mark.parametrize(
    "facts",
    [
        {"wall.gap": 0.6}, {"wall.gap": True}, {"wall.gap": "3 kg"}, {"wall.gab": "1 m"}, {"wall.damp": "yes"},
        {"wall.gap": {"value": "3 m", "low": "4 m", "high": "5 m"}},
        {"wall.gap": {"value": "3 m", "uncertainty": "-1 m"}},
    ],
)  # fmt: skip
def test_a_value_that_the_fact_cannot_have_is_refused(house: Any, facts: Any) -> None:
    with pytest.raises(InputError) as caught:
        differences(house, case(facts, "passed"))
    assert caught.value.problems[0].place.file == "pack:tidy/cases.yaml"
    assert next(iter(facts)) in caught.value.problems[0].source


def test_a_case_of_a_rule_that_the_pack_has_not(house: Any) -> None:
    with pytest.raises(InputError) as caught:
        differences(house, case({}, "passed", "gab"))
    assert "gab" in caught.value.problems[0].what


def test_a_pack_without_cases_has_no_results(house: Any) -> None:
    folder = house.pack(GAP, limits=LIMIT)
    assert run_cases(load_pack(folder, house.engine.registry), house.engine.registry) == []


def test_a_case_may_expect_how_much_the_rule_counts(house: Any) -> None:
    right = case({"wall.gap": "0.6 m"}, "passed", expect={"severity": "required"})
    wrong = case({"wall.gap": "0.6 m"}, "passed", expect={"severity": "note"})
    assert differences(house, right, wrong) == [(), ("expected the severity note, but it is required",)]


def test_a_case_may_expect_what_the_program_says_of_itself(house: Any) -> None:
    dated = [{"from": "2026-01-01", "value": {"limit": "books"}, "source": house.SOURCE}]
    pack = {"judges": "program", "facts": {"program.colour": "red", "program.most_books": dated}}
    expected: list[Any] = [
        ("2026-06-27", {"program.colour": "red", "program.most_books": "12"}),
        ("2025-12-31", {"program.most_books": None}),
        ("2026-06-27", {"program.colour": "blue", "program.most_books": None}),
    ]
    subjects = [{"kind": "claim", "key": "claim:tidy/attic", "facts": {"claim.boxed": 1}}]
    rule = {"id": "gap", "for_each": "claim", "require": {"fact": "claim.boxed", "at_most": 3}}
    cases = [case(None, "passed", date=day, subjects=subjects, expect={"program": said}) for day, said in expected]
    named = [{**entry, "name": f"case {index}"} for index, entry in enumerate(cases)]
    folder = house.pack(rule, limits={"books": [{"from": "2024-01-01", "value": "12"}]}, **pack)
    house.write(folder / "cases.yaml", {"cases": named})
    registry = house.engine.registry
    found = [result.differences for result in run_cases(load_pack(folder, registry), registry)]
    colour = "expected program.colour to be blue, but it is red"
    assert found == [(), (), (colour, "expected program.most_books to be nothing, but it is 12")]


def test_a_case_cannot_expect_what_the_program_says_nothing_of(house: Any) -> None:
    with pytest.raises(InputError) as caught:
        differences(house, case({"wall.gap": "0.6 m"}, "passed", expect={"program": {"program.colour": "red"}}))
    assert caught.value.problems[0].what == "the pack says no program.colour"
    assert caught.value.problems[0].advice == "There are no program facts of the pack."


def test_a_margin_of_another_dimension_is_a_difference_under_another_version(house: Any) -> None:
    from dataclasses import replace

    from afield.core.packs.cases import read_cases

    folder: Path = house.pack(GAP, limits=LIMIT)
    given = case({"wall.gap": "0.6 m", "trip.books": 3}, "passed", name="it", expect={"margin": "0.1 m"})
    house.write(folder / "cases.yaml", {"cases": [given]})
    registry = house.engine.registry
    pack = load_pack(folder, registry)
    books = house.pack({"id": "gap", "require": {"fact": "trip.books", "at_least": 1}}, name="books")
    other = replace(pack, rules=load_pack(books, registry).rules)
    (only,) = read_cases(pack, registry)
    assert only.differences_under(pack) == []
    assert only.differences_under(other) == ['"0.1 m" has a unit; a count is written without one']
