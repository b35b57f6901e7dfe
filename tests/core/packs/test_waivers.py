"""A waiver marks what failed or cannot be told, and changes no outcome; what does not apply is said."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.packs.cases import run_cases
from afield.core.packs.loading import load_pack
from afield.core.report.rejudging import rejudged

from .test_utc_days import teller

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": "0.5 m"}}
BOOKS = {"id": "books", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": "10"}}
DRY = {"id": "dry", "require": {"fact": "wall.damp", "is": False}}
TICK = {"id": "tick", "require": None, "confirm": "Look twice.", "when": "home"}
FLOOR = {"id": "floor", "for_each": "claim", "require": {"fact": "room.floor", "is": 1}}
BOXES = {"id": "boxes", "for_each": "box", "require": {"fact": "box.books", "at_most": "5"}}
SOURCE = {"document": "House rules", "section": "1", "grade": "invented", "last_checked": "2026-01-02"}
ROOMS = [
    {"id": name, "title": name.capitalize(), "from": "2020-01-01", "floor": floor, "source": SOURCE}
    for name, floor in (("attic", 2), ("hall", 1))
]
SHELVES = [{"name": "a", "books": 15}, {"name": "b", "books": 12}, {"name": "c", "books": 3}]
NARROW = {"wall": {"height": "3 m"}, "ladder": {"length": "2.9 m"}}


def tick() -> Any:
    return {key: value for key, value in TICK.items() if value is not None}


def waiver(rule: str, **more: Any) -> Any:
    told = {"reason": "The house is sold.", "granted_by": "the landlord", "until": "2026-12-31"}
    return {"rule": rule, **told, **more}


def marks(report: Any) -> list[tuple[str, str, bool]]:
    return [(one["subject"], one["outcome"], one["waived"] is not None) for one in report["verdicts"]]


def test_a_waived_failure_stays_failed_and_no_longer_decides_the_status(house: Any) -> None:
    house.pack(GAP)
    assert house.report(**NARROW)["exit_status"] == 1
    report = house.report(**NARROW, waivers=[waiver("tidy/gap")])
    (verdict,) = report["verdicts"]
    assert (verdict["outcome"], report["exit_status"]) == ("failed", 0)
    assert verdict["waived"] == {
        "reason": "The house is sold.", "granted_by": "the landlord", "from": None, "until": "2026-12-31",
        "where": "plan.yaml:14:3", "by": None, "confirm": None,
        "words": "waived until 2026-12-31 by the landlord: The house is sold.",
    }  # fmt: skip
    assert report["summary"]["outcomes"]["failed"] == report["summary"]["required"]["failed"] == 1
    assert report["summary"]["beside_claims"] == []
    assert report["summary"]["waived"] == [
        {
            "rule": "tidy/gap", "subject": "trip", "kind": "judge", "outcome": "failed",
            "words": "The rule gap (0.40 m (1.32 ft) short): waived until 2026-12-31 by the landlord: "
            "The house is sold.",
        },
    ]  # fmt: skip


def test_what_cannot_be_told_stays_so_and_can_be_waived(house: Any) -> None:
    house.pack(DRY)
    assert house.report()["exit_status"] == 3
    report = house.report(waivers=[waiver("tidy/dry")])
    assert (marks(report), report["exit_status"]) == ([("trip", "cannot tell", True)], 0)
    assert report["verdicts"][0]["settle"]["words"] == "State `wall.damp`."


def test_a_waiver_for_one_subject_leaves_the_others(house: Any) -> None:
    house.pack(BOOKS)
    report = house.report(shelves=SHELVES, waivers=[waiver("tidy/books", of="shelf:a")])
    assert marks(report) == [("shelf:a", "failed", True), ("shelf:b", "failed", False), ("shelf:c", "passed", False)]
    assert report["exit_status"] == 1
    whole = house.report(shelves=SHELVES, waivers=[waiver("tidy/books")])
    assert [mark for _, _, mark in marks(whole)] == [True, True, False]
    assert (whole["waivers"][0]["standing"], whole["waivers"][0]["applied"]) == ("applies", ["shelf:a", "shelf:b"])


def test_a_waiver_for_a_claim_holds_for_what_lies_within_it(house: Any) -> None:
    house.pack(BOXES, name="rooms", judges="program", references=ROOMS)
    claims = [
        {"program": "rooms", "reference": name, "boxes": [{"name": "one", "books": 9}]} for name in ("attic", "hall")
    ]
    report = house.report(packs=[], claims=claims, waivers=[waiver("rooms/boxes", of="claim:rooms/attic")])
    assert marks(report) == [("box:rooms/attic/one", "failed", True), ("box:rooms/hall/one", "failed", False)]
    assert [claim["outcome"] for claim in report["claims"]] == ["waived", "failed"]


def test_one_for_a_single_subject_goes_before_one_for_the_rule(house: Any) -> None:
    house.pack(BOOKS)
    both = [waiver("tidy/books", reason="All."), waiver("tidy/books", of="shelf:b", reason="This one.")]
    report = house.report(shelves=SHELVES, waivers=both)
    assert [one["waived"]["reason"] for one in report["verdicts"] if one["waived"]] == ["All.", "This one."]


def test_a_checklists_item_can_be_waived_also_where_open_items_count(house: Any) -> None:
    house.pack(tick())
    assert house.report(strict=True)["exit_status"] == 3
    report = house.report(strict=True, waivers=[waiver("tidy/tick")])
    assert (marks(report), report["exit_status"]) == ([("trip", "cannot tell", True)], 0)
    assert report["summary"]["checklist"]["open"] == 1


def test_a_claim_counts_only_by_waiver_and_the_awards_manager_must_confirm_it(house: Any) -> None:
    house.pack(FLOOR, name="rooms", judges="program", references=ROOMS)
    claims = [{"program": "rooms", "reference": "attic"}, {"program": "rooms", "reference": "hall"}]
    report = house.report(packs=[], claims=claims, waivers=[waiver("rooms/floor")])
    assert [(claim["outcome"], claim["words"]) for claim in report["claims"]] == [
        ("waived", "counts only by waiver, which the award's manager must confirm"), ("passed", "counts"),
    ]  # fmt: skip
    assert report["together"] == {
        "outcome": "waived",
        "words": "1 of 2 claims counts; rooms / attic counts only by waiver, which the award's manager must confirm "
        "(The rule floor).",
    }
    assert report["verdicts"][0]["waived"]["confirm"] == "The award's manager must confirm it."
    assert report["exit_status"] == 0


def test_a_claim_that_fails_otherwise_fails(house: Any) -> None:
    other = {"id": "other", "for_each": "claim", "require": {"fact": "room.floor", "is": 3}}
    house.pack(FLOOR, other, name="rooms", judges="program", references=ROOMS)
    claims = [{"program": "rooms", "reference": "attic"}]
    report = house.report(packs=[], claims=claims, waivers=[waiver("rooms/floor")])
    (claim,) = report["claims"]
    assert (claim["outcome"], claim["words"], claim["rules"]) == ("failed", "does not count", ["rooms/other"])
    assert report["exit_status"] == 1


def test_a_waived_failure_is_not_counted_as_passed(house: Any) -> None:
    counted = {"count": "shelf", "where": {"verdict": "books", "is": "passed"}}
    house.pack(BOOKS, {"id": "most", "require": {**counted, "at_least": "2"}})
    report = house.report(shelves=SHELVES, waivers=[waiver("tidy/books")])
    assert report["verdicts"][-1]["outcome"] == "failed"
    assert report["verdicts"][-1]["measured"] == "1"


@pytest.mark.parametrize(
    ("dates", "what", "do"),
    [
        (
            {"until": "2026-06-27"},
            "the waiver of tidy/gap has ended on 2026-06-27, and does not apply on 2026-06-27",
            "have it renewed by the landlord, or keep the rule",
        ),
        (
            {"from": "2026-06-28"},
            "the waiver of tidy/gap begins on 2026-06-28, and does not apply on 2026-06-27",
            "ask the landlord for an earlier day, or keep the rule",
        ),
    ],
)
def test_one_that_is_not_in_force_does_not_apply_and_is_said(house: Any, dates: Any, what: str, do: str) -> None:
    house.pack(GAP)
    report = house.report(**NARROW, waivers=[waiver("tidy/gap", **dates)])
    assert (marks(report), report["exit_status"]) == ([("trip", "failed", False)], 1)
    assert report["warnings"] == [{"place": "plan.yaml:14:3", "what": what, "do": do}]
    assert (report["waivers"][0]["standing"], report["waivers"][0]["note"]) == ("not in force", None)


@pytest.mark.parametrize(
    ("until", "marked", "told"),
    [
        ("2026-06-29", True, []),
        (
            "2026-06-28", False,
            ["the waiver of tidy/gap does not apply: it is in force on some of the days 2026-06-27, 2026-06-28 only"],
        ),
        (
            "2026-06-27", False,
            ["the waiver of tidy/gap has ended on 2026-06-27, and does not apply on 2026-06-27, 2026-06-28"],
        ),
    ],
)  # fmt: skip
def test_an_outing_over_two_days_must_lie_within_it(toys: Any, until: str, marked: bool, told: list[str]) -> None:
    days = ["2026-06-27", "2026-06-28"]
    house = toys.house(facts=lambda: [*toys.FACTS, teller([], days)])
    house.pack(GAP, date_basis="utc")
    report = house.report(**NARROW, waivers=[waiver("tidy/gap", until=until)])
    assert marks(report) == [("trip", "failed", marked)]
    assert [warning["what"] for warning in report["warnings"]] == told


def test_without_a_zone_the_neighbouring_days_must_lie_within_it(toys: Any) -> None:
    house = toys.house(facts=lambda: [*toys.FACTS, teller([], None)])
    house.pack(GAP, date_basis="utc")
    near = house.report(**NARROW, waivers=[waiver("tidy/gap", until="2026-06-28")])
    assert marks(near) == [("trip", "failed", False)]
    assert marks(house.report(**NARROW, waivers=[waiver("tidy/gap", until="2026-06-29")])) == [("trip", "failed", True)]


def test_the_days_are_asked_only_if_a_waiver_turns_on_them(toys: Any) -> None:
    asked: list[str] = []
    house = toys.house(facts=lambda: [*toys.FACTS, teller(asked, ["2026-06-27"])])
    house.pack(GAP, date_basis="utc")
    house.judged(**NARROW, waivers=[waiver("tidy/gap")])
    assert asked == []
    house.judged(**NARROW, waivers=[waiver("tidy/gap", until="2026-06-28")])
    assert len(asked) == 1


@pytest.mark.parametrize("ladder", ["1 m", None])
def test_one_that_is_not_needed_is_noted(house: Any, ladder: str | None) -> None:
    where = {"fact": "ladder.length", "exists": True}
    house.pack({**GAP, "where": where})
    plan = {"wall": {"height": "3 m"}, **({"ladder": {"length": ladder}} if ladder else {})}
    report = house.report(**plan, waivers=[waiver("tidy/gap")])
    assert report["verdicts"][0]["outcome"] == ("passed" if ladder else "not applicable")
    assert (report["verdicts"][0]["waived"], report["warnings"]) == (None, [])
    assert report["waivers"][0]["standing"] == "not needed"
    assert report["waivers"][0]["note"] == "the waiver of tidy/gap is not needed: nothing of it failed, or is open"


def test_a_report_is_judged_again_with_its_waivers(house: Any) -> None:
    house.pack(BOOKS)
    report = house.report(shelves=SHELVES, waivers=[waiver("tidy/books", of="shelf:a")])
    again = rejudged(report, house.engine.registry)
    assert [(verdict.subject.key, verdict.waiver is not None) for verdict in again] == [
        ("shelf:a", True), ("shelf:b", False), ("shelf:c", False),
    ]  # fmt: skip


def club_waives(club: Any, *entries: Any, **more: Any) -> Any:
    folder = club.pack(**more)
    rules = {"waivers": list(entries)}
    club.house.write(folder / "rules.yaml", rules)
    return folder


def test_a_clubs_pack_waives_rules_of_its_base(club: Any) -> None:
    club_waives(club, waiver("gap"))
    report = club.house.report(**NARROW)
    (gap, _) = report["verdicts"]
    assert (gap["outcome"], report["exit_status"]) == ("failed", 0)
    assert gap["waived"]["by"] == {"id": "tidy", "version": "1.0.0"}
    assert gap["waived"]["words"] == (
        "waived until 2026-12-31 by the landlord (pack tidy 1.0.0): The house is sold."
    )  # fmt: skip
    assert gap["waived"]["where"].startswith("pack:tidy/rules.yaml:3:")


def test_a_pack_takes_over_the_waivers_of_its_base_and_the_plans_own_goes_before(club: Any) -> None:
    club_waives(club, waiver("gap"), name="middle")
    club.pack(extends="middle")
    (gap, _) = club.house.report(**NARROW)["verdicts"]
    assert (gap["rule"], gap["waived"]["by"]["id"]) == ("tidy/gap", "middle")
    (gap, _) = club.house.report(**NARROW, waivers=[waiver("tidy/gap", granted_by="the plan")])["verdicts"]
    assert (gap["waived"]["granted_by"], gap["waived"]["by"]) == ("the plan", None)


def test_cases_do_not_know_of_a_packs_waivers(club: Any) -> None:
    folder = club_waives(club, waiver("gap"))
    subjects = [{"kind": "trip", "key": "trip", "facts": {"wall.gap": "0.1 m"}}]
    case = {"name": "short", "rule": "gap", "date": "2026-06-27", "subjects": subjects, "expect": {"outcome": "failed"}}
    club.house.write(folder / "cases.yaml", {"cases": [case]})
    registry = club.house.engine.registry
    assert [result.differences for result in run_cases(load_pack(folder, registry), registry)] == [()]


DAYS = st.integers(-40, 400).map(lambda days: date(2026, 6, 27) + timedelta(days=days))
OF = {"tidy/gap": [None, "trip"], "tidy/books": [None, "trip", "shelf:a", "shelf:b", "shelf:c"],
      "tidy/dry": [None], "tidy/tick": [None, "trip"]}  # fmt: skip


@st.composite
def waivers(draw: Any) -> list[Any]:
    found = {}
    for rule in draw(st.lists(st.sampled_from(sorted(OF)), max_size=5)):
        of, until, begins = draw(st.sampled_from(OF[rule])), draw(DAYS), draw(st.none() | DAYS)
        entry = waiver(rule, until=until.isoformat(), **({"of": of} if of else {}))
        if begins is not None and begins < until:
            entry["from"] = begins.isoformat()
        found[rule, of] = entry
    return list(found.values())


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
@given(waivers(), st.booleans(), st.sampled_from([2, 11, 15]), st.sampled_from([None, True, False]))
def test_waivers_never_change_an_outcome_and_the_status_only_improves(
    house: Any, written: list[Any], strict: bool, books: int, damp: bool | None
) -> None:
    house.pack(GAP, BOOKS, DRY, tick())
    wall = {"height": "3 m", **({} if damp is None else {"damp": damp})}
    plan = {"wall": wall, "ladder": {"length": "2.4 m"}, "shelves": [{"name": name, "books": books} for name in "abc"]}
    before, after = house.report(strict=strict, **plan), house.report(strict=strict, **plan, waivers=written)
    bare = [{key: value for key, value in one.items() if key not in ("waived",)} for one in after["verdicts"]]
    assert bare == [{key: value for key, value in one.items() if key != "waived"} for one in before["verdicts"]]
    rank = {0: 0, 3: 1, 1: 2}
    assert rank[after["exit_status"]] <= rank[before["exit_status"]]
    marked = [one for one in after["verdicts"] if one["waived"]]
    assert all(one["outcome"] in ("failed", "cannot tell") for one in marked)
    if after["exit_status"] != before["exit_status"]:
        assert any(one["severity"] == "required" for one in marked)
