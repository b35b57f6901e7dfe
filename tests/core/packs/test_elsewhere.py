"""A rule may ask for the verdict of a rule of another pack, which is judged first."""

from itertools import permutations
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.documents import InputError
from afield.core.language import speaking
from afield.core.packs.cases import run_cases
from afield.core.packs.loading import load_pack
from afield.core.report.rejudging import rejudged

from .test_waivers import BOOKS, NARROW, ROOMS, SHELVES, waiver

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": "0.5 m"}}
DRY = {"id": "dry", "require": {"fact": "wall.damp", "is": False}}
WIDE = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}


def asking(name: str = "tidy/gap", rule: str = "asks", **more: Any) -> Any:
    return {"id": rule, "require": {"verdict": name, "is": "passed"}, **more}


def asker(house: Any, *rules: Any, **more: Any) -> Any:
    return house.pack(*rules, name="other", **more)


def outcomes(report: Any, rule: str) -> dict[str, str]:
    return {one["subject"]: one["outcome"] for one in report["verdicts"] if one["rule"] == rule}


@pytest.mark.parametrize(
    ("plan", "outcome"), [(WIDE, "passed"), (NARROW, "failed"), ({"wall": {"height": "3 m"}}, "cannot tell")]
)
@pytest.mark.parametrize("packs", list(permutations(["tidy", "other"])))
def test_the_verdict_of_another_pack_is_what_it_is_in_any_order_of_packs(
    house: Any, plan: Any, outcome: str, packs: Any
) -> None:
    house.pack(GAP)
    asker(house, asking())
    report = house.report(packs=list(packs), **plan)
    assert [(one["rule"], one["outcome"]) for one in report["verdicts"]] == [
        (f"{pack}/{'gap' if pack == 'tidy' else 'asks'}", outcome) for pack in packs
    ]


def test_what_cannot_be_told_there_says_why_and_what_settles_it(house: Any) -> None:
    house.pack(DRY)
    asker(house, asking("tidy/dry"))
    verdict = house.report(packs=["tidy", "other"])["verdicts"][-1]
    assert verdict["reason"] == {
        "code": "missing input", "text": "the verdict on tidy/dry cannot be told: dampness is not stated",
        "settle": "wall.damp", "subject": "trip",
    }  # fmt: skip
    assert verdict["settle"]["words"] == "State `wall.damp`."


def test_cannot_tell_can_be_asked_for(house: Any) -> None:
    house.pack(DRY)
    asker(house, {"id": "asks", "require": {"verdict": "tidy/dry", "one_of": ["cannot tell", "passed"]}})
    assert house.report(packs=["tidy", "other"])["verdicts"][-1]["outcome"] == "passed"


def test_an_item_of_a_checklist_is_asked_for_too(house: Any) -> None:
    house.pack({"id": "tick", "confirm": "Look twice.", "when": "home"})
    asker(house, asking("tidy/tick"))
    report = house.report(packs=["tidy", "other"])
    assert report["verdicts"][-1]["settle"] == {
        **report["verdicts"][-1]["settle"],
        "kind": "confirm", "words": "Confirm tidy/tick in the plan: add it under `confirmed:`.", "input": "tidy/tick",
    }  # fmt: skip
    done = house.report(packs=["tidy", "other"], confirmed=["tidy/tick"])
    assert done["verdicts"][-1]["outcome"] == "passed"


@pytest.mark.parametrize("named", ["tidy/gap", "elsewhere/rule"])
def test_a_pack_that_is_not_on_the_trip_leaves_it_open(house: Any, named: str) -> None:
    house.pack(GAP)
    asker(house, asking(named))
    (verdict,) = house.report(packs=["other"], **WIDE)["verdicts"]
    pack = named.split("/")[0]
    assert (verdict["outcome"], verdict["reason"]["code"]) == ("cannot tell", "pack absent")
    assert verdict["reason"]["text"] == f"the pack {pack}, whose verdict {named} is asked, judges nothing on this trip"
    words = f"Name the pack {pack} under `packs:`, or claim a reference of it if it judges a program."
    assert (verdict["settle"]["words"], verdict["settle"]["input"]) == (words, pack)


def test_a_pack_that_extends_the_named_one_stands_for_it(club: Any) -> None:
    club.pack(limits={"gap": [{"from": "2024-01-01", "value": "0.05", "unit": "m"}]})
    asker(club.house, asking("base/gap"))
    report = club.house.report(packs=["tidy", "other"], **NARROW)
    assert [(one["rule"], one["outcome"]) for one in report["verdicts"] if one["subject"] == "trip"] == [
        ("tidy/gap", "passed"), ("tidy/few", "not applicable"), ("other/asks", "passed"),
    ]  # fmt: skip
    leaf = report["verdicts"][-1]["leaves"][0]
    assert leaf["verdict"] == {"rule": "tidy/gap", "subject": "trip"}


def test_the_name_of_its_own_base_means_the_packs_own_rule(club: Any) -> None:
    club.pack(asking("base/gap"), asking("tidy/gap", rule="same"))
    report = club.house.report(**NARROW)
    assert outcomes(report, "tidy/asks") == outcomes(report, "tidy/same") == {"trip": "failed"}
    assert report["rules"][-1]["require"] == {"verdict": "gap", "is": "passed"}


def test_the_subject_of_the_asked_rule_may_be_an_outer_one(house: Any) -> None:
    house.pack(GAP, BOOKS)
    asker(house, asking(for_each="shelf"), asking("tidy/books", rule="same", for_each="shelf"))
    report = house.report(packs=["tidy", "other"], shelves=SHELVES, **WIDE)
    assert set(outcomes(report, "other/asks").values()) == {"passed"}
    assert outcomes(report, "other/same") == {"shelf:a": "failed", "shelf:b": "failed", "shelf:c": "passed"}


def test_it_may_stand_in_where(house: Any) -> None:
    house.pack(BOOKS)
    asker(house, {"id": "red", "for_each": "shelf", "where": {"verdict": "tidy/books", "is": "failed"},
                  "require": {"fact": "shelf.colour", "is": "red"}})  # fmt: skip
    shelves = [{**shelf, "colour": "red"} for shelf in SHELVES]
    report = house.report(packs=["tidy", "other"], shelves=shelves)
    assert list(outcomes(report, "other/red").values()) == ["passed", "passed", "not applicable"]


@pytest.mark.parametrize("waived", [False, True])
def test_it_may_say_what_an_aggregate_counts_and_a_waiver_makes_no_difference(house: Any, waived: bool) -> None:
    house.pack(BOOKS)
    counted = {"count": "shelf", "where": {"verdict": "tidy/books", "is": "passed"}, "at_least": "2"}
    asker(house, {"id": "most", "require": counted})
    more = {"waivers": [waiver("tidy/books")]} if waived else {}
    report = house.report(packs=["tidy", "other"], shelves=SHELVES, **more)
    assert (report["verdicts"][-1]["outcome"], report["verdicts"][-1]["measured"]) == ("failed", "1")


def test_a_waived_failure_is_still_failed_to_a_rule_that_asks(house: Any) -> None:
    house.pack(GAP)
    asker(house, asking())
    report = house.report(packs=["tidy", "other"], waivers=[waiver("tidy/gap")], **NARROW)
    assert outcomes(report, "other/asks") == {"trip": "failed"}
    assert report["exit_status"] == 1


def rooms(house: Any, *rules: Any, name: str = "rooms") -> None:
    floor = {"id": "floor", "for_each": "claim", "require": {"fact": "room.floor", "is": 1}}
    house.pack(floor, *rules, name=name, judges="program", references=ROOMS)


PLACES = (("rooms", "attic"), ("rooms", "hall"), ("huts", "hall"))
CLAIMS = [{"program": program, "reference": name} for program, name in PLACES]


def test_a_trip_pack_asks_for_verdicts_on_a_programs_claims_and_others_are_not_applicable(house: Any) -> None:
    rooms(house)
    rooms(house, name="huts")
    house.pack(asking("rooms/floor", for_each="claim"))
    report = house.report(claims=CLAIMS)
    assert outcomes(report, "tidy/asks") == {
        "claim:rooms/attic": "failed", "claim:rooms/hall": "passed", "claim:huts/hall": "failed",
    }  # fmt: skip
    leaf = report["verdicts"][-1]["leaves"][0]
    assert (leaf["measured"], leaf["verdict"]) == ("not applicable", None)


def test_a_programs_rule_asks_for_a_verdict_on_the_trip(house: Any) -> None:
    rooms(house, asking(for_each="claim"))
    house.pack(GAP)
    report = house.report(claims=CLAIMS[:1], **NARROW)
    assert outcomes(report, "rooms/asks") == {"claim:rooms/attic": "failed"}


def test_a_longer_chain_is_judged_from_its_end(house: Any) -> None:
    house.pack(GAP, asking("other/asks", rule="back"))
    asker(house, asking())
    report = house.report(packs=["tidy", "other"], **NARROW)
    assert [(one["rule"], one["outcome"]) for one in report["verdicts"]] == [
        ("tidy/gap", "failed"), ("tidy/back", "failed"), ("other/asks", "failed"),
    ]  # fmt: skip


def test_a_report_is_judged_again_with_the_packs_that_ask(club: Any) -> None:
    club.pack()
    asker(club.house, asking("base/gap"), asking("volcano/ash", rule="storm"))
    report = club.house.report(packs=["tidy", "other"], **NARROW)
    again = rejudged(report, club.house.engine.registry)
    assert [(verdict.rule.key, verdict.word) for verdict in again] == [
        (one["rule"], one["outcome"]) for one in report["verdicts"]
    ]


def test_a_case_gives_the_verdicts_of_other_packs(house: Any) -> None:
    house.pack(GAP)
    folder = asker(house, asking())
    cases = [
        {
            "name": word, "rule": "asks", "date": "2026-06-27", "expect": {"outcome": outcome},
            "subjects": [{"kind": "trip", "key": "trip", "verdicts": {"tidy/gap": word}}],
        }
        for word, outcome in (("passed", "passed"), ("failed", "failed"), ("cannot tell", "cannot tell"),
                              ("not applicable", "failed"))
    ]  # fmt: skip
    cases.append({**cases[0], "name": "none", "subjects": [{"kind": "trip", "key": "trip"}],
                  "expect": {"outcome": "cannot tell", "reason": "cannot be computed"}})  # fmt: skip
    house.write(folder / "cases.yaml", {"cases": cases})
    registry = house.engine.registry
    assert [result.differences for result in run_cases(load_pack(folder, registry), registry)] == [()] * 5


def refused(house: Any, **plan: Any) -> str:
    with pytest.raises(InputError) as caught:
        house.load(**plan)
    return str(caught.value.problems[0].what)


def test_a_ring_through_an_extending_pack_is_found_when_the_trip_is_read(club: Any) -> None:
    club.pack({"id": "own", "require": {"verdict": "other/asks", "is": "passed"}})
    asker(club.house, asking("tidy/own"))
    told = refused(club.house, packs=["tidy", "other"])
    assert told == "the rules form a cycle: tidy/own waits for other/asks waits for tidy/own"


def test_two_packs_that_extend_the_named_one_leave_it_open(house: Any) -> None:
    house.pack(GAP, name="base", judges="program", references=ROOMS)
    for name in ("rooms", "huts"):
        house.pack(name=name, judges="program", extends="base", needs=[])
    asker(house, asking("base/gap"))
    report = house.report(packs=["other"], claims=[CLAIMS[0], CLAIMS[2]], **WIDE)
    verdict = report["verdicts"][-1]
    assert verdict["outcome"] == "cannot tell"
    assert (
        verdict["reason"]["text"]
        == "rooms and huts both extend base: whose verdict is meant by base/gap cannot be told"
    )


def test_the_pack_of_the_trip_may_be_another_version_without_the_rule(house: Any) -> None:
    house.pack(BOOKS)
    asker(house, asking())
    house.pack(GAP, name="far/tidy", id="tidy", version="1.1.0")
    (house.folder / "other").rename(house.folder / "far" / "other")
    with pytest.raises(InputError) as caught:
        house.load(packs=["tidy", "./far/other"])
    (problem,) = caught.value.problems
    assert problem.what == "other/asks asks for the verdict of tidy/gap, and tidy 1.0.0 has no such rule"
    assert (problem.advice, problem.place.file) == ('The rules of tidy are "tidy/books".', "pack:other/rules.yaml")


def test_a_program_sees_no_other_one_by_way_of_a_pack_that_was_not_beside_it(house: Any) -> None:
    rooms(house, asking("volcano/all", for_each="claim"))
    counted = {"count": "claim", "at_least": "1"}
    house.pack({"id": "all", "require": counted}, name="far/volcano", id="volcano")
    with pytest.raises(InputError) as caught:
        house.load(packs=["./far/volcano"], claims=CLAIMS[:1])
    (problem,) = caught.value.problems
    assert (problem.what, problem.place.file) == (
        "volcano/all gathers claims of all programs", "pack:rooms/rules.yaml",
    )  # fmt: skip


NAMES = ("a", "b", "c")


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=40)
@given(st.lists(st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES)), max_size=5), st.permutations(NAMES))
def test_every_rule_gives_one_verdict_or_the_ring_is_named(house: Any, links: Any, order: Any) -> None:
    for name in NAMES:
        asks = [{"verdict": f"{other}/rule", "is": "passed"} for one, other in dict.fromkeys(links) if one == name]
        require = {"all": [{"fact": "wall.damp", "is": False}, *asks]}
        house.pack({"id": "rule", "require": require}, name=name)
    try:
        report = house.report(packs=list(order), wall={"damp": False})
    except InputError as error:
        assert "the rules form a cycle" in str(error)
        assert _has_ring(set(links))
        return
    assert [(one["rule"], one["outcome"]) for one in report["verdicts"]] == [(f"{n}/rule", "passed") for n in order]
    assert not _has_ring(set(links))


def _has_ring(links: set[tuple[str, str]]) -> bool:
    reached = set(links)
    for middle in NAMES:
        reached |= {(one, other) for one, at in reached if at == middle for start, other in reached if start == middle}
    return any(one == other for one, other in reached)


def test_a_link_in_the_named_pack_is_refused(house: Any) -> None:
    folder = house.pack(GAP)
    (folder / "rules.yaml").rename(house.folder / "far.yaml")
    (folder / "rules.yaml").symlink_to(house.folder / "far.yaml")
    asker(house, asking())
    assert refused(house, packs=["other"]) == "this is a symbolic link; a pack holds its own files"


def test_titles_in_several_languages_are_told_in_the_one_spoken(house: Any) -> None:
    house.pack({**GAP, "title": {"en": "A gap", "de": "Ein Spalt"}})
    folder = asker(house, asking())
    assert load_pack(folder, house.engine.registry).elsewhere["tidy/gap"].title == "A gap"
    with speaking("de"):
        assert load_pack(folder, house.engine.registry).elsewhere["tidy/gap"].title == "Ein Spalt"
