"""Examples made from cases: nearest first, none twice, none from a case that comes out otherwise."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from afield.core.authoring.rulebook import WrongCases, rulebook_html, rulebook_json, rulebook_text
from afield.core.packs.loading import load_pack

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
OLD_AND_NEW = {
    "gap": [
        {"from": "2020-01-01", "until": "2024-01-01", "value": "0.2", "unit": "m"},
        {"from": "2024-01-01", "value": "0.5", "unit": "m"},
    ]
}


def case(name: str, value: Any, outcome: str, day: str = "2026-01-01", **more: Any) -> dict[str, Any]:
    subject = {"kind": "trip", "key": "trip", "facts": {"wall.gap": value}}
    expect = {"outcome": outcome, **more}
    return {"name": name, "rule": "gap", "date": day, "subjects": [subject], "expect": expect}


def book(house: Any, *cases: dict[str, Any], pack: Path | None = None) -> dict[str, Any]:
    folder = pack or house.pack(GAP, limits=OLD_AND_NEW)
    if cases:
        house.write(folder / "cases.yaml", {"cases": list(cases)})
    return rulebook_json(load_pack(folder, house.engine.registry), house.engine.registry)


def told(found: dict[str, Any]) -> dict[str, list[str]]:
    (rule,) = [rule for group in found["severities"] for kind in group["kinds"] for rule in kind["rules"]]
    return {group["word"]: group["examples"] for group in rule["examples"]}


def test_those_nearest_to_the_limit_in_force_come_first_and_none_twice(house: Any) -> None:
    found = book(
        house,
        case("far", "9 m", "passed"),
        case("near", "0.51 m", "passed"),
        case("at", "0.5 m", "passed"),
        case("at, in other words", "50 cm", "passed"),
        case("old", "0.2 m", "passed", "2023-12-31"),
        case("too little", "0.49 m", "failed"),
        case("less", {"value": "0.1 m", "uncertainty": "0.1 m"}, "failed"),
        case("open", {"value": "0.5 m", "uncertainty": "0.1 m"}, "cannot tell", reason="within uncertainty"),
        case("unknown", {"unknown": "missing input"}, "cannot tell", reason="missing input"),
    )
    assert told(found) == {
        "Passes": ["gap above the ladder 0.5 m", "gap above the ladder 0.51 m"],
        "Fails": ["gap above the ladder 0.49 m", "gap above the ladder 0.1 m ± 0.1 m"],
        "Cannot be told": [
            "gap above the ladder 0.5 m ± 0.1 m (the limit is within the uncertainty)",
            "gap above the ladder is not known",
        ],
    }


def test_an_example_of_an_older_value_says_its_day(house: Any) -> None:
    assert told(book(house, case("old", "0.3 m", "passed", "2023-12-31"))) == {
        "Passes": ["gap above the ladder 0.3 m, on 2023-12-31"]
    }


def test_a_case_that_comes_out_otherwise_makes_no_rulebook(house: Any) -> None:
    with pytest.raises(WrongCases, match=r"^a case comes out otherwise than pack:tidy/cases\.yaml says$"):
        book(house, case("wrong", "0.4 m", "passed"), case("right", "0.6 m", "passed"))


def test_without_cases_it_says_that_there_are_no_examples(house: Any) -> None:
    found = book(house)
    assert told(found) == {}
    assert "There are no examples: the pack has no cases." in rulebook_text(found)
    assert "There are no examples: the pack has no cases." in rulebook_html(found)


def test_examples_of_the_base_stand_only_where_its_limits_hold(house: Any) -> None:
    base = house.pack(GAP, name="base", limits=OLD_AND_NEW)
    house.write(base / "cases.yaml", {"cases": [case("at", "0.5 m", "passed")]})
    same = house.pack(name="same", extends="base", needs=[])
    stricter = house.pack(
        name="stricter", extends="base", needs=[], limits={"gap": [{"from": "2025-01-01", "value": "1", "unit": "m"}]}
    )
    assert told(book(house, pack=same)) == {"Passes": ["gap above the ladder 0.5 m"]}
    found = book(house, pack=stricter)
    assert told(found) == {}
    (rule,) = found["severities"][0]["kinds"][0]["rules"]
    assert rule["due"] == "The gap above the ladder must be at least 1 m (3.3 ft)."
    assert rule["of"] == "base 1.0.0"
    assert rule["whose"] == ["Limit gap of 1 m set by stricter 1.0.0 in place of 0.5 m of base 1.0.0."]


def test_a_changed_severity_moves_the_rule_and_says_why(house: Any) -> None:
    house.pack(GAP, name="base", limits=OLD_AND_NEW)
    club = house.pack(name="club", extends="base", needs=[])
    change = {"rule": "gap", "severity": "advised", "reason": "We have helpers."}
    rules = club / "rules.yaml"
    rules.write_text(json.dumps({**json.loads(rules.read_text()), "changes": [change]}))
    found = book(house, pack=club)
    assert [group["title"] for group in found["severities"]] == ["Advised"]
    (rule,) = found["severities"][0]["kinds"][0]["rules"]
    assert rule["whose"] == ["Severity advised set by club 1.0.0 in place of required of base 1.0.0: We have helpers."]


def test_every_text_of_a_pack_is_escaped_once(house: Any) -> None:
    hostile = '<script>alert("x")</script> & more'
    rule = {**GAP, "title": hostile, "why": hostile, "assumes": [hostile], "if_failed": hostile}
    tick = {"id": "tick", "confirm": hostile, "when": "home", "evidence": hostile, "title": hostile}
    found = book(
        house, pack=house.pack(rule, tick, limits=OLD_AND_NEW, notice=hostile, title=hostile, publisher=hostile)
    )
    page = rulebook_html(found)
    assert "<script" not in page and "&amp;amp;" not in page
    assert page.count("&lt;script&gt;") >= 9
    assert rulebook_text(found).replace("\n  ", " ").count(hostile) >= 7


def test_a_rulebook_is_the_same_each_time(house: Any) -> None:
    first = book(house, case("at", "0.5 m", "passed"))
    assert rulebook_html(first) == rulebook_html(book(house)) and "<script" not in rulebook_html(first)


def test_a_long_list_of_places_is_cut_and_counted(house: Any) -> None:
    rule = {"id": "floor", "for_each": "claim", "require": {"fact": "room.floor", "at_most": 3}}
    rooms = [
        {"id": f"room-{number}", "title": f"Room {number}", "from": "2024-01-01", "floor": 1, "source": house.SOURCE}
        for number in range(203)
    ]
    found = book(house, pack=house.pack(rule, judges="program", references=rooms))
    assert (len(found["references"]["rows"]), found["references"]["more"]) == (200, 3)
    assert "and 3 more in the pack's list" in rulebook_text(found)
    assert "And 3 more in the pack's list." in rulebook_html(found)
