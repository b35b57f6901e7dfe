"""A measurement settles a verdict: supplying what `settle` names flips it. A wrong one is never half accepted."""

import re
from typing import Any

import pytest

from afield.core.documents import InputError

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
NEAR = {"wall": {"height": "3 m"}, "ladder": {"length": "2.48 m"}}


def reading(value: str, fact: str = "wall.gap", **more: Any) -> Any:
    return {"measured": [{"fact": fact, "of": "trip", "value": value, "how": "tape", **more}]}


@pytest.fixture
def tidy(house: Any, gap_limit: Any) -> Any:
    house.pack(GAP, limits=gap_limit)
    return house


def test_a_measurement_displaces_what_was_computed_and_keeps_its_texts(house: Any, gap_limit: Any) -> None:
    house.pack({**GAP, "if_failed": "Lower the {{ detail.end }} by {{ short_by }}."}, limits=gap_limit)
    report = house.report(**NEAR, **reading("0.4 m", uncertainty="0.02 m"))
    (verdict,) = report["verdicts"]
    assert verdict["text"] == "Lower the top by 0.10 m (0.33 ft)."
    record = next(record for record in report["facts"] if record["fact"] == "wall.gap")
    assert (record["rank"], record["method"]) == ("measured", "measured by hand: tape")
    assert (record["displaced"]["rank"], record["displaced"]["detail"]) == ("computed", {"end": "top"})


def test_what_settles_it_is_one_measurement_with_its_figures(tidy: Any) -> None:
    assert tidy.only(**NEAR)["settle"] == {
        "kind": "measure",
        "words": "Measure the gap above the ladder with a tape measure; the limit is 0.5 m (1.6 ft).",
        "fact": "wall.gap", "subject": "trip", "title": "gap above the ladder", "input": "wall.gap",
        "tool": "tape measure", "tool_uncertainty": "± 0.01 m (95 %)",
        "counts_if": "it reads 0.51 m (1.7 ft) or more", "fails_if": "it reads 0.48 m (1.6 ft) or less",
    }  # fmt: skip


CONDITIONS = {
    "at_least": {"fact": "wall.gap", "at_least": {"limit": "gap"}},
    "above": {"fact": "wall.gap", "above": {"limit": "gap"}},
    "at_most": {"fact": "wall.gap", "at_most": {"limit": "gap"}},
    "below": {"fact": "wall.gap", "below": {"limit": "gap"}},
    "none at_most": {"none": [{"fact": "wall.gap", "at_most": {"limit": "gap"}}]},
    "none below": {"none": [{"fact": "wall.gap", "below": {"limit": "gap"}}]},
    "all": {"all": [{"fact": "wall.gap", "at_least": {"limit": "gap"}}, {"fact": "trip.date", "exists": True}]},
    "any": {"any": [{"fact": "wall.gap", "at_least": {"limit": "gap"}}, {"fact": "trip.date", "exists": False}]},
}


@pytest.mark.parametrize("condition", CONDITIONS)
@pytest.mark.parametrize("limit", [("0.5", "m"), ("1.6", "ft"), ("20", "in")])
@pytest.mark.parametrize("decision", ["guarded", "simple"])
def test_the_readings_that_are_told_settle_it_in_the_way_that_is_told(
    house: Any, condition: str, limit: tuple[str, str], decision: str
) -> None:
    limits = {"gap": [{"from": "2024-01-01", "value": limit[0], "unit": limit[1]}]}
    house.pack({"id": "gap", "decision": decision, "require": CONDITIONS[condition]}, limits=limits)
    settle = house.only(wall={"height": "3 m"})["settle"]
    for told, outcome in (("counts_if", "passed"), ("fails_if", "failed")):
        figure = re.match(r"it reads (-?[\d.]+ m)", settle[told])
        assert figure is not None
        assert house.only(wall={"height": "3 m"}, **reading(figure[1]))["outcome"] == outcome, (told, figure[1])


def test_no_figures_where_the_comparison_alone_does_not_decide(house: Any, gap_limit: Any) -> None:
    both = {"all": [GAP["require"], {"fact": "wall.damp", "is": False}]}
    house.pack({"id": "gap", "require": both}, limits=gap_limit)
    settle = house.only(**NEAR)["settle"]
    assert (settle["counts_if"], settle["fails_if"]) == (None, None)


def test_no_figures_where_it_is_whether_the_rule_applies_that_cannot_be_told(house: Any, gap_limit: Any) -> None:
    house.pack(
        {"id": "gap", "where": GAP["require"], "require": {"fact": "trip.date", "exists": True}}, limits=gap_limit
    )
    settle = house.only(**NEAR)["settle"]
    assert (settle["fact"], settle["counts_if"], settle["fails_if"]) == ("wall.gap", None, None)


@pytest.mark.parametrize(
    ("rule", "plan", "supplied", "reason"),
    [
        (GAP, {"wall": {"height": "3 m"}}, {"ladder.length": "2 m"}, "missing input"),
        ({"id": "deep", "require": {"fact": "wall.depth", "at_least": "0.2 m"}}, {"wall": {"depth": "0.4 m"}},
         {"wall.depth": "0.4 m"}, "no uncertainty stated"),
        ({"id": "dry", "require": {"fact": "wall.damp", "is": False}}, {}, {"wall.damp": False}, "not stated"),
        ({"id": "fits", "require": {"fact": "wall.fits", "is": True}},
         {"wall": {"height": "3 m"}, "ladder": {"length": "2.98 m"}}, {"wall.height": "3.06 m"}, "within uncertainty"),
        ({"id": "dry", "where": {"fact": "wall.damp", "is": False}, "require": {"fact": "trip.date", "exists": True}},
         {}, {"wall.damp": False}, "applicability"),
    ],
)  # fmt: skip
def test_supplying_what_is_named_settles_it(
    house: Any, gap_limit: Any, rule: Any, plan: Any, supplied: Any, reason: str
) -> None:
    house.pack(rule, limits=gap_limit)
    open_one = house.only(**plan)
    assert (open_one["outcome"], open_one["reason"]["code"]) == ("cannot tell", reason)
    ((name, value),) = supplied.items()
    settle = open_one["settle"]
    assert (settle["input"], settle["subject"]) == ("wall.gap" if settle["kind"] == "measure" else name, "trip")
    more = {} if isinstance(value, bool) else {"uncertainty": "0.01 m"}
    assert house.only(**plan, **reading(value, name, **more))["outcome"] == "passed"


@pytest.mark.parametrize(
    ("entry", "what"),
    [
        ({"fact": "wall.gape"}, "no fact is called wall.gape"),
        ({"of": "shelf:a"}, "the plan has no subject shelf:a"),
        ({"of": "trp"}, "the plan has no subject trp"),
        ({"value": "3 kg"}, "3 kg is a mass; a length is due"),
        ({"value": 3}, '3 is a bare number: write its unit, for example "3 m"'),
        ({"value": True}, "true is no number"),
        ({"uncertainty": "-0.2 m"}, "an uncertainty of -0.2 m is below 0"),
        ({"uncertainty": 0.2}, '0.2 is a bare number: write its unit, for example "0.2 m"'),
    ],
)
def test_a_wrong_measurement_is_refused_where_it_stands(tidy: Any, entry: Any, what: str) -> None:
    with pytest.raises(InputError) as caught:
        tidy.load(measured=[{"fact": "wall.gap", "of": "trip", "value": "1 m", "how": "tape", **entry}])
    (problem,) = caught.value.problems
    assert problem.what == what
    assert problem.place.file == "plan.yaml"
    assert f'"{next(iter(entry))}"' in problem.source


def test_two_measurements_of_one_fact_are_refused(tidy: Any) -> None:
    entry = reading("1 m")["measured"][0]
    with pytest.raises(InputError) as caught:
        tidy.load(measured=[entry, {**entry, "value": "2 m"}])
    assert caught.value.problems[0].what == "wall.gap of trip is measured twice"
    assert str(caught.value.problems[0].place) == "plan.yaml:15:12"


def test_a_measurement_without_an_uncertainty_takes_the_tools_or_is_refused(tidy: Any) -> None:
    report = tidy.report(**NEAR, **reading("1 m"))
    record = next(record for record in report["facts"] if record["fact"] == "wall.gap")
    assert record["uncertainty"] == 0.01
    with pytest.raises(InputError) as caught:
        tidy.load(**reading("1 m", "ladder.length"))
    assert caught.value.problems[0].what == "a measured length of the ladder needs its uncertainty"


def test_a_text_has_no_uncertainty_and_must_be_a_choice(house: Any) -> None:
    house.pack({"id": "red", "for_each": "shelf", "require": {"fact": "shelf.colour", "is": "red"}})
    entry = {"fact": "shelf.colour", "of": "shelf:a", "value": "red", "how": "seen"}
    shelves = [{"name": "a", "colour": "blue"}]
    assert house.only(shelves=shelves, measured=[entry])["outcome"] == "passed"
    with pytest.raises(InputError):
        house.load(shelves=shelves, measured=[{**entry, "value": "rde"}])
    with pytest.raises(InputError) as caught:
        house.load(shelves=shelves, measured=[{**entry, "uncertainty": "1 m"}])
    assert "uncertainty" in caught.value.problems[0].source
