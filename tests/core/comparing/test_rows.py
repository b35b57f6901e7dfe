"""The rows: what each side has, how it differs, and what nobody knows."""

from __future__ import annotations

from typing import Any

from afield.core.api import Estimate, fact
from afield.core.host.hookspecs import Comparison


def listed() -> Any:
    @fact(
        "trip.colours",
        kind="trip",
        type="list",
        title="colours",
        exact=True,
        each={"colours": ("shelf", "shelf.colour")},
    )
    def colours(colours: list[Any]) -> list[str]:
        return [colour for _, colour in colours]

    return colours


def found_words(row: Any) -> list[str]:
    return [value["words"] for value in row["values"]]


def test_a_fact_that_no_rule_asks_is_in_it_all_the_same(house: Any) -> None:
    row = house.row("trip.books")
    assert found_words(row) == ["3", "3", "70", "3"]
    assert [(one["finding"], one["words"], one["value"]) for one in row["differences"]] == [
        ("the same", None, 0.0), ("differs", "+67", 67.0), ("the same", None, 0.0),
    ]  # fmt: skip


def test_a_number_comes_with_its_uncertainty_and_unit(house: Any) -> None:
    row = house.row("wall.gap")
    assert found_words(row)[:2] == [
        "1.00 m ± 0.05 m (95 %; 3.28 ft ± 0.16 ft)",
        "0.20 m ± 0.05 m (95 %; 0.66 ft ± 0.16 ft)",
    ]
    assert row["unit"] == "m"


def test_notes_come_from_all_beneath_with_the_sides_that_they_are_for(bare: Any) -> None:
    @fact("ladder.reach", kind="trip", unit="m", title="reach", exact=True)
    def reach(ladder_length: float) -> Estimate:
        return Estimate(ladder_length, notes=("A bent ladder." if ladder_length > 2 else "A straight ladder.",))

    @fact("ladder.use", kind="trip", unit="m", title="use", exact=True)
    def use(ladder_reach: float) -> Estimate:
        return Estimate(ladder_reach, notes=("Feet on the ground.",))

    bare.bring(Comparison("ladder.use", "Use", 1), facts=lambda: [*bare.toys.FACTS, reach, use])
    assert bare.row("ladder.use", only=("long-ladder", "more-books"))["notes"] == [
        {"text": "Feet on the ground.", "sides": ["the plan", "long-ladder", "more-books"]},
        {"text": "A straight ladder.", "sides": ["the plan", "more-books"]},
        {"text": "A bent ladder.", "sides": ["long-ladder"]},
    ]


def test_what_one_side_does_not_know_cannot_be_told_with_the_reason(house: Any) -> None:
    difference = house.difference("wall.gap", "no-ladder")
    assert (difference["finding"], difference["words"], difference["value"]) == ("cannot tell", None, None)
    assert difference["why"] == "no-ladder: length of the ladder is not stated"


def test_a_base_that_does_not_know_is_the_reason_too(house: Any) -> None:
    difference = house.difference("wall.gap", "the plan", base="no-ladder")
    assert (difference["finding"], difference["why"]) == (
        "cannot tell",
        "no-ladder: length of the ladder is not stated",
    )


def test_what_nobody_knows_stands_apart_with_its_reason(house: Any) -> None:
    found = house.json(ladder=None, variants={"dry": {"wall": {"damp": False}}, "wet": {"wall": {"damp": True}}})
    assert [row["fact"] for row in found["rows"]] == ["trip.books", "wall.damp"]
    assert found["silent"] == [{"fact": "wall.gap", "title": "Gap", "why": "length of the ladder is not stated"}]


def test_reasons_that_differ_are_told_by_side(house: Any) -> None:
    found = house.json(ladder=None, variants={"no-wall": {"wall": None, "ladder": {"length": "2 m"}}})
    assert found["silent"][0]["why"] == (
        "the plan: length of the ladder is not stated; no-wall: height of the wall is not stated"
    )


def test_truth_is_yes_or_no(house: Any) -> None:
    row = house.row("wall.damp", variants={"wet": {"wall": {"damp": True}}, "dry": {"wall": {"damp": False}}})
    assert found_words(row) == ["no", "yes", "no"]
    assert [one["finding"] for one in row["differences"]] == ["differs", "the same"]


def test_a_list_is_its_length_and_entries(bare: Any) -> None:
    bare.bring(Comparison("trip.colours", "Colours", 1), facts=lambda: [*bare.toys.FACTS, listed()])
    shelves = [{"name": "a", "colour": "red"}, {"name": "b", "colour": "red"}]
    mixed = [{"name": "a", "colour": "blue"}, {"name": "b", "colour": "red"}]
    variants = {"mixed": {"shelves": mixed}, "turned": {"shelves": shelves[::-1]}, "one": {"shelves": shelves[:1]}}
    row = bare.row("trip.colours", shelves=shelves, variants=variants)
    assert [(value["words"], value["lines"]) for value in row["values"]] == [
        ("2", ["red", "red"]), ("2", ["blue", "red"]), ("2", ["red", "red"]), ("1", ["red"]),
    ]  # fmt: skip
    assert [(one["finding"], one["words"], one["lines"]) for one in row["differences"]] == [
        ("differs", None, ["only with the plan: red", "only with mixed: blue"]),
        ("the same", None, []),
        ("differs", "-1", ["only with the plan: red"]),
    ]


def test_text_differs_or_is_the_same(bare: Any) -> None:
    bare.bring(Comparison("trip.date", "Date", 1))
    row = bare.row("trip.date", variants={"next": {"date": "2026-06-28"}, "same": {"date": "2026-06-27"}})
    assert found_words(row) == ["2026-06-27", "2026-06-28", "2026-06-27"]
    assert [one["finding"] for one in row["differences"]] == ["differs", "the same"]


def test_a_fact_that_crashes_is_named_and_ends_with_4(bare: Any) -> None:
    @fact("trip.luck", kind="trip", type="number", unit="", title="luck", exact=True)
    def luck() -> float:
        raise KeyError("no luck")

    bare.bring(
        Comparison("trip.luck", "Luck", 1), Comparison("trip.books", "Books", 2),
        facts=lambda: [*bare.toys.FACTS, luck],
    )  # fmt: skip
    found = bare.json()
    why = "plugin house (toys 1.0) failed at trip.luck of trip: KeyError: 'no luck'"
    assert found["silent"] == [{"fact": "trip.luck", "title": "Luck", "why": why}]
    assert [row["title"] for row in found["rows"]] == ["Books"]
    assert found["exit_status"] == 4
    assert [warning["what"] for warning in found["warnings"]] == [why]


def test_a_plugin_without_comparisons_leaves_the_verdicts(bare: Any) -> None:
    found = bare.bring().json()
    assert (found["rows"], found["silent"], found["exit_status"]) == ([], [], 0)
    assert [changes["label"] for changes in found["changes"]] == ["long-ladder", "more-books", "no-ladder"]
