"""A pack that extends another judges by that one's rules, with its own limits and severities in their place."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.documents import InputError
from afield.core.packs import planning
from afield.core.packs.cases import run_cases
from afield.core.packs.extending import MOST_EXTENDED
from afield.core.packs.loading import load_pack

from .conftest import FEW, GAP

LOOSER = {"gap": [{"from": "2024-01-01", "value": "0.3", "unit": "m"}]}
TALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2.6 m"}}


def case(name: str, gap: str, outcome: str, margin: str, rule: str = "gap") -> Any:
    subjects = [{"kind": "trip", "key": "trip", "facts": {"wall.gap": gap}}]
    expect = {"outcome": outcome, "margin": margin}
    return {"name": name, "rule": rule, "date": "2026-06-27", "subjects": subjects, "expect": expect}


def refused(club: Any, **plan: Any) -> str:
    with pytest.raises(InputError) as caught:
        club.house.load(**plan)
    return str(caught.value)


def gap_verdict(club: Any, **plan: Any) -> Any:
    found = club.house.report(**{**TALL, **plan})["verdicts"]
    return next(verdict for verdict in found if verdict["rule"] == "tidy/gap")


def test_the_packs_own_cases_try_the_bases_rule_below_at_and_above_its_own_limit(club: Any) -> None:
    folder = club.pack(limits=LOOSER)
    cases = [
        case("below", "0.29 m", "failed", "-0.01 m"), case("at", "0.3 m", "passed", "0 m"),
        case("above", "0.31 m", "passed", "0.01 m"),
    ]  # fmt: skip
    club.house.write(folder / "cases.yaml", {"cases": cases})
    registry = club.house.engine.registry
    results = run_cases(load_pack(folder, registry), registry)
    assert [(result.name, result.differences) for result in results] == [("below", ()), ("at", ()), ("above", ())]


def test_verdicts_carry_the_name_of_the_pack_that_judges_in_the_bases_order(club: Any) -> None:
    club.pack({"id": "own", "require": {"fact": "trip.date", "exists": True}})
    assert club.house.told(**TALL, shelves=[{"name": "a", "books": 11}]) == [
        ("tidy/gap", "trip", "failed"), ("tidy/few", "shelf:a", "failed"), ("tidy/own", "trip", "passed"),
    ]  # fmt: skip


def test_what_the_pack_does_not_override_stays_the_bases(club: Any) -> None:
    club.pack(limits=LOOSER)
    report = club.house.report(**TALL, shelves=[{"name": "a", "books": 11}])
    assert [(v["outcome"], v["limit"], v["text"]) for v in report["verdicts"]] == [
        ("passed", "0.3 m (0.98 ft)", None), ("failed", "10", "1 too many for 10."),
    ]  # fmt: skip
    assert report["verdicts"][1]["warnings"] == []


FIGURES = st.decimals("0.1", "1.0", places=2).map(str)
SEVERITIES = st.sampled_from(["required", "advised", "note"])


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(base=FIGURES, own=FIGURES, severity=SEVERITIES, few=st.none() | st.integers(0, 5))
def test_it_judges_as_a_pack_in_which_everything_is_written_out(
    club: Any, base: str, own: str, severity: str, few: int | None
) -> None:
    house = club.house
    dated = {"from": "2024-01-01", "unit": "m"}
    house.pack(GAP, name="base", version="1.2.0", limits={"gap": [{**dated, "value": base}]})
    changes = None if severity == "required" else [{"rule": "gap", "severity": severity, "reason": "So we say."}]
    more = [] if few is None else [FEW]
    limits = {"gap": [{**dated, "value": own}], **({} if few is None else {"few": [{**dated, "value": str(few)}]})}
    if few is not None:
        del limits["few"][0]["unit"]
    club.pack(*more, limits=limits, changes=changes)
    house.pack({**GAP, "severity": severity}, *more, name="flat", limits=limits)
    shelves = [{"name": "a", "books": 3}]
    told = [
        [(v["rule"].split("/")[1], v["subject"], v["outcome"], v["severity"], v["margin"], v["text"]) for v in found]
        for pack in ("tidy", "flat")
        for found in [house.report(**TALL, shelves=shelves, packs=[pack])["verdicts"]]
    ]
    assert told[0] == told[1]
    assert len(told[0]) == 1 + len(more)


DATED = [
    {"from": "2020-01-01", "until": "2025-01-01", "value": "0.3", "unit": "m"},
    {"from": "2025-01-01", "until": "2026-01-01", "none": "The wall was away."},
    {"from": "2026-06-01", "value": "0.33", "unit": "m"},
]


@pytest.mark.parametrize(
    ("day", "outcome", "warning"),
    [
        ("2023-05-01", "passed", "limit gap of 0.3 m set by tidy 1.0.0 where base 1.2.0 has no value on 2023-05-01"),
        ("2024-05-01", "passed", "limit gap of 0.3 m set by tidy 1.0.0 in place of 0.5 m of base 1.2.0"),
        ("2025-05-01", "not applicable", "limit gap set to none by tidy 1.0.0 in place of 0.5 m of base 1.2.0"),
        ("2026-05-01", "cannot tell",
         "limit gap set by tidy 1.0.0 without a value on 2026-05-01 in place of 0.5 m of base 1.2.0"),
        ("2026-06-27", "passed", "limit gap of 0.33 m set by tidy 1.0.0 in place of 0.5 m of base 1.2.0"),
    ],
)  # fmt: skip
def test_all_dated_values_of_the_base_give_way(club: Any, day: str, outcome: str, warning: str) -> None:
    club.pack(limits={"gap": DATED})
    verdict = gap_verdict(club, date=day)
    assert (verdict["outcome"], verdict["warnings"]) == (outcome, [warning])


def test_a_lapsed_limit_is_renewed_by_the_pack_that_writes_it(club: Any) -> None:
    club.pack(limits={"few": [{"from": "2020-01-01", "value": "3"}]})
    report = club.house.report(**TALL, date="2023-05-01", shelves=[{"name": "a", "books": 3}])
    words = [verdict["settle"] and verdict["settle"]["words"] for verdict in report["verdicts"]]
    assert words == ["Get a version of the pack base that covers 2023-05-01.", None]


def test_a_pack_can_set_a_limit_where_the_base_has_none(club: Any) -> None:
    club.house.pack(GAP, name="base", limits={"gap": [{"from": "2024-01-01", "none": "No general figure."}]})
    club.pack(limits=LOOSER)
    verdict = gap_verdict(club)
    assert verdict["outcome"] == "passed"
    assert verdict["warnings"] == ["limit gap of 0.3 m set by tidy 1.0.0 where base 1.0.0 has none"]


def test_a_rule_that_does_not_apply_says_nothing_of_its_limit(club: Any) -> None:
    club.house.pack({**GAP, "where": {"fact": "wall.damp", "is": True}}, name="base", limits=LOOSER)
    club.pack(limits=LOOSER)
    verdict = gap_verdict(club, wall={"height": "3 m", "damp": False})
    assert (verdict["outcome"], verdict["warnings"]) == ("not applicable", [])


def test_a_limit_inside_a_count_says_whose_it_is(club: Any) -> None:
    inner = {"count": "shelf", "where": {"fact": "shelf.books", "at_most": {"limit": "few"}}, "at_least": 1}
    club.house.pack(
        {"id": "gap", "require": inner}, name="base", limits={"few": [{"from": "2024-01-01", "value": "3"}]}
    )
    club.pack(limits={"few": [{"from": "2024-01-01", "value": "5"}]})
    verdict = gap_verdict(club, shelves=[{"name": "a", "books": 4}])
    assert verdict["outcome"] == "passed"
    assert verdict["warnings"] == ["limit few of 5 set by tidy 1.0.0 in place of 3 of base 1.0.0"]


CHANGE = {"rule": "gap", "severity": "advised", "reason": "Our walls are soft."}


def test_a_severity_is_changed_with_its_reason_and_counts_so_in_the_exit_status(club: Any) -> None:
    club.pack()
    assert club.house.report(**TALL)["exit_status"] == 1
    club.pack(changes=[CHANGE])
    report = club.house.report(**TALL)
    assert (report["exit_status"], report["verdicts"][0]["severity"]) == (0, "advised")
    told = "severity advised set by tidy 1.0.0 in place of required of base 1.2.0: Our walls are soft."
    assert report["verdicts"][0]["warnings"] == [told]


def test_a_chain_takes_over_what_lies_between(club: Any) -> None:
    club.pack(name="region", version="3.0.0", limits=LOOSER, changes=[CHANGE])
    few = {"few": [{"from": "2024-01-01", "value": "2"}]}
    back = {"rule": "gap", "severity": "required", "reason": "Ours are not."}
    club.pack(extends="region", limits=few, changes=[back])
    report = club.house.report(**TALL, shelves=[{"name": "a", "books": 2}])
    assert [(v["rule"], v["outcome"], v["severity"], v["warnings"]) for v in report["verdicts"]] == [
        ("tidy/gap", "passed", "required", [
            "limit gap of 0.3 m set by region 3.0.0 in place of 0.5 m of base 1.2.0",
            "severity required set by tidy 1.0.0 in place of advised of region 3.0.0: Ours are not.",
        ]),
        ("tidy/few", "passed", "advised", ["limit few of 2 set by tidy 1.0.0 in place of 10 of base 1.2.0"]),
    ]  # fmt: skip
    assert [(base["id"], base["version"]) for base in report["run"]["packs"][0]["extends"]] == [
        ("region", "3.0.0"), ("base", "1.2.0"),
    ]  # fmt: skip


def test_a_limit_stands_in_place_of_the_nearest_one_in_the_chain(club: Any) -> None:
    club.pack(name="region", version="3.0.0", limits=LOOSER)
    club.pack(extends="region", limits={"gap": [{"from": "2024-01-01", "value": "0.25", "unit": "m"}]})
    told = "limit gap of 0.25 m set by tidy 1.0.0 in place of 0.3 m of region 3.0.0"
    assert gap_verdict(club)["warnings"] == [told]


def test_an_own_rule_may_ask_for_the_verdict_of_one_of_the_base(club: Any) -> None:
    club.pack({"id": "own", "require": {"verdict": "gap", "is": "passed"}}, limits=LOOSER)
    assert ("tidy/own", "trip", "passed") in club.house.told(**TALL)


def test_needs_of_the_base_are_needs_of_the_pack(club: Any) -> None:
    hedge = {"id": "cut", "for_each": "hedge", "require": {"fact": "hedge.height", "below": "2 m"}}
    club.house.pack(hedge, name="base", needs=["yard", "house"])
    club.pack(needs=["house"])
    verdict = club.house.only()
    assert (verdict["outcome"], verdict["reason"]["code"]) == ("cannot tell", "kind absent")
    assert club.house.report()["run"]["packs"][0]["needs"] == ["house", "yard"]


def test_both_notices_are_kept(club: Any) -> None:
    club.pack(notice="Ours too.")
    assert club.house.report()["run"]["packs"][0]["notice"] == "Ours too. The base is a sketch."
    club.pack()
    assert club.house.report()["run"]["packs"][0]["notice"] == "The base is a sketch."


def test_a_checklist_item_is_confirmed_under_the_packs_own_name(club: Any) -> None:
    club.house.pack({"id": "box", "confirm": "The box is closed.", "when": "pack"}, name="base")
    club.pack()
    assert club.house.told(confirmed=["tidy/box"]) == [("tidy/box", "trip", "passed")]


ROOMS = [{"id": "attic", "title": "The attic", "from": "2024-01-01", "floor": 3}]
LIGHT = {"id": "light", "for_each": "claim", "require": {"fact": "claim.boxed", "at_most": {"limit": "most"}}}
MOST = {"most": [{"from": "2024-01-01", "value": "10"}]}
CLAIM = {"program": "tidy", "reference": "attic", "boxes": [{"name": "one", "books": 4}]}


@pytest.fixture
def program(club: Any) -> Any:
    """A club whose base is a program with references and facts."""
    rooms = [{**room, "source": club.house.SOURCE} for room in ROOMS]
    facts = {"program.most_books": {"limit": "most"}, "program.colour": "red"}
    club.house.pack(LIGHT, name="base", version="1.2.0", judges="program", references=rooms, facts=facts, limits=MOST)
    return club


def told_of(program: Any, key: str, fact: str, **plan: Any) -> tuple[Any, str, str | None]:
    """The value of a fact, the file that states it, and how it was had."""
    record = program.house.load(packs=[], **plan).world.value(key, fact)
    return record.value, record.place.file, record.method


def test_references_and_facts_of_a_program_are_taken_over(program: Any) -> None:
    tight = {"most": [{"from": "2024-01-01", "value": "3"}]}
    program.pack(judges="program", limits=tight)
    report = program.house.report(packs=[], claims=[CLAIM])
    assert [(v["rule"], v["outcome"], v["program"]) for v in report["verdicts"]] == [("tidy/light", "failed", "tidy")]
    assert report["claims"][0]["title"] == "The attic"
    assert told_of(program, "program:tidy", "program.most_books", claims=[CLAIM]) == (
        3.0, "pack:base/pack.yaml", "limit most of 3 set by tidy 1.0.0 in place of 10 of base 1.2.0",
    )  # fmt: skip
    assert told_of(program, "claim:tidy/attic", "room.floor", claims=[CLAIM])[:2] == (3, "pack:base/references.yaml")
    assert told_of(program, "program:tidy", "program.colour", claims=[CLAIM])[:2] == ("red", "pack:base/pack.yaml")


def test_a_fact_and_the_references_may_be_written_anew(program: Any) -> None:
    rooms = [{"id": "hall", "title": "The hall", "from": "2024-01-01", "source": program.house.SOURCE}]
    program.pack(judges="program", facts={"program.colour": "blue"}, references=rooms)
    hall = [{**CLAIM, "reference": "hall"}]
    assert told_of(program, "program:tidy", "program.colour", claims=hall)[:2] == ("blue", "pack:tidy/pack.yaml")
    assert told_of(program, "program:tidy", "program.most_books", claims=hall)[0] == 10.0
    gone = [{"program": "tidy", "reference": "attic"}]
    assert "tidy has no reference attic" in refused(program, packs=[], claims=gone)


def test_programs_that_share_a_base_may_both_be_claimed(program: Any) -> None:
    program.pack(judges="program", limits={"most": [{"from": "2024-01-01", "value": "3"}]})
    told = program.house.told(packs=[], claims=[CLAIM, {**CLAIM, "program": "base"}])
    assert told == [
        ("tidy/light", "claim:tidy/attic", "failed"), ("base/light", "claim:base/attic", "passed"),
    ]  # fmt: skip


def test_two_packs_with_one_base_are_not_judged_together(club: Any) -> None:
    club.pack()
    club.pack(name="neat")
    assert refused(club, packs=["tidy", "neat"]) == (
        "plan.yaml:6:3: tidy and neat both extend base, whose rules would be judged twice\n"
        '    |   "neat"\n'
        "    = Name one of them, or a pack that extends one and takes over the limits of the other."
    )


def test_a_base_inside_the_packs_own_folder_is_found_before_one_beside_it(club: Any) -> None:
    folder = club.pack(extends="./base")
    assert club.house.report(**TALL)["run"]["packs"][0]["extends"][0]["version"] == "1.2.0"
    club.house.pack(GAP, name="tidy/base", id="base", version="9.0.0", limits=LOOSER)
    assert (folder / "base" / "pack.yaml").is_file()
    report = club.house.report(**TALL)
    assert (report["run"]["packs"][0]["extends"][0]["version"], report["verdicts"][0]["outcome"]) == ("9.0.0", "passed")


def test_a_base_that_goes_by_the_packs_own_name_is_refused(club: Any) -> None:
    club.house.pack(GAP, name="tidy/tidy", id="tidy", limits=LOOSER)
    club.pack(extends="./tidy")
    assert refused(club) == (
        "pack:tidy/pack.yaml:18:13: the pack tidy extends another pack tidy\n"
        '    |  "extends": "./tidy"\n'
        "    = Give the pack and its folder a name of their own: its verdicts go by it."
    )


def test_a_long_chain_ends_with_a_message(club: Any) -> None:
    names = ["tidy", *(f"pack-{number}" for number in range(MOST_EXTENDED)), "base"]
    for name, base in pairwise(names):
        club.pack(name=name, extends=base)
    assert refused(club) == (
        'pack:pack-7/pack.yaml:18:13: more than 8 packs extend each other\n    |  "extends": "base"\n'
        "    = Extend a pack that is nearer to the first one."
    )
    club.pack(extends="pack-1")
    assert len(club.house.told(**TALL)) == 2


HEADERS = {
    "gear": None, "one": "gear", "award": None, "list": None, "other": "list", "third": "list", "far": "one",
}  # fmt: skip


@pytest.mark.parametrize(
    ("names", "offered"),
    [
        (["gear"], ["gear"]), (["gear", "one"], ["one"]), (["gear", "one", "far"], ["far"]),
        (["list", "other", "third"], ["list"]), (["gear", "list", "other", "third", "one"], ["list", "one"]),
    ],
)  # fmt: skip
def test_a_new_plan_names_no_pack_beside_its_base(
    names: list[str], offered: list[str], tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in [*names, "award"]:
        base = HEADERS[name]
        extends = f"extends: {base}\n" if base else ""
        (tmp_path / name).mkdir()
        judges = "program" if name == "award" else "trip"
        (tmp_path / name / "pack.yaml").write_text(f"id: {name}\njudges: {judges}\n{extends}")
    monkeypatch.setattr(planning, "installed_packs", lambda: {name: tmp_path / name for name in [*names, "award"]})
    assert planning.trip_packs() == offered
