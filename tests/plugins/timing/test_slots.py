"""Slots on the clocks, and rules that change at 00:00 UTC judged slot by slot."""

from __future__ import annotations

from typing import Any

import pytest

EVENING = 'zone: America/Los_Angeles, arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15"'
THREE = """, slots: [
  {name: early, from: "15:30", to: "17:00", power: 5 W},
  {name: late, from: "17:00", to: "19:00", power: 5 W},
  {name: both, from: "16:30", to: "17:30", power: 5 W, operator: ann}]"""
RULE = """  - id: low-power
    title: Low power
    why: It changed.
    severity: required
    for_each: {kind}
    require: {{fact: {fact}, at_most: {{limit: power}}}}"""
SOURCE = 'source: {document: Watch book, section: "2", grade: invented, last_checked: 2026-05-02}'
LIMITS = """limits:
  power:
    - {{from: 2020-01-01, until: 2026-06-28, value: "{first}", unit: {unit}, {source}}}
    - {{from: 2026-06-28, value: "{second}", unit: {unit}, {source}}}
"""


def test_a_slot_has_its_instants(outing_of: Any) -> None:
    facts = outing_of.facts(outing_of.plan(None, "2026-06-27", EVENING + THREE))
    assert facts.of("slot:early", "slot.begins") == "2026-06-27T22:30:00Z"
    assert facts.of("slot:early", "slot.ends") == "2026-06-28T00:00:00Z"
    assert facts.record("slot.ends", "slot:early").detail == {"local": "17:00", "date": "2026-06-27"}
    assert [facts.of(f"slot:{name}", "slot.minutes") for name in ("early", "late", "both")] == [90, 120, 60]
    days = {name: facts.of(f"slot:{name}", "slot.utc_days") for name in ("early", "late", "both")}
    assert days == {"early": ["2026-06-27"], "late": ["2026-06-28"], "both": ["2026-06-27", "2026-06-28"]}
    assert facts.of("slot:both", "slot.crosses_utc_midnight") is True
    assert facts.of("slot:early", "slot.crosses_utc_midnight") is False


def test_the_whole_time_on_the_air_is_the_slot_of_a_plan_without_any(outing_of: Any) -> None:
    facts = outing_of.facts(outing_of.plan(None, "2026-06-27", f"{EVENING}, band: 40m, mode: CW, power: 5 W"))
    slots = [key for key in facts.world.subjects if key.startswith("slot:")]
    assert slots == ["slot:on-the-air"]
    assert facts.of("slot:on-the-air", "slot.minutes") == 300
    assert facts.of("slot:on-the-air", "slot.utc_days") == ["2026-06-27", "2026-06-28"]
    assert facts.of("slot:on-the-air", "slot.band_used") == "40m"
    assert facts.of("slot:on-the-air", "slot.mode_used") == "CW"
    assert facts.of("slot:on-the-air", "slot.power_used") == 5
    # It adds nothing to what the schedule says already.
    assert facts["schedule.instants"]["slots"] == []
    assert [slot["name"] for slot in facts["schedule.timeline"]["slots"]] == ["on air"]


@pytest.mark.parametrize("schedule", ["", 'zone: America/Denver, arrive: "09:00", leave: "12:00"'])
def test_a_plan_without_time_on_the_air_has_no_slot(outing_of: Any, schedule: str) -> None:
    facts = outing_of.facts(outing_of.plan("denver", "2026-06-27", schedule))
    assert not [key for key in facts.world.subjects if key.startswith("slot:")]


def test_a_slot_has_its_own_or_the_schedule_s(outing_of: Any) -> None:
    more = "operators: [{name: ann}]"
    slots = ", band: 40m, mode: CW, slots: [{name: a, frequency: 14.06 MHz}, {name: b, mode: SSB, band: 20m}]"
    facts = outing_of.facts(outing_of.plan(None, "2026-06-27", EVENING + slots, more))
    assert facts.of("slot:a", "slot.mode_used") == "CW"
    assert facts.of("slot:a", "slot.frequency_used") == 14.06
    assert facts.reason("slot.band_used", "slot:a")[1] == "neither the slot nor the schedule states a band"
    assert facts.of("slot:b", "slot.mode_used") == "SSB"
    assert facts.of("slot:b", "slot.band_used") == "20m"
    assert facts.reason("slot.power_used", "slot:b") == (
        "missing input", "neither the slot nor the schedule states a power", "schedule.power",
    )  # fmt: skip
    assert facts.of("slot:b", "slot.control_operator") == "ann"
    assert facts.reason("slot.minutes", "slot:a")[:2] == ("missing input", "slot a does not say its times")


def test_two_operators_do_not_tell_who_operates(outing_of: Any) -> None:
    plan = outing_of.plan(None, "2026-06-27", EVENING, "operators: [{name: ann}, {name: bob}]")
    told = outing_of.facts(plan).reason("slot.control_operator", "slot:on-the-air")[1]
    assert told == "neither the slot nor the plan says who operates"


def outcomes(outing_of: Any, kind: str, fact: str, schedule: str, first: int, second: int, unit: str = "W") -> Any:
    outing_of.rules(RULE.format(kind=kind, fact=fact))
    rules = (outing_of.folder / "watch/rules.yaml").read_text()
    outing_of.file("watch/rules.yaml", rules + LIMITS.format(first=first, second=second, unit=unit, source=SOURCE))
    made = outing_of.report(outing_of.plan(None, "2026-06-27", schedule))
    return {one["subject"].split(":")[1]: (one["outcome"], one["day"]) for one in made["verdicts"]}


def test_a_rule_that_changes_at_midnight_is_judged_slot_by_slot(outing_of: Any) -> None:
    found = outcomes(outing_of, "slot", "slot.power_used", EVENING + THREE, 10, 2)
    assert found["early"] == ("passed", "2026-06-27")
    assert found["late"] == ("failed", "2026-06-28")
    assert found["both"][0] == "cannot tell"


def test_where_both_limits_say_the_same_nothing_is_left_open(outing_of: Any) -> None:
    found = outcomes(outing_of, "slot", "slot.power_used", EVENING + THREE, 10, 8)
    assert {outcome for outcome, _ in found.values()} == {"passed"}


def test_without_a_zone_no_slot_is_placed_in_a_day(outing_of: Any) -> None:
    bare = (EVENING + THREE).replace("zone: America/Los_Angeles, ", "")
    found = outcomes(outing_of, "slot", "slot.power_used", bare, 10, 2)
    assert {outcome for outcome, _ in found.values()} == {"cannot tell"}


def test_a_utc_day_is_judged_by_the_rules_of_its_own_date(outing_of: Any) -> None:
    found = outcomes(outing_of, "utc_day", "utc_day.minutes_on_air", EVENING, 100, 101, "min")
    assert (found["2026-06-27"], found["2026-06-28"]) == (("passed", "2026-06-27"), ("failed", "2026-06-28"))
    changed = outcomes(outing_of, "utc_day", "utc_day.minutes_on_air", EVENING, 80, 220, "min")
    assert (changed["2026-06-27"], changed["2026-06-28"]) == (("failed", "2026-06-27"), ("passed", "2026-06-28"))
