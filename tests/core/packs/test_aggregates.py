"""Aggregates through whole packs: members that are undecided widen what is gathered, and are named."""

from typing import Any

import pytest

SURE = {"name": "sure", "books": 3, "width": "1 m", "colour": "red"}
OTHER = {"name": "other", "books": 4, "width": "2 m", "colour": "blue"}
OPEN = {"name": "open", "books": 5, "width": "0.5 m"}
RED = {"fact": "shelf.colour", "is": "red"}


def judged(house: Any, require: Any, *shelves: Any) -> Any:
    house.pack({"id": "gathered", "require": require})
    return house.only(shelves=list(shelves))


@pytest.mark.parametrize(
    ("require", "outcome"),
    [
        ({"count": "shelf", "where": RED, "at_least": 1}, "passed"),
        ({"count": "shelf", "where": RED, "at_least": 2}, "cannot tell"),
        ({"count": "shelf", "where": RED, "at_least": 3}, "failed"),
        ({"sum": "shelf", "of": "shelf.books", "where": RED, "at_least": 3}, "passed"),
        ({"sum": "shelf", "of": "shelf.books", "where": RED, "at_least": 8}, "cannot tell"),
        ({"sum": "shelf", "of": "shelf.books", "where": RED, "at_least": 9}, "failed"),
        ({"least": "shelf", "of": "shelf.books", "where": RED, "at_most": 3}, "passed"),
        ({"least": "shelf", "of": "shelf.books", "where": RED, "at_least": 4}, "failed"),
        ({"greatest": "shelf", "of": "shelf.books", "where": RED, "at_most": 4}, "cannot tell"),
        ({"greatest": "shelf", "of": "shelf.books", "where": RED, "at_most": 5}, "passed"),
    ],
)
def test_an_undecided_member_may_or_may_not_count(house: Any, require: Any, outcome: str) -> None:
    assert judged(house, require, SURE, OTHER, OPEN)["outcome"] == outcome


def test_the_undecided_member_is_named_with_what_would_settle_it(house: Any) -> None:
    verdict = judged(house, {"count": "shelf", "where": RED, "at_least": 2}, SURE, OPEN)
    assert verdict["reason"] == {
        "code": "within uncertainty",
        "text": "whether shelf:open counts cannot be told: colour is not stated",
        "settle": "shelf.colour",
        "subject": "shelf:open",
    }


def test_supplying_what_is_named_settles_it(house: Any) -> None:
    require = {"count": "shelf", "where": RED, "at_least": 2}
    assert judged(house, require, SURE, {**OPEN, "colour": "red"})["outcome"] == "passed"
    assert judged(house, require, SURE, {**OPEN, "colour": "blue"})["outcome"] == "failed"


def test_the_least_of_none_is_not_applicable_and_of_undecided_ones_cannot_be_told(house: Any) -> None:
    require = {"least": "shelf", "of": "shelf.books", "where": RED, "at_most": 3}
    none = judged(house, require, OTHER)
    assert (none["outcome"], none["reason"]["code"]) == ("not applicable", "applicability")
    assert none["reason"]["text"] == "there is nothing to take the least of number of books over each shelf of"
    assert judged(house, require, OPEN)["outcome"] == "cannot tell"


def test_members_that_lack_the_fact_are_a_missing_input_and_not_left_out(house: Any) -> None:
    verdict = judged(house, {"sum": "shelf", "of": "shelf.books", "at_most": 100}, SURE, {"name": "bare"})
    assert (verdict["outcome"], verdict["reason"]["code"]) == ("cannot tell", "missing input")
    assert (verdict["reason"]["settle"], verdict["reason"]["subject"]) == ("shelf.books", "shelf:bare")


@pytest.mark.parametrize(("most", "outcome"), [(1, "failed"), (2, "passed")])
def test_members_that_are_alike_count_once(house: Any, most: int, outcome: str) -> None:
    require = {"count": "shelf", "distinct": ["shelf.colour"], "at_most": most}
    assert judged(house, require, SURE, {**SURE, "name": "twin"}, OTHER)["outcome"] == outcome


@pytest.mark.parametrize(("least", "outcome"), [(1, "passed"), (2, "cannot tell"), (3, "failed")])
def test_a_member_of_unknown_likeness_may_be_one_of_the_others(house: Any, least: int, outcome: str) -> None:
    require = {"count": "shelf", "distinct": ["shelf.colour"], "at_least": least}
    assert judged(house, require, SURE, OPEN)["outcome"] == outcome


def test_widths_are_added_in_the_limits_unit_with_their_uncertainty(house: Any) -> None:
    house.pack(
        {"id": "gathered", "require": {"sum": "shelf", "of": "shelf.width", "at_most": {"limit": "wall"}}},
        limits={"wall": [{"from": "2024-01-01", "value": "10", "unit": "ft"}]},
    )
    verdict = house.only(shelves=[SURE, OTHER])
    assert (verdict["outcome"], verdict["margin"]["unit"]) == ("passed", "ft")
    assert verdict["margin"]["value"] == pytest.approx(10 - 3 / 0.3048)
    assert verdict["margin"]["uncertainty"] == pytest.approx(2**0.5 * 0.01 / 0.3048)


def test_the_outcome_of_another_rule_decides_which_members_count(house: Any) -> None:
    house.pack(
        {"id": "enough", "require": {"count": "shelf", "where": {"verdict": "few", "is": "passed"}, "at_least": 2}},
        {"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 4}},
    )
    report = house.report(shelves=[SURE, OTHER, {"name": "bare"}, {"name": "full", "books": 9}])
    assert [verdict["outcome"] for verdict in report["verdicts"]] == [
        "passed", "passed", "passed", "cannot tell", "failed",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("books", "outcome"), [([1, 2], "passed"), ([9, 9], "failed"), ([1, None], "cannot tell"), ([], "failed")]
)
def test_undecided_verdicts_widen_the_count(house: Any, books: list[Any], outcome: str) -> None:
    house.pack(
        {"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 4}},
        {"id": "enough", "require": {"count": "shelf", "where": {"verdict": "few", "is": "passed"}, "at_least": 2}},
    )
    shelves = [{"name": f"s{i}", **({} if count is None else {"books": count})} for i, count in enumerate(books)]
    assert house.told(shelves=shelves)[-1] == ("tidy/enough", "trip", outcome)
