"""The UTC days of an outing, and each claim on each of them."""

from __future__ import annotations

import pytest

from .conftest import SOURCE, Facts, Outing


def touched(facts: Facts) -> dict[str, float]:
    """UTC date -> minutes on the air, of the days that are touched."""
    days = [key for key, subject in facts.world.subjects.items() if subject.kind == "utc_day"]
    assert len(days) == 4
    return {
        key.split(":")[1]: facts.of(key, "utc_day.minutes_on_air") for key in days if facts.of(key, "utc_day.touched")
    }


@pytest.mark.parametrize(
    ("place", "day", "schedule", "days"),
    [
        ("desert", "2026-06-27", '"15:30", "20:30"', {"2026-06-27": 90, "2026-06-28": 210}),
        ("desert", "2026-06-27", '"09:00", "17:00"', {"2026-06-27": 480}),
        ("desert", "2026-06-27", '"17:00", "20:00"', {"2026-06-28": 180}),
        ("kathmandu", "2026-11-20", '"05:00", "08:00"', {"2026-11-19": 45, "2026-11-20": 135}),
        ("auckland", "2026-01-10", '"08:00", "12:00"', {"2026-01-09": 240}),
        ("auckland", "2026-01-10", '"08:00", "14:00"', {"2026-01-09": 300, "2026-01-10": 60}),
        ("chatham", "2026-07-01", '"11:30", "14:30"', {"2026-06-30": 75, "2026-07-01": 105}),
        ("london", "2026-01-10", '"23:00", "01:00"', {"2026-01-10": 60, "2026-01-11": 60}),
        ("desert", "2026-06-27", '"22:30Z", "03:30Z"', {"2026-06-27": 90, "2026-06-28": 210}),
        ("auckland", "2026-01-10", '"20:00Z", "00:30Z"', {"2026-01-09": 240, "2026-01-10": 30}),
        ("desert", "2026-06-27", '"22:00", "21:00"', {"2026-06-28": 1140, "2026-06-29": 240}),
    ],
)
def test_which_days_are_touched_and_for_how_long(
    outing_of: Outing, place: str, day: str, schedule: str, days: dict[str, float]
) -> None:
    facts = outing_of.facts(outing_of.plan(place, day, f"on_air: [{schedule}]"))
    assert touched(facts) == days
    assert facts["schedule.utc_days"] == list(days)
    assert sum(days.values()) == facts["schedule.minutes_on_air"]


def test_the_days_begin_when_the_clock_on_the_wall_says_so(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("desert", "2026-06-27", 'on_air: ["15:30", "20:30"]'))
    begins = facts.record("utc_day.starts", "utc_day:2026-06-28")
    assert (begins.value, begins.detail) == ("2026-06-28T00:00:00Z", {"local": "17:00", "date": "2026-06-27"})
    until = facts.record("utc_day.on_air_until", "utc_day:2026-06-27")
    assert (until.value, until.detail["local"]) == ("2026-06-28T00:00:00Z", "17:00")
    assert facts.of("utc_day:2026-06-28", "utc_day.on_air_from") == "2026-06-28T00:00:00Z"
    text = "no time on the air falls on 2026-06-29 UTC"
    assert facts.reason("utc_day.on_air_from", "utc_day:2026-06-29") == ("cannot be computed", text, "schedule.on_air")


def test_without_time_on_the_air_the_stay_touches_the_days(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("desert", "2026-06-27", 'arrive: "14:45", leave: "21:15"'))
    assert [facts.of(f"utc_day:2026-06-{day}", "utc_day.touched") for day in (26, 27, 28, 29)] == [
        False, True, True, False,
    ]  # fmt: skip
    text = "the time on the air is not stated"
    assert facts.reason("utc_day.minutes_on_air", "utc_day:2026-06-27") == ("missing input", text, "schedule.on_air")


def test_a_plan_without_a_schedule_has_days_that_cannot_be_told(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("desert", "2026-06-27", ""))
    text = "the schedule states no time of day"
    assert facts.reason("utc_day.touched", "utc_day:2026-06-27") == ("missing input", text, "schedule.arrive")


PROGRAM = """\
id: halt
version: "1.0.0"
title: Halts
publisher: the tests
licence: MIT
judges: program
needs: [timing]
date_basis: utc
review_every: 365 days
sources: [{document: Watch book, publisher: the tests, edition: "2026", grade: invented}]
facts: {}
references: references.yaml
"""
RULES = f"""\
rules:
  - id: an-hour-a-day
    title: An hour on the air on each UTC day
    why: A short visit is none.
    severity: required
    for_each: claim_day
    where: {{fact: utc_day.touched, is: true}}
    require: {{fact: utc_day.minutes_on_air, at_least: {{limit: hour}}}}
    {SOURCE}
limits:
  hour:
    - {{from: 2020-01-01, value: "60", unit: min, {SOURCE}}}
"""
REFERENCES = """\
references:
  - {id: mile-post, title: Mile post, kind: point, from: 2020-01-01,
     source: {document: Watch book, section: "2", grade: invented, last_checked: 2026-05-02}}
"""


@pytest.mark.parametrize(
    ("on_air", "outcomes"),
    [
        ('"15:30", "20:30"', ["not applicable", "passed", "passed", "not applicable"]),
        ('"16:30", "20:30"', ["not applicable", "failed", "passed", "not applicable"]),
        ('"18:00", "20:30"', ["not applicable", "not applicable", "passed", "not applicable"]),
    ],
)
def test_a_rule_for_each_claim_and_utc_day(outing_of: Outing, on_air: str, outcomes: list[str]) -> None:
    for name, text in (("pack", PROGRAM), ("rules", RULES), ("references", REFERENCES)):
        outing_of.file(f"halt/{name}.yaml", text)
    claims = "claims: [{program: halt, reference: mile-post}]"
    plan = outing_of.plan("desert", "2026-06-27", f"on_air: [{on_air}]", claims)
    verdicts = [verdict for verdict in outing_of.report(plan)["verdicts"] if verdict["program"] == "halt"]
    keys = [f"claim_day:halt/mile-post/2026-06-{day}" for day in (26, 27, 28, 29)]
    assert [(verdict["subject"], verdict["outcome"]) for verdict in verdicts] == list(zip(keys, outcomes, strict=True))


def test_a_rule_for_each_utc_day_is_never_silent(outing_of: Outing) -> None:
    outing_of.rules(
        "  - id: not-twice\n    title: One UTC day\n    why: Two need two logs.\n    severity: required\n"
        "    for_each: utc_day\n    require: {fact: utc_day.minutes_on_air, at_least: \"0 min\"}"
    )  # fmt: skip
    verdicts = outing_of.report(outing_of.plan("ocean", "2026-06-27", 'on_air: ["15:30", "20:30"]'))["verdicts"]
    assert [verdict["outcome"] for verdict in verdicts] == ["cannot tell"] * 4
    assert verdicts[0]["settle"]["words"] == "State `schedule.zone`."
