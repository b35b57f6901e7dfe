"""Checklist items: open until the plan confirms them, counted apart, out of the exit status unless strict."""

from typing import Any

import pytest

from afield.core.documents import InputError

BOX = {"id": "box", "confirm": "The box is closed.", "when": "pack"}
RED = {
    "id": "red",
    "for_each": "shelf",
    "where": {"fact": "shelf.colour", "is": "red"},
    "confirm": "Dusted.",
    "when": "home",
}
DATED = {"id": "dated", "require": {"fact": "trip.date", "exists": True}}


def test_an_item_is_open_until_the_plan_confirms_it(house: Any) -> None:
    house.pack(BOX)
    open_one = house.only()
    assert (open_one["kind"], open_one["outcome"], open_one["confirmed"]) == ("confirm", "cannot tell", False)
    assert open_one["reason"] == {
        "code": "to be confirmed", "text": "to be confirmed", "settle": "tidy/box", "subject": None,
    }  # fmt: skip
    assert (open_one["settle"]["kind"], open_one["settle"]["input"]) == ("confirm", "tidy/box")
    for name in (open_one["settle"]["input"], "box"):
        done = house.only(confirmed=[name])
        assert (done["outcome"], done["confirmed"], done["reason"]) == ("passed", True, None)


def test_items_are_counted_apart_and_weigh_only_if_strict(house: Any) -> None:
    house.pack(BOX, DATED)
    report = house.report()
    assert report["summary"]["outcomes"] == {"passed": 1, "failed": 0, "cannot tell": 0, "not applicable": 0}
    assert report["summary"]["checklist"] == {"confirmed": 0, "open": 1, "not applicable": 0}
    assert report["summary"]["reasons"] == []
    assert report["exit_status"] == 0
    assert house.report(strict=True)["exit_status"] == 3
    assert house.report(strict=True, confirmed=["box"])["exit_status"] == 0


@pytest.mark.parametrize(
    ("shelf", "confirmed", "outcome", "reason"),
    [
        ({"colour": "red"}, [], "cannot tell", "to be confirmed"),
        ({"colour": "red"}, ["red"], "passed", None),
        ({"colour": "blue"}, ["red"], "not applicable", "applicability"),
        ({}, [], "cannot tell", "applicability"),
        ({}, ["red"], "cannot tell", "applicability"),
    ],
)
def test_where_an_item_does_not_apply_it_is_not_confirmed(
    house: Any, shelf: Any, confirmed: Any, outcome: str, reason: Any
) -> None:
    house.pack(RED)
    verdict = house.only(shelves=[{"name": "a", **shelf}], confirmed=confirmed)
    assert (verdict["outcome"], verdict["reason"] and verdict["reason"]["code"]) == (outcome, reason)


def test_an_item_that_nobody_has(house: Any) -> None:
    house.pack(BOX)
    with pytest.raises(InputError) as caught:
        house.load(confirmed=["bax"])
    assert caught.value.problems[0].what == "no checklist item is called bax"


def test_a_rule_cannot_be_confirmed_away(house: Any) -> None:
    house.pack(BOX, DATED)
    with pytest.raises(InputError) as caught:
        house.load(confirmed=["tidy/dated"])
    assert caught.value.problems[0].what == "no checklist item is called tidy/dated"
