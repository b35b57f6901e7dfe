"""A plan's times of day as instants: each the next after the one before it, whatever the clocks do."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import read_text
from afield.plugins.timing.computations.zone_files import zone_of
from afield.plugins.timing.dial import Dial, Stated

from .conftest import Outing


def spans(found: Any) -> tuple[Any, Any, Any]:
    return found["arrive"], found["on_air"], found["leave"]


def test_an_evening_runs_over_midnight_in_utc(outing_of: Outing) -> None:
    plan = outing_of.plan("desert", "2026-06-27", 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15"')
    found = outing_of.facts(plan)["schedule.instants"]
    on_air = [["2026-06-27T22:30:00Z", "2026-06-28T03:30:00Z"]]
    assert spans(found) == ("2026-06-27T21:45:00Z", on_air, "2026-06-28T04:15:00Z")
    assert (found["zone"], found["offsets"]) == ("America/Los_Angeles", {"start": -420.0, "end": -420.0})
    assert found["tzdata"] == outing_of.facts(plan)["place.zone_data"]


def test_times_in_utc_begin_on_the_local_day_of_arrival(outing_of: Outing) -> None:
    """01:00 UTC is 18:00 of the day before in the west, so it is the UTC date after the local one."""
    west = outing_of.plan("desert", "2026-06-27", 'arrive: "01:00Z", on_air: ["01:30Z", "04:00Z"], leave: "04:30Z"')
    found = outing_of.facts(west)["schedule.instants"]
    assert spans(found) == (
        "2026-06-28T01:00:00Z", [["2026-06-28T01:30:00Z", "2026-06-28T04:00:00Z"]], "2026-06-28T04:30:00Z",
    )  # fmt: skip
    east = outing_of.plan("auckland", "2026-06-27", 'arrive: "20:00Z", on_air: ["21:00Z", "23:00Z"], leave: "00:30Z"')
    assert outing_of.facts(east)["schedule.instants"]["arrive"] == "2026-06-26T20:00:00Z"


def test_local_and_utc_times_may_be_mixed(outing_of: Outing) -> None:
    plan = outing_of.plan("kathmandu", "2026-11-20", 'arrive: "04:30", on_air: ["23:15Z", "08:00"], leave: "03:00Z"')
    found = outing_of.facts(plan)["schedule.instants"]
    assert spans(found) == (
        "2026-11-19T22:45:00Z", [["2026-11-19T23:15:00Z", "2026-11-20T02:15:00Z"]], "2026-11-20T03:00:00Z",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("place", "day", "minutes", "change"),
    [("denver", "2026-10-31", 300.0, -60.0), ("denver", "2026-03-07", 180.0, 60.0), ("denver", "2026-06-27", 240.0, 0)],
)
def test_hours_that_pass_are_not_those_of_the_clock(
    outing_of: Outing, place: str, day: str, minutes: float, change: float
) -> None:
    plan = outing_of.plan(place, day, 'arrive: "23:00", on_air: ["23:30", "03:30"], leave: "04:00"')
    facts = outing_of.facts(plan)
    assert facts["schedule.minutes_on_air"] == minutes
    assert facts["schedule.minutes_there"] == minutes + 60
    assert facts["schedule.clock_change"] == change


@pytest.mark.parametrize(("which", "start"), [("first", "2026-11-01T07:30:00Z"), ("second", "2026-11-01T08:30:00Z")])
def test_the_plan_says_which_pass_of_a_repeated_hour_is_meant(outing_of: Outing, which: str, start: str) -> None:
    schedule = f'repeated_hour: {which}, arrive: "00:30", on_air: ["01:30", "05:30"], leave: "06:00"'
    found = outing_of.facts(outing_of.plan("denver", "2026-11-01", schedule))["schedule.instants"]
    assert found["on_air"][0][0] == start


def test_the_second_pass_follows_where_the_first_is_over(outing_of: Outing) -> None:
    schedule = 'repeated_hour: first, arrive: "00:30", on_air: ["01:45", "01:15"], leave: "06:00"'
    found = outing_of.facts(outing_of.plan("denver", "2026-11-01", schedule))["schedule.instants"]
    assert found["on_air"] == [["2026-11-01T07:45:00Z", "2026-11-01T08:15:00Z"]]


def test_slots_bring_what_they_state_and_make_the_time_on_the_air(outing_of: Outing) -> None:
    slots = (
        'slots: [{name: early, from: "10:00", to: "12:00", band: 40m, mode: CW, frequency: 7.03 MHz, power: 5 W},'
        ' {name: late, from: "11:00", to: "13:00", operator: first}, {name: last, from: "15:00", to: "16:00"}]'
    )
    found = outing_of.facts(outing_of.plan("berlin", "2026-06-27", f'arrive: "09:00", {slots}'))["schedule.instants"]
    assert found["on_air"] == [
        ["2026-06-27T08:00:00Z", "2026-06-27T11:00:00Z"], ["2026-06-27T13:00:00Z", "2026-06-27T14:00:00Z"],
    ]  # fmt: skip
    assert found["slots"][0] == {
        "name": "early", "from": "2026-06-27T08:00:00Z", "to": "2026-06-27T10:00:00Z", "band": "40m", "mode": "CW",
        "frequency_mhz": 7.03, "power_w": 5.0, "operator": None,
    }  # fmt: skip


PAUSED = 'slots: [{name: early, from: "22:30", to: "01:00"}, {name: late, from: "01:30", to: "03:30"}]'


@pytest.mark.parametrize("around", ['arrive: "21:00", leave: "04:30", ', 'leave: "04:30", ', 'arrive: "21:00", ', ""])
def test_without_on_air_it_is_from_the_first_slot_to_the_last_without_the_pause(outing_of: Outing, around: str) -> None:
    facts = outing_of.facts(outing_of.plan("berlin", "2026-07-11", around + PAUSED))
    assert facts["schedule.instants"]["on_air"] == [
        ["2026-07-11T20:30:00Z", "2026-07-11T23:00:00Z"], ["2026-07-11T23:30:00Z", "2026-07-12T01:30:00Z"],
    ]  # fmt: skip
    assert facts["schedule.minutes_on_air"] == 270
    assert (facts["schedule.instants"]["arrive"] is not None) == ("arrive" in around)
    ends = facts["schedule.instants"]["start"], facts["schedule.instants"]["end"]
    assert ends == (
        "2026-07-11T19:00:00Z" if "arrive" in around else "2026-07-11T20:30:00Z",
        "2026-07-12T02:30:00Z" if "leave" in around else "2026-07-12T01:30:00Z",
    )


def test_the_battery_and_the_clocks_have_one_time_on_the_air(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("berlin", "2026-07-11", f'arrive: "21:00", leave: "04:30", {PAUSED}'))
    on_air = facts["schedule.instants"]["on_air"]
    arrive = datetime.fromisoformat(facts["schedule.instants"]["arrive"])
    hours = [(datetime.fromisoformat(end) - arrive) / timedelta(hours=1) for end in (on_air[0][0], on_air[-1][1])]
    assert facts["schedule.timeline"]["on_air"] == [hours] == [[1.5, 6.5]]


def test_a_lone_slot_without_times_is_all_the_time_on_the_air(outing_of: Outing) -> None:
    plan = outing_of.plan("berlin", "2026-06-27", 'on_air: ["10:00", "12:00"], slots: [{name: all, mode: CW}]')
    (slot,) = outing_of.facts(plan)["schedule.instants"]["slots"]
    assert (slot["from"], slot["to"]) == ("2026-06-27T08:00:00Z", "2026-06-27T10:00:00Z")


def test_what_is_not_stated_is_named(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("berlin", "2026-06-27", 'arrive: "09:00"'))
    assert facts["schedule.instants"]["leave"] is None
    assert facts.reason("schedule.minutes_there") == ("missing input", "departure is not stated", "schedule.leave")
    text = "the time on the air is not stated"
    assert facts.reason("schedule.minutes_on_air") == ("missing input", text, "schedule.on_air")
    none = outing_of.facts(outing_of.plan("berlin", "2026-06-27", ""))
    text = "the schedule states no time of day"
    assert none.reason("schedule.instants") == ("missing input", text, "schedule.arrive")


def test_time_to_spare_before_and_after(outing_of: Outing) -> None:
    schedule = 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", set_up: 40 min, pack_up: 45 min'
    facts = outing_of.facts(outing_of.plan("desert", "2026-06-27", schedule))
    assert (facts["schedule.set_up_spare"], facts["schedule.pack_up_spare"]) == (5.0, 0.0)
    bare = outing_of.facts(outing_of.plan("desert", "2026-06-27", 'arrive: "14:45", on_air: ["15:30", "20:30"]'))
    text = "time to set up is not stated"
    assert bare.reason("schedule.set_up_spare") == ("missing input", text, "schedule.set_up")


def test_the_stages_run_from_the_way_there_to_the_way_home(outing_of: Outing) -> None:
    schedule = 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", set_up: 40 min, pack_up: 30 min'
    plan = outing_of.plan("desert", "2026-06-27", schedule, "travel: {walk: 20 min, drive: 90 min}")
    stages = outing_of.facts(plan)["schedule.stages"]
    assert [(stage["name"], stage["from"][11:16], stage["to"][11:16]) for stage in stages] == [
        ("drive out", "19:55", "21:25"), ("walk out", "21:25", "21:45"), ("set up", "21:45", "22:25"),
        ("on the air", "22:30", "03:30"), ("pack up", "03:30", "04:00"), ("walk back", "04:15", "04:35"),
        ("drive back", "04:35", "06:05"),
    ]  # fmt: skip


CLOCK = st.builds(lambda hour, minute, utc: f"{hour:02d}:{minute:02d}{utc}", st.integers(0, 23), st.integers(0, 59),
                  st.sampled_from(["", "Z"]))  # fmt: skip
CALM = ["Asia/Kathmandu", "America/Phoenix", "Pacific/Honolulu", "Asia/Tokyo", "Pacific/Kiritimati", "Etc/GMT+12"]


@given(st.sampled_from(CALM), st.dates(date(2020, 1, 1), date(2030, 1, 1)), st.lists(CLOCK, min_size=1, max_size=5))
def test_times_in_a_row_never_run_back_and_never_wait_a_day(zone: str, day: date, clocks: list[str]) -> None:
    dial = Dial(zone_of(zone), day, None, read_text("{}", "plan.yaml"))
    found = dial.row([Stated("a time", text, ()) for text in clocks])
    assert found[0].astimezone(dial.zone).date() == day
    for at, text in zip(found, clocks, strict=True):
        shown = at if text.endswith("Z") else at.astimezone(dial.zone)
        assert f"{shown:%H:%M}" == text.removesuffix("Z")
    steps = [later - sooner for sooner, later in pairwise(found)]
    assert all(timedelta(0) <= step < timedelta(days=1) for step in steps)


def test_a_time_is_told_from_its_zone() -> None:
    assert (Stated("a", "21:45Z", ()).time, Stated("a", "21:45Z", ()).utc) == (time(21, 45), True)
    assert not Stated("a", "21:45", ()).utc
    assert datetime.combine(date(2026, 1, 1), Stated("a", "21:45", ()).time).hour == 21
