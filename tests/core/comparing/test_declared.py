"""What plugins compare must be there; a plugin that fails at its own words is named, and the rest is told."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.comparing.declared import declared_comparisons
from afield.core.host.hookspecs import Comparison
from afield.core.host.loading import SetupError

HOUSE = "plugin house (toys 1.0)"


def refusal(bare: Any, *comparisons: Comparison) -> str:
    bare.bring(*comparisons)
    with pytest.raises(SetupError) as caught:
        bare.json()
    return str(caught.value)


def boom(*records: Any) -> str:
    raise RuntimeError("the shelf fell")


def test_comparisons_stand_in_their_order_and_not_in_that_of_the_plugins(bare: Any) -> None:
    bare.bring(Comparison("wall.gap", "Gap", 20), Comparison("wall.height", "Height", 10))
    bare.toys.add("yard", comparisons=lambda: [Comparison("trip.books", "Books", 10)]).add(
        "empty", comparisons=lambda: None
    )
    found = declared_comparisons(bare.toys.host, bare.toys.engine.registry)
    assert [one.comparison.fact for one in found] == ["trip.books", "wall.height", "wall.gap"]
    assert [row["title"] for row in bare.json()["rows"]] == ["Books", "Height", "Gap"]


def test_a_fact_that_nothing_declares(bare: Any) -> None:
    told = refusal(bare, Comparison("wall.gaps", "Gap", 1))
    assert told == f"{HOUSE} compares wall.gaps, which nothing declares\n    = Did you mean wall.gap?"


def test_a_fact_that_resembles_none(bare: Any) -> None:
    told = refusal(bare, Comparison("zzz", "Sleep", 1))
    assert told == f"{HOUSE} compares zzz, which nothing declares\n    = `afield facts` lists them all."


def test_a_fact_of_another_kind(bare: Any) -> None:
    assert refusal(bare, Comparison("shelf.books", "Books", 1)) == (
        f"{HOUSE} compares shelf.books, which is a fact of a shelf, not of the trip\n"
        "    = Compare a fact of the trip that gathers it."
    )


def test_a_fact_twice(bare: Any) -> None:
    twice = [Comparison("wall.gap", "Gap", 1), Comparison("wall.gap", "Gap again", 2)]
    assert refusal(bare, *twice) == f"{HOUSE} compares wall.gap twice\n    = Remove one of the two."


def test_a_fact_of_two_plugins(bare: Any) -> None:
    bare.toys.add("garden", comparisons=lambda: [Comparison("wall.gap", "Gap", 1)])
    assert refusal(bare, Comparison("wall.gap", "Gap", 1)) == (
        f"wall.gap is compared by plugin garden (toys 1.0) and by {HOUSE}\n    = Remove one of the two."
    )


def test_a_hook_that_raises_is_named_and_the_run_ends_with_4(bare: Any) -> None:
    bare.bring(Comparison("wall.gap", "Gap", 1))
    bare.toys.add("yard", comparisons=boom)
    found = bare.json()
    assert [row["title"] for row in found["rows"]] == ["Gap"]
    assert found["exit_status"] == 4
    assert found["warnings"][0] == {
        "sides": ["the plan", "long-ladder", "more-books", "no-ladder"],
        "place": None,
        "what": "plugin yard (toys 1.0) failed in afield_comparisons: RuntimeError: the shelf fell",
        "do": "report it to the plugin's maker",
    }


def test_words_that_fail_are_said_to_and_the_difference_stands(bare: Any) -> None:
    bare.bring(Comparison("wall.gap", "Gap", 1, words=boom), Comparison("trip.books", "Books", 2))
    found = bare.json(only=("long-ladder",))
    gap, books = found["rows"]
    assert [value["words"] for value in gap["values"]] == ["cannot tell: plugin failed"] * 2
    assert gap["differences"][0]["finding"] == "differs"
    assert [value["words"] for value in books["values"]] == ["3", "3"]
    assert found["exit_status"] == 4
    assert [warning["what"] for warning in found["warnings"]] == [
        f"{HOUSE} failed at comparing wall.gap: RuntimeError: the shelf fell"
    ]


def test_a_difference_that_fails_is_said_to_and_the_figures_stand(bare: Any) -> None:
    bare.bring(Comparison("wall.gap", "Gap", 1, difference=boom))
    found = bare.json(only=("long-ladder",))
    (difference,) = found["rows"][0]["differences"]
    assert (difference["extra"], difference["finding"]) == ("cannot tell: plugin failed", "differs")
    assert difference["words"] == "-0.80 m ± 0.06 m (95 %; -2.62 ft ± 0.19 ft)"
    assert found["exit_status"] == 4


def test_words_that_are_no_text_are_a_failure(bare: Any) -> None:
    bare.bring(Comparison("wall.gap", "Gap", 1, words=lambda record: 5))  # type: ignore[arg-type, return-value]
    assert [warning["what"] for warning in bare.json()["warnings"]] == [
        f"{HOUSE} failed at comparing wall.gap: TypeError: it returned 5, not a text"
    ]


def test_own_words_get_the_records_of_the_report(bare: Any) -> None:
    def apart(base: Any, other: Any) -> str | None:
        assert base["detail"] == other["detail"] == {"end": "top"}
        return None if other["value"] > 0.5 else f"{other['value'] / base['value']:.0%} of it"

    words = Comparison(
        "wall.gap", "Gap", 1, apart, lambda record: f"{record['value']:g}\nat the {record['detail']['end']}"
    )
    row = bare.bring(words).row("wall.gap", only=("long-ladder", "more-books"))
    assert [(value["words"], value["lines"]) for value in row["values"]] == [
        ("1", ["at the top"]), ("0.2", ["at the top"]), ("1", ["at the top"]),
    ]  # fmt: skip
    assert [difference["extra"] for difference in row["differences"]] == ["20% of it", None]


def test_own_words_are_not_asked_of_what_is_not_known(bare: Any) -> None:
    row = bare.bring(Comparison("wall.gap", "Gap", 1, boom, lambda record: "known")).row(
        "wall.gap", only=("no-ladder",)
    )
    assert [value["words"] for value in row["values"]] == ["known", "cannot tell: length of the ladder is not stated"]
    assert row["differences"][0]["extra"] is None


def test_what_a_broken_plugin_would_find_cannot_be_told(bare: Any) -> None:
    bare.toys.add("yard", facts=boom, comparisons=lambda: [Comparison("yard.size", "Yard", 1)])
    bare.bring(Comparison("wall.gap", "Gap", 1))
    found = bare.json()
    assert found["silent"] == [{"fact": "yard.size", "title": "Yard", "why": "yard.size is not known: a plugin failed"}]
    assert found["exit_status"] == 4
