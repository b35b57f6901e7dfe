"""Where a rule does not apply, or its inputs are missing: not applicable and cannot tell, each with its reason."""

from dataclasses import replace
from typing import Any

import pytest

from afield.core.facts.declarations import Fact

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
TALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}


def boom(*_: Any, **__: Any) -> Any:
    raise RuntimeError("the shelf fell")


def crashing(toys: Any, name: str) -> list[Fact]:
    return [replace(fact, function=boom) if fact.name == name else fact for fact in toys.FACTS]


def test_no_such_subject_is_one_not_applicable_on_the_trip(house: Any) -> None:
    house.pack({"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 10}})
    verdict = house.only()
    assert (verdict["subject"], verdict["outcome"]) == ("trip", "not applicable")
    assert verdict["reason"]["text"] == "the plan has no shelf that it could be judged for"
    assert house.report()["exit_status"] == 0


@pytest.mark.parametrize(
    ("shelf", "outcome", "text"),
    [
        ({"colour": "red"}, "passed", None),
        ({"colour": "blue"}, "not applicable", "it does not apply where colour is blue"),
        ({}, "cannot tell", "whether it applies cannot be told: colour is not stated"),
    ],
)
def test_where_false_is_not_applicable_and_unknown_cannot_be_told(
    house: Any, shelf: Any, outcome: str, text: Any
) -> None:
    house.pack({
        "id": "few", "for_each": "shelf", "where": {"fact": "shelf.colour", "is": "red"},
        "require": {"fact": "shelf.books", "at_most": 10},
    })  # fmt: skip
    verdict = house.only(shelves=[{"name": "a", "books": 3, **shelf}])
    assert (verdict["outcome"], verdict["reason"] and verdict["reason"]["text"]) == (outcome, text)


def test_where_a_rule_does_not_apply_its_facts_are_not_asked(toys: Any) -> None:
    toys.house(facts=lambda: crashing(toys, "shelf.spare")).pack({
        "id": "spare", "for_each": "shelf", "where": {"fact": "shelf.colour", "is": "red"},
        "require": {"fact": "shelf.spare", "at_least": "1 m"},
    })  # fmt: skip
    report = toys.report(shelves=[{"name": "a", "colour": "blue", "width": "1 m"}], **TALL)
    assert report["exit_status"] == 0
    assert [record["fact"] for record in report["facts"]] == ["shelf.colour"]


def test_an_input_that_is_not_stated(house: Any, gap_limit: Any) -> None:
    house.pack(GAP, limits=gap_limit)
    verdict = house.only(wall={"height": "3 m"})
    assert verdict["reason"] == {
        "code": "missing input", "text": "length of the ladder is not stated", "settle": "ladder.length",
        "subject": "trip",
    }  # fmt: skip


def test_a_value_without_an_uncertainty_where_the_fact_has_no_default(house: Any) -> None:
    house.pack({"id": "deep", "require": {"fact": "wall.depth", "at_least": "0.2 m"}})
    verdict = house.only(wall={"depth": "0.4 m"})
    assert (verdict["outcome"], verdict["reason"]["code"]) == ("cannot tell", "no uncertainty stated")
    assert verdict["reason"]["text"] == (
        "depth of the wall is stated without an uncertainty, and wall.depth has no default"
    )


def test_a_default_uncertainty_is_printed(house: Any, gap_limit: Any) -> None:
    house.pack(GAP, limits=gap_limit)
    texts = [entry["text"] for entry in house.report(**TALL)["assumptions"]]
    assert texts == [
        "± 0.04 m (95 %) is assumed: the plan states none", "± 0.03 m (95 %) is assumed: the plan states none",
    ]  # fmt: skip
