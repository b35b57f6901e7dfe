"""Light for setting up, packing up and the walk back, and when to turn back."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.timing.light import MOST_MIN, light_left, light_spans

from .conftest import Outing

EVENING = 'arrive: "14:45", on_air: ["15:30", "20:00"], leave: "21:15", set_up: 30 min, pack_up: 30 min'
WALK = "travel: {walk: 25 min}"


class Here(NamedTuple):
    """A position, as the geometry gives it."""

    lat_deg: float
    lon_deg: float
    sigma_m: float | None = 3.3
    bound_m: tuple[float, float] = (0.5, 0.5)


def test_an_evening_in_the_desert(outing_of: Outing) -> None:
    """Civil dusk is at 20:54:35 on the clock on the wall."""
    facts = outing_of.facts(outing_of.plan("desert", "2026-06-27", EVENING, WALK))
    assert facts["schedule.set_up_light_left"] == pytest.approx(339.6, abs=0.1)
    assert facts["schedule.pack_up_light_left"] == pytest.approx(24.6, abs=0.1)
    assert facts["travel.walk_light_left"] == pytest.approx(-45.4, abs=0.1)
    assert facts.record("travel.walk_light_left").detail == {"dark": "after dusk"}
    light = [facts[f"schedule.{what}_in_light"] for what in ("set_up", "pack_up", "leave")]
    assert light == [True, True, False]
    record = facts.record("schedule.pack_up_light_left")
    assert record.uncertainty == pytest.approx(0.57, abs=0.02)
    assert record.notes


def test_the_latest_time_to_turn_back_ends_the_walk_at_dusk(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("desert", "2026-06-27", EVENING, WALK))
    latest = facts.record("travel.turn_back_at")
    assert latest.value == "2026-06-28T03:29:00Z"
    assert latest.detail == {"stated": False, "back_at": "2026-06-28T03:54:35Z"}
    assert facts["travel.turn_back_spare"] == -46.0


def test_a_stated_time_to_turn_back_counts(outing_of: Outing) -> None:
    plan = outing_of.plan("desert", "2026-06-27", EVENING, 'travel: {turn_back: "21:30"}')
    facts = outing_of.facts(plan)
    assert facts["travel.turn_back_at"] == "2026-06-28T04:30:00Z"
    assert facts["travel.turn_back_spare"] == 15.0


def test_without_a_walk_no_time_to_turn_back_is_made_up(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("desert", "2026-06-27", EVENING))
    text = "the time of the walk, one way is not stated"
    assert facts.reason("travel.turn_back_at") == ("missing input", text, "travel.walk")
    assert facts.reason("travel.walk_light_left")[2] == "travel.walk"


def test_setting_up_before_dawn_is_in_the_dark(outing_of: Outing) -> None:
    """Civil dawn at Kathmandu is at 06:03."""
    schedule = 'arrive: "04:30", on_air: ["05:00", "08:00"], set_up: 20 min, pack_up: 15 min'
    facts = outing_of.facts(outing_of.plan("kathmandu", "2026-11-20", schedule, "travel: {walk: 30 min}"))
    assert facts["schedule.set_up_light_left"] == pytest.approx(-93, abs=1)
    assert facts.record("schedule.set_up_light_left").detail == {"dark": "before dawn"}
    assert not facts["schedule.set_up_in_light"]
    assert facts["schedule.leave_in_light"]
    assert facts["travel.turn_back_at"][:16] == "2026-11-20T11:19"


@pytest.mark.parametrize(
    ("arrive", "text"),
    [
        # Civil dusk is at 20:54:35 on the clock on the wall; the walk takes 25 min.
        (
            "20:55",
            "it is dark on arrival: civil light ended at 20:55, before the arrival, 20:55; light sets no time to turn "
            "back",
        ),
        (
            "23:30",
            "it is dark on arrival: civil light ended at 20:55, before the arrival, 23:30; light sets no time to turn "
            "back",
        ),
        (
            "20:30",
            "the walk back cannot end in light: it takes 25 min, and civil light ends at 20:55, soon after the "
            "arrival, 20:30",
        ),
    ],
)
def test_where_light_ends_before_one_could_be_back_it_sets_no_time(outing_of: Outing, arrive: str, text: str) -> None:
    plan = outing_of.plan(
        "desert", "2026-06-27", f'arrive: "{arrive}", on_air: ["23:40", "03:00"], leave: "03:30"', WALK
    )
    facts = outing_of.facts(plan)
    assert facts.reason("travel.turn_back_at") == ("cannot be computed", text, "travel.turn_back")
    assert facts.reason("travel.turn_back_spare")[1] == text


def test_to_the_minute_an_arrival_leaves_the_walk_in_light(outing_of: Outing) -> None:
    plan = outing_of.plan("desert", "2026-06-27", 'arrive: "20:29", on_air: ["21:00", "03:00"], leave: "03:30"', WALK)
    assert outing_of.facts(plan)["travel.turn_back_at"] == "2026-06-28T03:29:00Z"


def test_a_night_that_ends_in_light_has_the_next_evening_to_turn_back(outing_of: Outing) -> None:
    plan = outing_of.plan("desert", "2026-06-27", 'arrive: "22:00", on_air: ["23:00", "05:00"], leave: "05:30"', WALK)
    assert outing_of.facts(plan)["travel.turn_back_at"][:13] == "2026-06-29T03"


def test_polar_summer_is_light_and_polar_winter_dark(outing_of: Outing) -> None:
    schedule = 'arrive: "22:00", on_air: ["23:00", "03:00"], leave: "04:00", set_up: 30 min, pack_up: 30 min'
    summer = outing_of.facts(outing_of.plan("svalbard", "2026-06-21", schedule, WALK))
    assert (summer["schedule.set_up_light_left"], summer["schedule.pack_up_in_light"]) == (MOST_MIN, True)
    text = "it does not get dark: light sets no time to turn back"
    assert summer.reason("travel.turn_back_at") == ("cannot be computed", text, "travel.turn_back")
    winter = outing_of.facts(outing_of.plan("svalbard", "2026-12-21", schedule, WALK))
    assert (winter["schedule.set_up_light_left"], winter["schedule.pack_up_in_light"]) == (-MOST_MIN, False)
    text = "it does not get light before the departure: light sets no time to turn back"
    assert winter.reason("travel.turn_back_at") == ("cannot be computed", text, "travel.turn_back")


def test_the_sun_of_polar_day_and_night_says_why_it_has_no_event(outing_of: Outing) -> None:
    said = {
        "2026-06-21": ("the sun does not set at the place on 2026-06-21: it is up all day",
                       "it does not get dark at the place on 2026-06-21: civil twilight lasts all night"),
        "2026-12-21": ("the sun does not rise at the place on 2026-12-21: it is down all day",
                       "it does not get light at the place on 2026-12-21: the sun stays more than 6 degrees below the "
                       "horizon"),
    }  # fmt: skip
    for day, (sun, twilight) in said.items():
        facts = outing_of.facts(outing_of.plan("svalbard", day, 'arrive: "10:00", leave: "12:00"'))
        for name in ("sun.rise", "sun.set"):
            assert facts.reason(name) == ("cannot be computed", sun, None)
        for name in ("sun.civil_dawn", "sun.civil_dusk"):
            assert facts.reason(name) == ("cannot be computed", twilight, None)


@pytest.mark.parametrize(
    ("place", "day", "events"),
    [
        ("desert", "2026-06-27", ("04:50", "05:23", "20:22", "20:55")),
        ("kathmandu", "2026-11-20", ("06:03", "06:28", "17:10", "17:35")),
    ],
)
def test_the_events_of_the_local_day(outing_of: Outing, place: str, day: str, events: tuple[str, ...]) -> None:
    facts = outing_of.facts(outing_of.plan(place, day, 'arrive: "10:00", leave: "12:00"'))
    names = ("sun.civil_dawn", "sun.rise", "sun.set", "sun.civil_dusk")
    details = [facts.record(name).detail for name in names]
    assert tuple(detail["local"] for detail in details) == events
    assert {detail["date"] for detail in details} == {day}


def test_a_sunset_after_midnight_belongs_to_the_day_before(outing_of: Outing) -> None:
    """Reykjavik at midsummer: the sun of the 21st sets at 00:04 on the 22nd."""
    plan = outing_of.plan("london", "2026-06-21", 'arrive: "20:00", leave: "23:00"')
    text = plan.read_text("utf-8").replace("lat: 51.5, lon: -0.1", "lat: 64.1466, lon: -21.9426")
    plan.write_text(text, encoding="utf-8")
    assert outing_of.facts(plan).record("sun.set").detail == {"local": "00:04", "date": "2026-06-22"}


def test_years_for_which_the_sun_is_not_computed_cannot_be_told(outing_of: Outing) -> None:
    facts = outing_of.facts(outing_of.plan("berlin", "2077-06-21", EVENING, WALK))
    text = "the sun is computed for the years 1950 to 2050, not for 2077"
    for name in ("sun.set", "sun.events", "sun.phases", "schedule.set_up_in_light", "travel.turn_back_at"):
        assert facts.reason(name) == ("outside validity", text, "date")
    assert facts["schedule.instants"]["arrive"] == "2077-06-21T12:45:00Z"


def test_a_vague_position_leaves_open_whether_it_is_light(outing_of: Outing) -> None:
    schedule = 'arrive: "14:45", on_air: ["15:30", "20:24"], leave: "21:15", set_up: 30 min, pack_up: 30 min'
    sure = outing_of.plan("desert", "2026-06-27", schedule.replace("20:24", "20:20"))
    assert outing_of.facts(sure)["schedule.pack_up_in_light"]
    vague = outing_of.plan("desert", "2026-06-27", schedule, accuracy=", accuracy: 40 km, level: 95 %")
    text = "the light begins or ends with the work, within the uncertainty of the position"
    assert outing_of.facts(vague).reason("schedule.pack_up_in_light") == ("within uncertainty", text, "station.at")
    assert outing_of.facts(vague).record("schedule.pack_up_light_left").uncertainty > 2


PLACES = st.builds(Here, st.floats(-70, 70), st.floats(-179, 179))
STARTS = st.datetimes(datetime(2020, 1, 1), datetime(2030, 1, 1), timezones=st.just(UTC)).map(
    lambda at: at.replace(second=0, microsecond=0)
)


@given(PLACES, STARTS, st.integers(0, 300))
def test_what_is_left_agrees_with_the_spans_of_light(here: Here, start: datetime, length: int) -> None:
    end = start + timedelta(minutes=length)
    left = light_left(here, start, end)
    spans = light_spans(here, start - timedelta(hours=3), end + timedelta(hours=3), -6.0)
    all_light = any(span.start <= start and end <= span.end for span in spans)
    assert left.low is not None
    assert left.high is not None
    assert left.low <= left.value <= left.high
    assert (left.value >= 0) == all_light
    assert abs(left.value) <= MOST_MIN


@given(PLACES, STARTS)
def test_more_light_is_left_for_less_work(here: Here, start: datetime) -> None:
    short, long = (light_left(here, start, start + timedelta(minutes=minutes)).value for minutes in (10, 40))
    assert short >= long
