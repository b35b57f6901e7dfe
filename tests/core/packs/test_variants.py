"""Variants: the plan with some things changed; readings of what the change reaches are dropped, and it is said."""

from typing import Any

import pytest

from afield.core.documents import InputError

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
READING = {"fact": "wall.gap", "of": "trip", "value": "0.9 m", "uncertainty": "0.01 m", "how": "tape"}
TALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}, "measured": [READING]}


@pytest.fixture
def tidy(house: Any, gap_limit: Any) -> Any:
    house.pack(GAP, limits=gap_limit)
    return house


def test_a_variant_that_changes_what_a_reading_rests_on_drops_the_reading_and_says_so(tidy: Any) -> None:
    plan = {**TALL, "variants": {"long-ladder": {"ladder": {"length": "2.8 m"}}}}
    base, variant = tidy.report(**plan), tidy.report("long-ladder", **plan)
    assert [report["verdicts"][0]["outcome"] for report in (base, variant)] == ["passed", "failed"]
    assert [record["rank"] for record in base["facts"] if record["fact"] == "wall.gap"] == ["measured"]
    assert [record["rank"] for record in variant["facts"] if record["fact"] == "wall.gap"] == ["computed"]
    assert variant["run"]["variant"] == "long-ladder"
    assert variant["warnings"] == [{
        "place": "plan.yaml:17:13",
        "what": "the measured wall.gap of trip is not used: the variant changes what it rests on",
        "do": "measure it again for the variant",
    }]  # fmt: skip
    assert base["warnings"] == []


def test_a_variant_that_changes_something_else_keeps_the_reading(tidy: Any) -> None:
    plan = {**TALL, "variants": {"damp": {"wall": {"damp": True}}, "shelved": {"shelves": [{"name": "a"}]}}}
    for variant in ("damp", "shelved"):
        report = tidy.report(variant, **plan)
        assert [record["rank"] for record in report["facts"] if record["fact"] == "wall.gap"] == ["measured"]
        assert report["warnings"] == []


def test_null_takes_a_thing_away(tidy: Any) -> None:
    plan = {**TALL, "variants": {"no-ladder": {"ladder": None}}}
    verdict = tidy.report("no-ladder", **plan)["verdicts"][0]
    assert (verdict["outcome"], verdict["reason"]["text"]) == ("cannot tell", "length of the ladder is not stated")


def test_a_reading_that_the_variant_states_itself_was_made_for_it(tidy: Any) -> None:
    own = {**READING, "value": "0.2 m"}
    plan = {**TALL, "variants": {"long-ladder": {"ladder": {"length": "2.8 m"}, "measured": [own]}}}
    report = tidy.report("long-ladder", **plan)
    assert [(r["rank"], r["value"]) for r in report["facts"] if r["fact"] == "wall.gap"] == [("measured", 0.2)]
    assert report["warnings"] == []


def test_adding_a_member_reaches_what_gathers_over_its_kind(house: Any) -> None:
    house.pack({"id": "books", "require": {"fact": "trip.books", "at_most": 5}})
    reading = {"fact": "trip.books", "of": "trip", "value": 5, "how": "counted"}
    shelves = [{"name": "a", "books": 4}]
    plan = {"shelves": shelves, "measured": [reading], "variants": {"more": {"shelves": [*shelves, {"name": "b"}]}}}
    assert house.report(**plan)["verdicts"][0]["outcome"] == "passed"
    variant = house.report("more", **plan)
    assert variant["verdicts"][0]["outcome"] == "cannot tell"
    assert [warning["what"] for warning in variant["warnings"]] == [
        "the measured trip.books of trip is not used: the variant changes what it rests on"
    ]


def test_an_unknown_variant(tidy: Any) -> None:
    with pytest.raises(InputError) as caught:
        tidy.load("tall", **TALL, variants={"long-ladder": {"ladder": {"length": "2.8 m"}}})
    (problem,) = caught.value.problems
    assert problem.what == "there is no variant tall"
