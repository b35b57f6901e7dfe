"""Rules that are judged for many things: what applies to none of them is named once, what does not apply is counted."""

from dataclasses import replace
from typing import Any

import pytest

from afield.core.briefing import arranging, briefing_html, briefing_text
from afield.core.report.formats.text import report_text

PAINTED = {
    "id": "painted", "title": "Red shelves are wide", "for_each": "shelf", "severity": "advised",
    "where": {"fact": "shelf.colour", "is": "red"}, "require": {"fact": "shelf.width", "at_least": "1 m"},
}  # fmt: skip
EMPTY = {
    "id": "empty", "title": "Green shelves are empty", "for_each": "shelf",
    "where": {"fact": "shelf.books", "above": 100}, "require": {"fact": "shelf.books", "at_most": 0},
}  # fmt: skip
FITS = {
    "id": "fits", "title": "Shelves are wide where the ladder fits", "for_each": "shelf",
    "where": {"fact": "wall.fits", "is": True}, "require": {"fact": "shelf.width", "at_least": "1 m"},
}  # fmt: skip
SHELVES = [
    {"name": name, "books": 3, "width": "2 m", "colour": colour} for name, colour in (("a", "red"), ("b", "blue"))
]
PLAN = {"wall": {"height": "3 m"}, "ladder": {"length": "4 m"}, "shelves": SHELVES}


@pytest.fixture
def report(house: Any) -> Any:
    house.pack(PAINTED, EMPTY, FITS)
    return house.report(**PLAN)


def test_the_terminal_names_once_what_applies_to_nothing(report: Any) -> None:
    text = report_text(report)
    assert "b:" not in text
    assert text.count("Red shelves are wide") == 1
    assert (
        "Not applicable to anything here:\n  Green shelves are empty\n  Shelves are wide where the ladder fits\n"
    ) in text
    assert "6 verdicts: 1 passed, 0 failed, 0 cannot tell, 5 not applicable" in text
    assert "  not applicable, 2 x: it applies only where the ladder fits\n" in text


def test_the_briefing_does_the_same(report: Any) -> None:
    (table,) = arranging.tables(report)
    assert table.idle == ["Green shelves are empty", "Shelves are wide where the ladder fits"]
    assert table.dropped == []
    page, text = briefing_html(report, []), briefing_text(report, [])
    assert "To anything here: Green shelves are empty; Shelves are wide where the ladder fits" in page
    told = "[NOT APPLICABLE to anything here] Green shelves are empty; Shelves are wide where the ladder fits"
    assert told in " ".join(text.split())


def test_what_does_not_apply_to_the_trip_itself_is_still_listed(house: Any) -> None:
    house.pack({**FITS, "for_each": "trip", "require": {"fact": "wall.gap", "at_least": "1 m"}})
    text = report_text(house.report(**PLAN))
    assert "  not applicable  Shelves are wide where the ladder fits\n" in text
    assert "because it applies only where the ladder fits\n" in text


def test_yes_and_no_are_not_repeated_as_figures(house: Any) -> None:
    house.pack({"id": "ladder", "title": "The ladder fits", "require": {"fact": "wall.fits", "is": True}})
    text = report_text(house.report(**PLAN))
    assert "  failed          The ladder fits\n                  tidy/ladder, required;" in text


def test_verdicts_without_figures_that_say_the_same_stand_in_one_row(house: Any) -> None:
    reached = {
        "id": "reached", "title": "A shelf is reached", "for_each": "shelf", "if_failed": "Take {{ subject }} down.",
        "require": {"fact": "wall.fits", "is": True},
    }  # fmt: skip
    wide = {"id": "wide", "for_each": "shelf", "require": {"fact": "shelf.width", "at_least": "1 m"}}
    house.pack(reached, wide)
    report = house.report(**PLAN)
    (table,) = arranging.tables(report)
    assert [(row.verdict["rule"], row.verdict["outcome"], row.subjects) for row in table.rows] == [
        ("tidy/reached", "failed", ["shelf:a", "shelf:b"]),
        ("tidy/wide", "passed", ["shelf:a"]),
        ("tidy/wide", "passed", ["shelf:b"]),
    ]
    assert table.rows[0].texts == ["Take a down.", "Take b down."]
    plain = " ".join(briefing_text(report, []).split())
    assert "[FAILED] A shelf is reached (a; b) Take a down. Take b down. Why:" in plain


def test_the_terminal_says_once_what_is_the_same_of_several(house: Any) -> None:
    reached = {
        "id": "reached", "title": "A shelf is reached", "for_each": "shelf", "if_failed": "Take {{ subject }} down.",
        "require": {"fact": "wall.fits", "is": True},
    }  # fmt: skip
    house.pack(reached)
    text = report_text(house.report(**PLAN))
    indent = " " * 18
    assert f"\na; b:\n  failed          A shelf is reached\n{indent}Take a down.\n{indent}Take b down.\n" in text
    assert text.count("A shelf is reached\n") == 1


def test_what_makes_a_forecast_unsure_is_named_the_greatest_first(toys: Any) -> None:
    facts = [replace(fact, tool=None) if fact.name == "wall.gap" else fact for fact in toys.FACTS]
    house = toys.house(facts=lambda: facts)
    house.pack({"id": "gap", "require": {"fact": "wall.gap", "at_least": "0.5 m"}})
    verdict = house.only(wall={"height": "3 m"}, ladder={"length": "2.48 m"})
    told = "Find out more exactly: plan.yaml:11:13 (makes ± 0.04 m), plan.yaml:8:13 (makes ± 0.03 m)."
    assert (verdict["outcome"], verdict["settle"]["kind"], verdict["settle"]["words"]) == ("cannot tell", "state", told)
