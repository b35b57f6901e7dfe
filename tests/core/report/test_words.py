"""What a verdict says: the pack's own words only where they help, what is due, and what would settle it."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.facts.declarations import Fact, Tool, fact
from afield.core.facts.measured import CannotTell, Estimate
from afield.core.report.formats.text import report_text
from afield.core.report.formats.why import why_text


def given(value: Any) -> Any:
    return lambda: value


LIMITS = {"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]}
GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
NEAR = {"wall": {"height": "3 m"}, "ladder": {"length": "2.48 m"}}


def one(house: Any, rule: Any, **plan: Any) -> Any:
    house.pack({"id": "rule", **rule}, limits=LIMITS)
    return house.report(**plan)["verdicts"][0]


def test_how_to_measure_is_told_only_where_measuring_settles_it(house: Any) -> None:
    told = {**GAP, "if_cannot_tell": "Hold the tape."}
    house.pack(told, {"id": "fits", "require": {"fact": "wall.fits", "is": True}, "if_cannot_tell": "Hold the tape."},
               limits=LIMITS)  # fmt: skip
    found = [(verdict["settle"]["kind"], verdict["text"]) for verdict in house.report(**NEAR)["verdicts"][:1]]
    assert found == [("measure", "Hold the tape.")]
    unmeasurable = house.report(wall={"height": "3 m"})["verdicts"][1]
    assert (unmeasurable["outcome"], unmeasurable["settle"]["kind"], unmeasurable["text"]) == (
        "cannot tell", "state", None,
    )  # fmt: skip


@pytest.mark.parametrize("text", ["Move the {{ detail.end }}.", "It is {{ short_by }} too near."])
def test_a_text_without_what_it_uses_is_left_out(house: Any, text: str) -> None:
    measured = [{"fact": "wall.gap", "of": "trip", "value": "0.4 m", "uncertainty": "2 cm", "how": "tape"}]
    verdict = one(house, {**GAP, "if_failed": text}, measured=measured)
    assert verdict["outcome"] == "failed"
    assert verdict["text"] == (None if "detail" in text else "It is 0.10 m (0.33 ft) too near.")


def test_a_failed_none_says_what_is_due(house: Any) -> None:
    rule = {"for_each": "shelf", "require": {"none": [{"fact": "shelf.colour", "is": "red"}]}}
    house.pack({"id": "rule", **rule})
    report = house.report(shelves=[{"name": "a", "colour": "red"}])
    assert "red, due not red\n" in report_text(report)
    (leaf,) = report["verdicts"][0]["leaves"]
    assert (leaf["comparison"], leaf["limit"], leaf["outcome"]) == ("not", "red", "failed")


def test_a_failed_exists_says_that_it_is_not_stated(house: Any) -> None:
    rule = {"for_each": "shelf", "require": {"fact": "shelf.colour", "exists": True}}
    house.pack({"id": "rule", **rule})
    report = house.report(shelves=[{"name": "a"}])
    assert report["verdicts"][0]["outcome"] == "failed"
    assert "not stated, due stated\n" in report_text(report)


def test_a_converted_exact_value_has_three_decimals(toys: Any) -> None:
    exact = Fact("hall.width", "trip", unit="m", title="width of the hall", function=lambda: 3.0, exact=True)
    toys.house(facts=given([*toys.FACTS, exact]))
    toys.pack({"id": "w", "require": {"fact": "hall.width", "at_most": "9 ft"}})
    verdict = toys.report()["verdicts"][0]
    assert (verdict["measured"], verdict["margin"]["words"]) == ("9.843 ft (3 m)", "0.8426 ft (0.2568 m) short")


def test_a_negative_reading_means_what_the_fact_says(toys: Any) -> None:
    @fact("shed.room", kind="trip", unit="m", title="margin of the shelf inside the shed", tool=Tool("rule", 0.1),
          below_zero="outside",
          detail={"part": "the part that decides"})  # fmt: skip
    def shed_room(wall_height: float) -> Any:
        return Estimate(wall_height - 3.0, detail={"part": "left end"})

    toys.house(facts=given([*toys.FACTS, shed_room]))
    toys.pack({"id": "in", "require": {"fact": "shed.room", "at_least": {"limit": "edge"}}},
              limits={"edge": [{"from": "2024-01-01", "value": "0", "unit": "m"}]})  # fmt: skip
    settle = toys.report(wall={"height": "3 m"})["verdicts"][0]["settle"]
    assert (settle["words"], settle["counts_if"], settle["fails_if"]) == (
        "Measure the margin of the shelf inside the shed (now the left end) with a rule; the limit is 0 m (0 ft).",
        "it reads 0.10 m (0.4 ft) or more",
        "it reads -0.11 m (-0.4 ft) or less; a reading below 0 is outside",
    )


def _lopsided(toys: Any, require: Any, **rule: Any) -> Any:
    """The verdict on a hall that is 3 m wide, perhaps 2.9 m, perhaps 3.6 m."""
    hall = Fact("hall.width", "trip", unit="m", title="width of the hall", function=lambda: Estimate(3.0, 2.9, 3.6))
    toys.house(facts=given([*toys.FACTS, hall]))
    toys.pack({"id": "w", "require": require, **rule})
    return toys.report()["verdicts"][0]


@pytest.mark.parametrize(
    ("require", "outcome", "printed"),
    [
        ({"at_most": "3.2 m"}, "cannot tell", "0.2 m, from -0.4 m to 0.3 m (95 %; 0.7 ft, from -1.3 ft to 1.0 ft)"),
        ({"at_least": "2.95 m"}, "cannot tell", "0.1 m, from -0.1 m to 0.7 m (95 %; 0.2 ft, from -0.2 ft to 2.1 ft)"),
        ({"between": ["1 m", "3.2 m"]}, "cannot tell",
         "0.2 m, from -0.4 m to 0.3 m (95 %; 0.7 ft, from -1.3 ft to 1.0 ft)"),
        ({"between": ["2.95 m", "9 m"]}, "cannot tell",
         "0.1 m, from -0.1 m to 0.7 m (95 %; 0.2 ft, from -0.2 ft to 2.1 ft)"),
    ],
)  # fmt: skip
def test_a_margin_reaches_as_far_to_each_side_as_the_value(toys: Any, require: Any, outcome: str, printed: str) -> None:
    verdict = _lopsided(toys, {"fact": "hall.width", **require})
    assert (verdict["outcome"], verdict["margin"]["printed"]) == (outcome, printed)
    assert verdict["measured"] == "3.0 m, from 2.9 m to 3.6 m (95 %; 9.8 ft, from 9.5 ft to 11.8 ft)"


def test_none_turns_the_sides_of_a_margin_round(toys: Any) -> None:
    verdict = _lopsided(toys, {"none": [{"fact": "hall.width", "at_least": "3.2 m"}]})
    straight = "0.2 m, from -0.4 m to 0.3 m (95 %; 0.7 ft, from -1.3 ft to 1.0 ft)"
    assert (verdict["outcome"], verdict["margin"]["printed"]) == ("cannot tell", straight)
    assert verdict["leaves"][0]["margin"]["printed"] == straight


def test_a_rule_that_takes_the_value_alone_says_where_its_range_would_not_decide(toys: Any) -> None:
    told = "Judged by the value alone, as the rule says: its whole range would not decide against 3.2 m."
    near = _lopsided(toys, {"fact": "hall.width", "at_most": "3.2 m"}, decision="simple")
    assert (near["outcome"], near["warnings"]) == ("passed", [told])


@pytest.mark.parametrize("require", [{"at_most": "4 m"}, {"at_least": "4 m"}])
def test_a_rule_that_takes_the_value_alone_is_silent_where_the_range_agrees(toys: Any, require: Any) -> None:
    assert _lopsided(toys, {"fact": "hall.width", **require}, decision="simple")["warnings"] == []


@pytest.mark.parametrize(
    ("settle", "words"),
    [("plugin clouds", "Install the plugin clouds."), ("install sky[clouds]", "Install sky[clouds].")],
)
def test_what_to_install_is_said_once(toys: Any, settle: str, words: str) -> None:
    def silent() -> Any:
        raise CannotTell("the library for clouds is not there", settle, "plugin absent")

    hall = Fact("hall.width", "trip", unit="m", title="width of the hall", function=silent)
    toys.house(facts=given([*toys.FACTS, hall]))
    toys.pack({"id": "w", "require": {"fact": "hall.width", "at_most": "9 m"}})
    assert toys.report()["verdicts"][0]["settle"]["words"] == words


def test_rules_that_found_nothing_of_their_kind_are_named_once_and_without_a_block_of_their_own(house: Any) -> None:
    rules = [
        {
            "id": name,
            "title": f"Of shelves {name}",
            "for_each": "shelf",
            "require": {"fact": "shelf.books", "at_most": 9},
        }
        for name in ("a", "b")
    ]
    house.pack(*rules, {"id": "own", "title": "Of the wall", "where": {"fact": "wall.damp", "is": True},
                        "require": {"fact": "wall.damp", "exists": True}})  # fmt: skip
    text = report_text(house.report(wall={"height": "3 m", "damp": False}))
    assert "\n\nNot applicable to anything here:\n  Of shelves a\n  Of shelves b\n" in text
    assert text.count("Of shelves a") == 1
    assert "  not applicable  Of the wall\n" in text
    assert "not applicable, 2 x: the plan has no shelf that it could be judged for" in text


def test_what_is_gathered_is_told_with_its_members_and_their_notes(toys: Any) -> None:
    @fact("shelf.load", kind="shelf", unit="", title="load of the shelf")
    def shelf_load(shelf_books: float) -> Any:
        return Estimate(shelf_books * 2.0, notes=(f"Two weights for each of {shelf_books:g} books.",))

    toys.house(facts=given([*toys.FACTS, shelf_load]))
    toys.pack({"id": "most", "require": {"greatest": "shelf", "of": "shelf.load", "at_most": 9}})
    report = toys.report(shelves=[{"name": "a", "books": 3}, {"name": "b", "books": 4}])
    (leaf,) = report["verdicts"][0]["leaves"]
    assert (leaf["fact"], leaf["gathers"]) == (None, {"fact": "shelf.load", "kind": "shelf", "over": "shelf"})
    notes = [line.strip() for line in report_text(report).splitlines() if "Two weights" in line]
    assert notes == ["note: Two weights for each of 3 books.", "note: Two weights for each of 4 books."]
    tree = why_text(report, report["verdicts"][0])
    assert [f"shelf.load of shelf:{name}: {load} [computed]" in tree for name, load in (("a", 6), ("b", 8))] == [
        True
    ] * 2
