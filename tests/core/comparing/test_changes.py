"""Verdicts that change are told, those of one side alone together, and the rest is counted."""

from __future__ import annotations

from typing import Any

from .conftest import BOX, DUST, FEW, GAP


def test_a_verdict_that_changes_comes_with_its_margins(house: Any) -> None:
    changes = house.changes("long-ladder")
    (change,) = changes["changed"]
    assert (change["rule"], change["subject"], change["severity"], change["of"]) == (
        "tidy/gap",
        "trip",
        "required",
        None,
    )
    assert change["sides"] == [
        {
            "label": "the plan", "outcome": "passed", "severity": "required",
            "measured": "1.00 m ± 0.05 m (95 %; 3.28 ft ± 0.16 ft)", "limit": "at least 0.5 m (1.6 ft)",
            "margin": "0.50 m (1.64 ft) of room", "because": None, "waived": None,
        },
        {
            "label": "long-ladder", "outcome": "failed", "severity": "required",
            "measured": "0.20 m ± 0.05 m (95 %; 0.66 ft ± 0.16 ft)", "limit": "at least 0.5 m (1.6 ft)",
            "margin": "0.30 m (0.99 ft) short", "because": None, "waived": None,
        },
    ]  # fmt: skip
    assert (changes["only"], changes["checklist"]) == ([], [])


def test_a_verdict_that_cannot_be_told_says_why(house: Any) -> None:
    (change,) = house.changes("no-ladder")["changed"]
    assert [side["outcome"] for side in change["sides"]] == ["passed", "cannot tell"]
    assert change["sides"][1]["because"] == "length of the ladder is not stated"


def test_what_does_not_change_is_counted_by_outcome(house: Any) -> None:
    unchanged = {"passed": 1, "failed": 0, "cannot tell": 0, "not applicable": 0}
    assert house.changes("long-ladder")["unchanged"] == unchanged


def test_what_only_one_side_has_is_told_together(house: Any) -> None:
    changes = house.changes("more-books")
    assert [change["subject"] for change in changes["changed"]] == ["shelf:a"]
    (group,) = changes["only"]
    assert group["label"] == "more-books"
    assert group["subjects"] == [{"subject": "shelf:b", "kind": "shelf", "of": "b"}]
    assert group["rules"] == []
    assert group["outcomes"] == {"passed": 0, "failed": 1, "cannot tell": 0, "not applicable": 0}
    assert [(one["rule"], one["of"], one["outcome"], one["severity"]) for one in group["open"]] == [
        ("tidy/few", "b", "failed", "advised")
    ]


def test_what_the_variant_leaves_out_is_only_with_the_base(house: Any) -> None:
    changes = house.changes("the plan", base="more-books")
    assert [group["label"] for group in changes["only"]] == ["more-books"]


def test_what_is_passed_on_one_side_alone_is_counted_and_not_listed(house: Any) -> None:
    shelves = [{"name": name, "books": 1} for name in "abcdef"]
    (group,) = house.changes("full", variants={"full": {"shelves": shelves}})["only"]
    assert [subject["of"] for subject in group["subjects"]] == list("bcdef")
    assert (group["outcomes"]["passed"], group["open"]) == (5, [])


def test_not_applicable_and_not_there_are_one(house: Any) -> None:
    # Without shelves the rule has one verdict, not applicable on the trip; with them it has none there.
    changes = house.changes("shelved", shelves=None, variants={"shelved": {"shelves": [{"name": "a", "books": 1}]}})
    assert changes["changed"] == []
    assert [group["label"] for group in changes["only"]] == ["shelved"]
    away = house.changes("bare", variants={"bare": {"shelves": None}})
    assert [group["label"] for group in away["only"]] == ["the plan"]


def test_a_rule_that_only_one_side_has(house: Any) -> None:
    house.toys.pack({"id": "late", "require": {"fact": "wall.damp", "is": True}}, name="other")
    (group,) = house.changes("both", variants={"both": {"packs": ["tidy", "other"]}})["only"]
    assert (group["label"], group["subjects"], group["rules"]) == ("both", [], ["The rule late"])
    assert [one["rule"] for one in group["open"]] == ["other/late"]


def test_a_rule_that_applies_on_one_side_alone_changes(house: Any) -> None:
    house.toys.pack({**GAP, "where": {"fact": "wall.damp", "is": True}}, limits=house.gap_limit)
    (change,) = house.changes("wet", variants={"wet": {"wall": {"damp": True}}})["changed"]
    assert [side["outcome"] for side in change["sides"]] == ["not applicable", "passed"]


def test_required_ones_come_first(house: Any) -> None:
    house.toys.pack(FEW, {**FEW, "id": "note", "severity": "note"}, GAP, BOX, DUST, limits=house.gap_limit)
    both = {"shelves": [{"name": "a", "books": 30}], "ladder": {"length": "2.8 m"}}
    changed = house.changes("both", variants={"both": both})["changed"]
    assert [change["severity"] for change in changed] == ["required", "advised", "note"]


def test_another_severity_alone_is_a_change(house: Any) -> None:
    house.toys.pack({**FEW, "severity": "required"}, name="strict")
    changes = house.changes("strict", packs=["tidy"], variants={"strict": {"packs": ["strict"]}})
    assert changes["changed"] == []  # another pack's rule is another rule
    assert [group["label"] for group in changes["only"]] == ["the plan", "strict"]


def test_the_checklist_stands_apart(house: Any) -> None:
    found = house.changes("more-books")["checklist"]
    assert [(item["title"], item["of"], [side["tick"] for side in item["sides"]]) for item in found] == [
        ("The rule dust", "b", ["not on the list", "open"])
    ]


def test_an_item_that_the_variant_confirms(house: Any) -> None:
    found = house.changes("closed", variants={"closed": {"confirmed": ["tidy/box"]}})["checklist"]
    assert [(item["rule"], [side["tick"] for side in item["sides"]]) for item in found] == [
        ("tidy/box", ["open", "confirmed"])
    ]
