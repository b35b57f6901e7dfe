"""Counts keep the four outcomes apart; exit statuses; warnings of sources that were checked too long ago."""

from datetime import date
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.facts.subjects import Subject
from afield.core.host.hookspecs import Section
from afield.core.report.summary import claims_json, exit_status, joint_outcome, summary_json, together_json
from afield.core.rules.outcomes import WORDS

DATED = {"id": "dated", "require": {"fact": "trip.date", "exists": True}}


def verdict(outcome: str, severity: str = "required", kind: str = "judge") -> dict[str, Any]:
    reason = {"code": "missing input", "text": "why", "settle": None, "subject": None}
    told = outcome in ("passed", "failed")
    return {
        "outcome": outcome, "severity": severity, "kind": kind, "reason": None if told else reason,
        "title": "The rule", "program": None, "subject": "trip", "margin": None,
        "waived": None,
    }  # fmt: skip


VERDICTS = st.lists(
    st.builds(
        verdict,
        st.sampled_from(WORDS),
        st.sampled_from(["required", "advised", "note"]),
        st.sampled_from(["judge", "confirm"]),
    )
)


@given(VERDICTS)
def test_every_verdict_is_counted_once_under_its_own_outcome(verdicts: Any) -> None:
    summary = summary_json(verdicts, {})
    judged = [entry for entry in verdicts if entry["kind"] == "judge"]
    assert set(summary["outcomes"]) == set(WORDS)
    for outcome in WORDS:
        assert summary["outcomes"][outcome] == sum(entry["outcome"] == outcome for entry in judged)
    items = [entry for entry in verdicts if entry["kind"] == "confirm" and entry["outcome"] != "failed"]
    assert sum(summary["checklist"].values()) == len(items)
    open_ones = sum(entry["outcome"] in ("cannot tell", "not applicable") for entry in judged)
    assert sum(reason["count"] for reason in summary["reasons"]) == open_ones
    required = [entry["outcome"] for entry in judged if entry["severity"] == "required"]
    beside = [entry["outcome"] for entry in summary["beside_claims"]]
    assert beside == [word for word in ("failed", "cannot tell") for _ in range(required.count(word))]


@given(VERDICTS, st.booleans())
def test_a_crash_comes_first_and_only_required_verdicts_weigh(verdicts: Any, strict: bool) -> None:
    assert exit_status(verdicts, crashed=True, strict=strict) == 4
    weighing = [v["outcome"] for v in verdicts if v["severity"] == "required" and (strict or v["kind"] == "judge")]
    due = 1 if "failed" in weighing else 3 if "cannot tell" in weighing else 0
    assert exit_status(verdicts, crashed=False, strict=strict) == due


@pytest.mark.parametrize("outcomes", list(product(WORDS, repeat=2)))
def test_together_failed_comes_before_cannot_tell_before_passed(outcomes: tuple[str, str]) -> None:
    order = ("failed", "cannot tell", "passed", "not applicable")
    assert joint_outcome([verdict(outcome) for outcome in outcomes]) == min(outcomes, key=order.index)


@pytest.mark.parametrize(
    ("severity", "plan", "status"),
    [
        ("required", {"shelves": [{"name": "a", "books": 3}]}, 0),
        ("required", {"shelves": [{"name": "a", "books": 30}]}, 1),
        ("required", {"shelves": [{"name": "a"}]}, 3),
        ("required", {"shelves": [{"name": "a"}, {"name": "b", "books": 30}]}, 1),
        ("required", {}, 0),
        ("advised", {"shelves": [{"name": "a", "books": 30}, {"name": "b"}]}, 0),
        ("note", {"shelves": [{"name": "a", "books": 30}, {"name": "b"}]}, 0),
    ],
)
def test_the_exit_status_of_a_plan(house: Any, severity: str, plan: Any, status: int) -> None:
    house.pack(
        {"id": "few", "for_each": "shelf", "severity": severity, "require": {"fact": "shelf.books", "at_most": 10}}
    )
    assert house.report(**plan)["exit_status"] == status


def test_the_counts_in_words(full: Any) -> None:
    summary = full.report(**full.plan_data)["summary"]
    assert summary["outcomes"] == {"passed": 4, "failed": 2, "cannot tell": 7, "not applicable": 0}
    assert summary["required"] == {"passed": 2, "failed": 1, "cannot tell": 3, "not applicable": 0}
    assert summary["checklist"] == {"confirmed": 1, "open": 3, "not applicable": 0}
    assert summary["words"] == (
        "13 verdicts: 4 passed, 2 failed, 7 cannot tell, 0 not applicable; checklist: 1 of 4 confirmed"
    )


@pytest.mark.parametrize(("now", "stale"), [("2027-01-02", False), ("2027-01-03", True)])
def test_a_source_that_was_checked_too_long_ago_is_warned_of(house: Any, gap_limit: Any, now: str, stale: bool) -> None:
    rule = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
    house.pack(rule, limits=gap_limit)
    report = house.report(now=date.fromisoformat(now))
    assert report["run"]["now"] == now
    warnings = [
        {
            "place": f"pack:tidy/rules.yaml:{line}", "do": "compare it with House rules, section 1, and renew the pack",
            "what": f"{what} of tidy was last checked on 2026-01-02, 366 days before 2027-01-03",
        }
        for what, line in (("the limit gap", "25:4"), ("the rule gap", "3:3"))
    ]  # fmt: skip
    assert report["warnings"] == (warnings if stale else [])


def test_without_a_now_the_trips_date_counts(house: Any) -> None:
    house.pack(DATED)
    assert house.report()["warnings"] == []
    assert len(house.report(date="2028-06-27")["warnings"]) == 1


def test_what_is_not_in_force_is_not_warned_of(house: Any) -> None:
    past = {"from": "2024-01-01", "until": "2025-01-01", "value": "3"}
    house.pack(
        {**DATED, "until": "2026-12-31"},
        {"id": "few", "require": {"count": "shelf", "at_most": {"limit": "few"}}, "until": "2026-12-31"},
        limits={"few": [past]},
    )
    assert house.report(now=date(2030, 1, 1))["warnings"] == []


def section(name: str, data: Any, schema: Any = None) -> Section:
    return Section(name, name.title(), 1, ("wall.gap",), data, schema or {}, "none.html", "nowhere")


def boom(facts: Any) -> Any:
    raise RuntimeError("no picture")


def test_a_section_that_fails_is_named_and_left_out(house: Any) -> None:
    house.pack(DATED)
    house.add("pictures", sections=lambda: [
        section("broken", boom), section("wall", lambda facts: {"gaps": sorted(facts["wall.gap"])}),
        section("shapeless", lambda facts: {"gap": 1}, {"type": "object", "additionalProperties": False}),
        section("absent", lambda facts: None),
    ])  # fmt: skip
    report = house.report(briefing=True, wall={"height": "3 m"}, ladder={"length": "1 m"})
    assert report["sections"] == [{"name": "wall", "title": "Wall", "data": {"gaps": ["trip"]}}]
    whats = [warning["what"] for warning in report["warnings"]]
    assert whats[0] == "the section broken failed: RuntimeError: no picture"
    assert whats[1].startswith("the section shapeless failed: ValueError: its data does not fit its schema at $: ")
    assert report["exit_status"] == 4
    assert house.report(briefing=False)["sections"] == []


def test_a_fact_that_only_a_section_asks_and_that_fails_is_a_crash_too(toys: Any) -> None:
    from dataclasses import replace

    def fallen(**_: Any) -> float:
        raise RuntimeError("the shelf fell")

    facts = [replace(fact, function=fallen) if fact.name == "wall.gap" else fact for fact in toys.FACTS]
    toys.house(facts=lambda: facts, sections=lambda: [section("wall", lambda facts: {})]).pack(DATED)
    plan = {"wall": {"height": "3 m"}, "ladder": {"length": "1 m"}}
    assert toys.report(**plan)["exit_status"] == 0
    report = toys.report(briefing=True, **plan)
    assert [warning["what"] for warning in report["warnings"]] == [
        "plugin house (toys 1.0) failed at wall.gap of trip: RuntimeError: the shelf fell"
    ]
    assert report["exit_status"] == 4


def test_a_sections_hook_that_fails_is_a_crash_too(toys: Any) -> None:
    def fallen() -> Any:
        raise RuntimeError("the shelf fell")

    toys.house(sections=fallen).pack(DATED)
    report = toys.report(briefing=True)
    assert [warning["what"] for warning in report["warnings"]] == [
        "plugin house (toys 1.0) failed in afield_sections: RuntimeError: the shelf fell"
    ]
    assert report["exit_status"] == 4


def test_a_claim_that_nothing_judges_is_not_green() -> None:
    claim = {"outcome": "not applicable"}
    assert exit_status([], crashed=False, claims=[claim]) == 3
    assert exit_status([], crashed=False, claims=[{"outcome": "passed"}]) == 0


def test_a_claim_that_a_rule_of_the_whole_program_fails_says_so() -> None:
    subjects = {
        "program:p": Subject("program:p", "program", "P", program="p"),
        "claim:p/a": Subject("claim:p/a", "claim", "p a", {"program": "program:p"}, program="p"),
    }
    entry = {
        **verdict("failed"), "subject": "program:p", "program": "p", "rule": "p/most", "title": "At most two claims",
        "margin": {"words": "1 short", "value": -1.0, "uncertainty": 0.0},
    }  # fmt: skip
    claims = claims_json(subjects, [entry], {})
    assert claims[0]["because"] == "the program as a whole: At most two claims (1 short)"
    assert together_json(claims) == {
        "outcome": "failed",
        "words": "0 of 1 claims count; p a does not count (the program as a whole: At most two claims (1 short)).",
    }
