"""A program's pack sees its own claims and what lies within them, and nothing of other programs."""

from typing import Any

import pytest

from afield.core.documents import InputError
from afield.core.facts.declarations import Fact, Kind
from afield.core.facts.subjects import Subject

ROOMS: list[dict[str, Any]] = [
    {"id": "attic", "title": "The attic", "from": "2024-01-01", "floor": 3},
    {"id": "hall", "title": "The hall", "from": "2024-01-01"},
]
CLAIMS = [
    {"program": "red-house", "reference": "attic", "boxes": [{"name": "one", "books": 4}, {"name": "two", "books": 5}]},
    {"program": "red-house", "reference": "hall", "boxes": [{"name": "one", "books": 1}]},
    {"program": "blue-house", "reference": "attic", "boxes": [{"name": "one", "books": 90}]},
]


def program(toys: Any, name: str, *rules: Any, **more: Any) -> None:
    rooms = [{**room, "source": toys.SOURCE} for room in ROOMS]
    toys.pack(*rules, name=name, judges="program", references=rooms, **more)


def two_programs(toys: Any, *rules: Any) -> Any:
    program(toys, "red-house", *rules)
    program(toys, "blue-house", {"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    return toys


def told(toys: Any, **plan: Any) -> list[tuple[str, str, str]]:
    found: list[tuple[str, str, str]] = toys.told(**{"packs": [], "claims": CLAIMS, **plan})
    return [verdict for verdict in found if verdict[0].startswith("red-house")]


def test_claims_and_what_lies_within_them_are_judged_by_their_own_program_only(house: Any) -> None:
    two_programs(
        house,
        {"id": "placed", "for_each": "claim", "require": {"fact": "claim.reference", "exists": True}},
        {"id": "light", "for_each": "box", "require": {"fact": "box.books", "at_most": 10}},
    )
    assert told(house) == [
        ("red-house/placed", "claim:red-house/attic", "passed"),
        ("red-house/placed", "claim:red-house/hall", "passed"),
        ("red-house/light", "box:red-house/attic/one", "passed"),
        ("red-house/light", "box:red-house/attic/two", "passed"),
        ("red-house/light", "box:red-house/hall/one", "passed"),
    ]


def test_aggregates_of_a_program_gather_its_own_claims_only(house: Any) -> None:
    two_programs(
        house,
        {"id": "claims", "require": {"count": "claim", "is": 2}},
        {"id": "all-books", "require": {"sum": "box", "of": "box.books", "is": 10}},
        {"id": "own-books", "for_each": "claim", "require": {"sum": "box", "of": "box.books", "at_most": 8}},
        {"id": "program", "for_each": "program", "require": {"greatest": "box", "of": "box.books", "is": 5}},
    )
    assert told(house) == [
        ("red-house/claims", "trip", "passed"),
        ("red-house/all-books", "trip", "passed"),
        ("red-house/own-books", "claim:red-house/attic", "failed"),
        ("red-house/own-books", "claim:red-house/hall", "passed"),
        ("red-house/program", "program:red-house", "passed"),
    ]


def test_a_pack_that_judges_the_trip_sees_all_claims(house: Any) -> None:
    two_programs(house, {"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    house.pack(
        {"id": "claims", "require": {"count": "claim", "is": 3}},
        {"id": "boxed", "require": {"fact": "trip.boxed", "is": 100}},
        {"id": "of-program", "for_each": "program", "require": {"count": "claim", "at_most": 2}},
    )
    found = house.told(packs=["tidy"], claims=CLAIMS)
    assert [verdict for verdict in found if verdict[0].startswith("tidy")] == [
        ("tidy/claims", "trip", "passed"),
        ("tidy/boxed", "trip", "passed"),
        ("tidy/of-program", "program:red-house", "passed"),
        ("tidy/of-program", "program:blue-house", "passed"),
    ]


def test_a_claim_gathers_its_own_by_a_plugins_fact_too(house: Any) -> None:
    two_programs(house, {"id": "boxed", "for_each": "claim", "require": {"fact": "claim.boxed", "is": 9}})
    assert told(house) == [
        ("red-house/boxed", "claim:red-house/attic", "passed"), ("red-house/boxed", "claim:red-house/hall", "failed"),
    ]  # fmt: skip


def test_a_program_may_not_ask_a_fact_that_gathers_claims(house: Any) -> None:
    two_programs(house, {"id": "boxed", "require": {"fact": "trip.boxed", "is": 10}})
    with pytest.raises(InputError) as caught:
        told(house)
    assert str(caught.value) == (
        "pack:red-house/rules.yaml:16:13: trip.boxed gathers claims of all programs\n"
        '    |     "fact": "trip.boxed",\n'
        "    = A program's rules judge its own claims; move the rule to a pack that judges the trip."
    )


def test_derived_subjects_lie_in_the_program_of_their_claim_even_if_the_plugin_does_not_say_so(house: Any) -> None:
    """A kind within claim and within a day: every claim's day is seen by that claim's program alone."""

    def days(plan: Any) -> list[Subject]:
        claims = [f"claim:{claim['program']}/{claim['reference']}" for claim in plan.data["claims"]]
        outer = [Subject("utc_day:one", "utc_day", "one", {"trip": "trip"})]
        return outer + [
            Subject(f"claim_day:{key.split(':')[1]}/one", "claim_day", "day", {"claim": key, "utc_day": "utc_day:one"})
            for key in claims
        ]

    books = Fact(
        "claim_day.books", "claim_day", unit="", exact=True, function=lambda b: b, parameters={"b": "claim.boxed"}
    )
    house.add(
        "days",
        kinds=lambda: [Kind("utc_day"), Kind("claim_day", ("claim", "utc_day"))],
        facts=lambda: [books],
        subjects=days,
    )
    two_programs(
        house,
        {"id": "day", "for_each": "claim_day", "require": {"fact": "claim_day.books", "at_most": 5}},
        {"id": "days", "for_each": "claim", "require": {"count": "claim_day", "is": 1}},
        {"id": "shared", "for_each": "utc_day", "require": {"sum": "claim_day", "of": "claim_day.books", "is": 10}},
    )
    assert told(house) == [
        ("red-house/day", "claim_day:red-house/attic/one", "failed"),
        ("red-house/day", "claim_day:red-house/hall/one", "passed"),
        ("red-house/days", "claim:red-house/attic", "passed"),
        ("red-house/days", "claim:red-house/hall", "passed"),
        ("red-house/shared", "utc_day:one", "passed"),
    ]
    subject = next(
        s for s in house.report(packs=[], claims=CLAIMS)["subjects"] if s["key"] == "claim_day:red-house/hall/one"
    )
    assert subject["parents"] == {
        "trip": "trip", "program": "program:red-house", "claim": "claim:red-house/hall", "utc_day": "utc_day:one",
    }  # fmt: skip


def test_a_claim_counts_only_if_nothing_required_of_its_program_fails(house: Any) -> None:
    """What lies within the claim, the program and the trip concern it; other claims and other programs do not."""
    two_programs(house, {"id": "light", "for_each": "box", "require": {"fact": "box.books", "at_most": 4}})
    claims = house.report(packs=[], claims=CLAIMS)["claims"]
    assert [(claim["subject"], claim["words"], claim["rules"]) for claim in claims] == [
        ("claim:red-house/attic", "does not count", ["red-house/light"]),
        ("claim:red-house/hall", "counts", ["red-house/light"]),
        ("claim:blue-house/attic", "counts", ["blue-house/dated"]),
    ]


def test_a_rule_of_the_program_that_cannot_find_its_subjects_leaves_its_claims_open(house: Any) -> None:
    program(
        house,
        "red-house",
        {"id": "cut", "for_each": "hedge", "require": {"fact": "hedge.height", "below": "2 m"}},
        needs=["yard"],
    )
    program(house, "blue-house", {"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    claims = house.report(packs=[], claims=CLAIMS)["claims"]
    assert [claim["words"] for claim in claims] == ["cannot tell", "cannot tell", "counts"]


def test_program_facts_come_from_the_pack_and_may_point_at_a_limit(house: Any) -> None:
    house_facts = {"program.most_books": {"limit": "books"}, "program.colour": "red"}
    program(
        house, "red-house",
        {"id": "most", "for_each": "claim", "require": {"fact": "program.most_books", "is": 12}},
        {"id": "colour", "for_each": "box", "require": {"fact": "program.colour", "is": "red"}},
        limits={"books": [{"from": "2024-01-01", "value": "12"}]}, facts=house_facts,
    )  # fmt: skip
    assert {verdict[2] for verdict in house.told(packs=[], claims=CLAIMS[:2])} == {"passed"}


def test_a_reference_states_facts_of_its_claim(house: Any) -> None:
    program(house, "red-house", {"id": "high", "for_each": "claim", "require": {"fact": "room.floor", "above": 1}})
    report = house.report(packs=[], claims=CLAIMS[:2])
    assert [(v["subject"], v["outcome"]) for v in report["verdicts"]] == [
        ("claim:red-house/attic", "passed"), ("claim:red-house/hall", "cannot tell"),
    ]  # fmt: skip
    assert [claim["title"] for claim in report["claims"]] == ["The attic", "The hall"]


def test_an_absent_plugins_part_of_the_references_does_not_keep_the_pack_from_loading(toys: Any) -> None:
    """The pack says that it needs the plugin; what that one adds to a reference is then not known, nor an error."""
    program(toys, "red-house", {"id": "high", "for_each": "claim", "require": {"fact": "room.floor", "above": 1}},
            facts={"program.colour": "red"})  # fmt: skip
    claims = [{"program": "red-house", "reference": "attic"}]
    assert toys.told(packs=[], claims=claims) == [("red-house/high", "claim:red-house/attic", "cannot tell")]
