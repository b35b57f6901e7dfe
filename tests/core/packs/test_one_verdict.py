"""Exactly one verdict for every rule and subject, whatever fails: a crash never shortens the list and never passes."""

from dataclasses import replace
from typing import Any

import pytest

from afield.core.engine import PluginTrouble
from afield.core.facts.declarations import Each, Fact, Kind
from afield.core.facts.subjects import Subject

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
SHELVES = [{"name": "a", "books": 3, "width": "1 m"}, {"name": "b", "books": 40}]
TALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}


def boom(*_: Any, **__: Any) -> Any:
    raise RuntimeError("the shelf fell")


def crashing(toys: Any, name: str) -> list[Fact]:

    return [replace(fact, function=boom) if fact.name == name else fact for fact in toys.FACTS]


def test_one_verdict_for_each_rule_and_subject_in_written_order(house: Any, gap_limit: Any) -> None:
    house.pack(
        {"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 10}},
        GAP,
        {"id": "coloured", "for_each": "shelf", "require": {"fact": "shelf.colour", "exists": True}},
        limits=gap_limit,
    )
    assert house.told(shelves=SHELVES, **TALL) == [
        ("tidy/few", "shelf:a", "passed"),
        ("tidy/few", "shelf:b", "failed"),
        ("tidy/gap", "trip", "passed"),
        ("tidy/coloured", "shelf:a", "failed"),
        ("tidy/coloured", "shelf:b", "failed"),
    ]


def test_a_fact_function_that_raises(toys: Any, gap_limit: Any) -> None:
    toys.house(facts=lambda: crashing(toys, "wall.gap")).pack(GAP, limits=gap_limit)
    report = toys.report(**TALL)
    (verdict,) = report["verdicts"]
    text = "plugin house (toys 1.0) failed at wall.gap of trip: RuntimeError: the shelf fell"
    assert (verdict["outcome"], verdict["reason"]["code"], verdict["reason"]["text"]) == (
        "cannot tell",
        "plugin failed",
        text,
    )
    assert report["warnings"] == [{"place": None, "what": text, "do": "report it to the plugin's maker"}]
    assert report["exit_status"] == 4


def test_a_facts_hook_that_raises_leaves_its_rules_to_be_told_otherwise(toys: Any, gap_limit: Any) -> None:
    toys.house(facts=boom).pack(
        GAP, {"id": "dated", "require": {"fact": "trip.date", "exists": True}}, limits=gap_limit
    )
    report = toys.report(**TALL)
    assert [verdict["outcome"] for verdict in report["verdicts"]] == ["cannot tell", "passed"]
    assert report["verdicts"][0]["reason"] == {
        "code": "plugin failed",
        "text": "plugin house (toys 1.0) failed in afield_facts: RuntimeError: the shelf fell",
        "settle": "plugin house",
        "subject": None,
    }
    assert report["exit_status"] == 4


def test_a_fact_of_another_plugin_that_needs_a_failed_ones_cannot_tell(toys: Any) -> None:
    rest = Fact("yard.rest", "trip", unit="m", function=lambda gap: gap, parameters={"gap": "wall_gap"})
    toys.house(facts=boom).add("yard", facts=lambda: [rest])
    toys.pack({"id": "rest", "require": {"fact": "yard.rest", "below": "5 m"}}, needs=["yard"])
    verdict = toys.only(**TALL)
    assert verdict["outcome"] == "cannot tell"
    assert verdict["reason"]["code"] == "plugin failed"
    assert verdict["reason"]["text"] == "plugin house (toys 1.0) failed in afield_facts: RuntimeError: the shelf fell"


def test_a_fragments_hook_that_raises_does_not_make_the_plan_wrong(toys: Any, gap_limit: Any) -> None:
    toys.house(fragments=boom).pack(
        GAP, {"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 10}}, limits=gap_limit
    )
    report = toys.report(shelves=SHELVES, **TALL)
    text = "plugin house (toys 1.0) failed in afield_fragments: RuntimeError: the shelf fell"
    assert [(v["rule"], v["subject"], v["outcome"], v["reason"]["text"]) for v in report["verdicts"]] == [
        ("tidy/gap", "trip", "cannot tell", text),
        ("tidy/few", "trip", "cannot tell", text),
    ]
    assert report["exit_status"] == 4


def test_while_a_plugin_fails_an_error_of_the_plan_is_told_with_the_failure(toys: Any, gap_limit: Any) -> None:
    toys.house(fragments=boom).pack(GAP, limits=gap_limit)
    with pytest.raises(PluginTrouble) as caught:
        toys.load(date="2026-06-31")
    assert str(caught.value).splitlines()[:2] == [
        "plugin house (toys 1.0) failed in afield_fragments: RuntimeError: the shelf fell",
        "    = Mend or uninstall the plugin first: what it adds to a plan is not known without it.",
    ]


def test_a_kinds_hook_that_raises(toys: Any) -> None:
    toys.house().add("yard", kinds=boom)
    toys.pack({"id": "cut", "for_each": "hedge", "require": {"fact": "hedge.height", "below": "2 m"}}, needs=["yard"])
    assert toys.told() == [("tidy/cut", "trip", "cannot tell")]
    text = "plugin yard (toys 1.0) failed in afield_kinds: RuntimeError: the shelf fell"
    assert toys.only()["reason"]["text"] == text


def hedges(toys: Any, subjects: Any, **more: Any) -> Any:
    fact = Fact("hedge.height", "hedge", unit="m", function=lambda: 1.0, exact=True)
    count = Fact(
        "trip.hedges",
        "trip",
        unit="",
        function=lambda obj: len(obj),
        parameters={"obj": Each("hedge", "hedge.height")},
        exact=True,
    )
    toys.add("yard", kinds=lambda: [Kind("hedge")], facts=lambda: [fact, count], subjects=subjects)
    return toys.pack(
        {"id": "cut", "for_each": "hedge", "require": {"fact": "hedge.height", "below": "2 m"}},
        {"id": "few", "require": {"count": "hedge", "at_most": 3}},
        {"id": "none-left", "require": {"fact": "trip.hedges", "at_most": 3}},
        needs=["yard"], **more,
    )  # fmt: skip


def hedge(name: str) -> Subject:
    return Subject(f"hedge:{name}", "hedge", name, {"trip": "trip"})


def test_derived_subjects_are_judged_like_others(toys: Any) -> None:
    hedges(toys, lambda plan: [hedge("front"), hedge("back")])
    assert toys.told() == [
        ("tidy/cut", "hedge:front", "passed"), ("tidy/cut", "hedge:back", "passed"), ("tidy/few", "trip", "passed"),
        ("tidy/none-left", "trip", "passed"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("subjects", "error"),
    [
        (boom, "RuntimeError: the shelf fell"),
        (lambda plan: ["front"], "TypeError: it returned a str where a Subject is due"),
        (
            lambda plan: [hedge("front"), hedge("front")],
            "ValueError: it derives the subject hedge:front, which is there already",
        ),
        (
            lambda plan: [Subject("hedge:front", "hedge", "front", {"claim": "claim:a/b"})],
            "ValueError: it derives hedge:front within claim:a/b, which is not there",
        ),
        (
            lambda plan: [Subject("tree:one", "tree", "one", {"trip": "trip"})],
            "ValueError: it derives tree:one of the kind tree, which nothing declares",
        ),
    ],
)
def test_subjects_that_could_not_be_had_are_not_no_subjects(toys: Any, subjects: Any, error: str) -> None:
    hedges(toys, subjects)
    report = toys.report()
    text = f"plugin yard (toys 1.0) failed in afield_subjects: {error}"
    assert [
        (v["rule"], v["subject"], v["outcome"], v["reason"]["code"], v["reason"]["text"]) for v in report["verdicts"]
    ] == [(f"tidy/{rule}", "trip", "cannot tell", "plugin failed", text) for rule in ("cut", "few", "none-left")]
    assert [warning["what"] for warning in report["warnings"]] == [text]
    assert report["exit_status"] == 4


def test_a_plugin_that_is_not_installed(house: Any) -> None:
    house.pack(
        {"id": "cut", "for_each": "hedge", "require": {"fact": "hedge.height", "below": "2 m"}},
        {"id": "green", "require": {"fact": "garden.green", "is": True}},
        {"id": "few", "require": {"count": "hedge", "at_most": 3}},
        {"id": "dated", "require": {"fact": "trip.date", "exists": True}},
        needs=["yard"],
    )
    report = house.report()
    assert [(v["rule"], v["subject"], v["outcome"]) for v in report["verdicts"]] == [
        ("tidy/cut", "trip", "cannot tell"), ("tidy/green", "trip", "cannot tell"), ("tidy/few", "trip", "cannot tell"),
        ("tidy/dated", "trip", "passed"),
    ]  # fmt: skip
    assert [verdict["reason"] for verdict in report["verdicts"][:3]] == [
        {
            "code": "kind absent", "settle": "plugin yard", "subject": None,
            "text": "no installed plugin declares the kind hedge; the plugin yard is not there",
        },
        {
            "code": "plugin absent", "settle": "plugin yard", "subject": None,
            "text": "garden.green needs the plugin yard, which is not there",
        },
        {
            "code": "plugin absent", "settle": "plugin yard", "subject": None,
            "text": "the count of hedge needs the plugin yard, which is not there",
        },
    ]  # fmt: skip
    assert report["verdicts"][0]["settle"]["words"] == "Install the plugin yard."
    assert report["warnings"] == [{
        "place": "pack:tidy", "what": "the pack tidy needs the plugin yard, which is not installed",
        "do": "install it; rules that need it cannot be told",
    }]  # fmt: skip
    assert report["exit_status"] == 3
