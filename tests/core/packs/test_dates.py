"""All in a pack is dated: `from` inclusive, `until` exclusive; a UTC day that is not certain has its neighbours."""

from typing import Any

import pytest

DAMP = {"id": "books", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": {"limit": "books"}}}
SHELF = {"shelves": [{"name": "a", "books": 15}]}


def versions(*entries: Any) -> Any:
    return {"books": [dict(zip(("from", "until", "value"), entry, strict=True)) for entry in entries]}


def changing(house: Any, basis: str) -> Any:
    first = {"from": "2024-01-01", "until": "2026-06-27", "value": "10"}
    house.pack(DAMP, limits={"books": [first, {"from": "2026-06-27", "value": "20"}]}, date_basis=basis)
    return house


@pytest.mark.parametrize(
    ("day", "local", "utc"),
    [
        ("2026-06-25", "failed", "failed"),
        ("2026-06-26", "failed", "cannot tell"),
        ("2026-06-27", "passed", "cannot tell"),
        ("2026-06-28", "passed", "passed"),
    ],
)
def test_a_limit_that_changes_on_the_date_or_beside_it(house: Any, day: str, local: str, utc: str) -> None:
    assert changing(house, "local").only(date=day, **SHELF)["outcome"] == local
    assert changing(house, "utc").only(date=day, **SHELF)["outcome"] == utc


def test_versions_that_disagree_are_told_day_by_day(house: Any) -> None:
    verdict = changing(house, "utc").only(**SHELF)
    assert verdict["reason"] == {
        "code": "versions disagree", "settle": None, "subject": None,
        "text": (
            "its date is not certain, and it is failed under the rules of 2026-06-26, passed under the rules of "
            "2026-06-27, passed under the rules of 2026-06-28"
        ),
    }  # fmt: skip
    assert verdict["settle"]["words"] == "Make the date certain: the outcome changes with it."
    assert verdict["margin"] is None


def test_where_all_days_agree_the_closest_call_is_shown(house: Any) -> None:
    narrow = {"from": "2024-01-01", "until": "2026-06-27", "value": "1.5", "unit": "m"}
    wide = {"from": "2026-06-27", "value": "2.5", "unit": "m"}
    rule = {"id": "width", "for_each": "shelf", "require": {"fact": "shelf.width", "at_most": {"limit": "width"}}}
    house.pack(rule, limits={"width": [narrow, wide]}, date_basis="utc")
    verdict = house.only(shelves=[{"name": "a", "width": "1 m"}])
    assert (verdict["outcome"], verdict["margin"]["value"], verdict["day"]) == ("passed", 0.5, "2026-06-26")


def test_the_subjects_of_a_program_carry_the_days_that_they_may_have(house: Any) -> None:
    rooms = [{"id": "attic", "title": "The attic", "from": "2024-01-01", "source": house.SOURCE}]
    for name, basis in (("red-house", "utc"), ("blue-house", "local")):
        house.pack(
            {"id": "dated", "require": {"fact": "trip.date", "exists": True}}, name=name, judges="program",
            references=rooms, date_basis=basis,
        )  # fmt: skip
    claims = [{"program": name, "reference": "attic"} for name in ("red-house", "blue-house")]
    days = {subject["key"]: subject["dates"] for subject in house.report(packs=[], claims=claims)["subjects"]}
    assert days["claim:red-house/attic"] == ["2026-06-26", "2026-06-27", "2026-06-28"]
    assert days["claim:blue-house/attic"] == ["2026-06-27"]


@pytest.mark.parametrize(
    ("day", "outcome"),
    [
        ("2026-06-26", "not applicable"),
        ("2026-06-27", "passed"),
        ("2026-06-29", "passed"),
        ("2026-06-30", "not applicable"),
    ],
)
def test_a_rule_that_is_not_in_force_is_not_applicable(house: Any, day: str, outcome: str) -> None:
    house.pack(
        {"id": "few", "require": {"fact": "trip.date", "exists": True}, "from": "2026-06-27", "until": "2026-06-30"}
    )
    verdict = house.only(date=day)
    assert verdict["outcome"] == outcome
    if outcome == "not applicable":
        assert verdict["reason"]["code"] == "no value in force"
        assert verdict["reason"]["text"] == f"the rule is not in force on {day}"


def test_no_value_in_force_cannot_be_told(house: Any) -> None:
    house.pack(DAMP, limits=versions(("2024-01-01", "2026-01-01", "20")))
    verdict = house.only(**SHELF)
    assert verdict["outcome"] == "cannot tell"
    assert verdict["reason"]["text"] == "the limit books has no value in force on 2026-06-27"
    assert verdict["settle"]["words"] == "Get a version of the pack tidy that covers 2026-06-27."
    assert house.report(**SHELF)["exit_status"] == 3


def test_an_explicit_none_is_not_applicable_with_its_reason(house: Any) -> None:
    house.pack(DAMP, limits={"books": [{"from": "2024-01-01", "none": "Books were not counted before 2027."}]})
    verdict = house.only(**SHELF)
    assert verdict["outcome"] == "not applicable"
    assert (verdict["reason"]["code"], verdict["reason"]["text"]) == (
        "no value in force",
        "Books were not counted before 2027.",
    )
    assert house.report(**SHELF)["exit_status"] == 0


@pytest.mark.parametrize(
    ("day", "outcome"), [("2024-05-31", "cannot tell"), ("2024-06-01", "passed"), ("2024-12-31", "cannot tell")]
)
def test_a_reference_out_of_its_days_cannot_be_told(house: Any, day: str, outcome: str) -> None:
    room = {
        "id": "attic",
        "title": "The attic",
        "from": "2024-06-01",
        "until": "2024-12-31",
        "floor": 3,
        "source": house.SOURCE,
    }
    house.pack(
        {"id": "high", "for_each": "claim", "require": {"fact": "room.floor", "above": 1}}, name="red-house",
        judges="program", references=[room],
    )  # fmt: skip
    verdict = house.only(packs=[], date=day, claims=[{"program": "red-house", "reference": "attic"}])
    assert verdict["outcome"] == outcome
    if outcome == "cannot tell":
        assert verdict["reason"]["text"] == f"attic is no reference of red-house on {day}"


@pytest.mark.parametrize(
    ("day", "outcome"), [("2023-12-31", "cannot tell"), ("2024-01-01", "passed"), ("2025-01-01", "failed")]
)
def test_a_program_fact_out_of_its_days_cannot_be_told(house: Any, day: str, outcome: str) -> None:
    def dated(since: str, colour: str, **until: str) -> Any:
        return {"from": since, "value": colour, "source": house.SOURCE, **until}

    colours = [dated("2024-01-01", "red", until="2025-01-01"), dated("2025-01-01", "blue")]
    rooms = [{"id": "attic", "title": "The attic", "from": "2020-01-01", "source": house.SOURCE}]
    house.pack(
        {"id": "red", "for_each": "claim", "require": {"fact": "program.colour", "is": "red"}}, name="red-house",
        judges="program", references=rooms, facts={"program.colour": colours},
    )  # fmt: skip
    verdict = house.only(packs=[], date=day, claims=[{"program": "red-house", "reference": "attic"}])
    assert verdict["outcome"] == outcome
    if outcome == "cannot tell":
        assert verdict["reason"]["text"] == f"red-house has no program.colour in force on {day}"
