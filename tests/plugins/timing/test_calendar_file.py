"""The calendar file, read back by the library: instants in UTC, nothing of the machine's clock."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from icalendar import Calendar

from afield.plugins.timing.section import timeline_section

EVENING = 'zone: America/Los_Angeles, arrive: "14:45", on_air: ["15:30", "20:30"], pack_up: 30 min, leave: "21:15"'


def text_of(outing_of: Any, *plan: Any) -> str | None:
    data = outing_of.section(outing_of.plan(*plan))
    return timeline_section().files["outing.ics"](data)


def events(text: str | None) -> list[tuple[str, datetime, datetime | None]]:
    assert text is not None
    found = Calendar.from_ical(text).walk("VEVENT")
    return [(str(one["summary"]), one.decoded("dtstart"), one.decoded("dtend", None)) for one in found]


def test_the_events_of_an_evening_over_utc_midnight(outing_of: Any) -> None:
    text = text_of(outing_of, "desert", "2026-06-27", EVENING, 'travel: {turn_back: "21:00"}')
    assert events(text) == [
        ("An outing: arrive", datetime(2026, 6, 27, 21, 45, tzinfo=UTC), None),
        ("An outing: on the air", datetime(2026, 6, 27, 22, 30, tzinfo=UTC), datetime(2026, 6, 28, 3, 30, tzinfo=UTC)),
        ("An outing: 00:00 UTC, 28 June begins", datetime(2026, 6, 28, tzinfo=UTC), None),
        ("An outing: turn back", datetime(2026, 6, 28, 4, tzinfo=UTC), None),
        ("An outing: leave", datetime(2026, 6, 28, 4, 15, tzinfo=UTC), None),
    ]


def test_each_event_names_the_zone_of_its_local_time(outing_of: Any) -> None:
    text = text_of(outing_of, "desert", "2026-06-27", EVENING)
    told = [str(one["description"]) for one in Calendar.from_ical(text or "").walk("VEVENT")]
    assert told[0] == "14:45 local time in America/Los_Angeles, 21:45Z."
    assert told[1] == "15:30 to 20:30 local time in America/Los_Angeles, 22:30Z to 03:30Z (28 June)."


def test_slots_are_events_of_their_own(outing_of: Any) -> None:
    slots = ', slots: [{name: first, from: "15:30", to: "17:00"}, {name: second, from: "18:00", to: "20:30"}]'
    names = [name for name, _, _ in events(text_of(outing_of, None, "2026-06-27", EVENING + slots))]
    assert names == [
        "An outing: arrive", "An outing: first", "An outing: 00:00 UTC, 28 June begins", "An outing: second",
        "An outing: leave",
    ]  # fmt: skip


def test_the_file_is_one_that_calendars_take(outing_of: Any) -> None:
    text = text_of(outing_of, "desert", "2026-06-27", EVENING)
    assert text is not None
    assert text == text_of(outing_of, "desert", "2026-06-27", EVENING)
    lines = text.split("\r\n")
    assert all(len(line.encode()) <= 75 and "\n" not in line for line in lines)
    made = Calendar.from_ical(text)
    assert (made["version"], made["prodid"]) == ("2.0", "-//afield//outing//EN")
    uids = [str(one["uid"]) for one in made.walk("VEVENT")]
    assert len(set(uids)) == len(uids)
    assert not [one for one in made.walk("VEVENT") if "dtend" in one and one["dtend"].dt <= one["dtstart"].dt]


def made(outing_of: Any, *plan: Any) -> list[Any]:
    return list(Calendar.from_ical(text_of(outing_of, *plan) or "").walk("VEVENT"))


SLOTTED = """zone: America/Los_Angeles, {more}slots: [{{name: early, from: "{one}", to: "{two}", band: 40m, mode: CW,
  power: 5 W}}, {{name: arrive, from: "{three}", to: "{four}"}}]"""


def test_an_event_keeps_its_identity_when_its_times_change(outing_of: Any) -> None:
    first = SLOTTED.format(more='arrive: "14:45", leave: "21:15", ', one="15:30", two="16:30", three="18:00",
                           four="20:30")  # fmt: skip
    later = SLOTTED.format(more='arrive: "14:00", leave: "22:00", ', one="15:10", two="16:45", three="18:20",
                           four="21:00")  # fmt: skip
    turn = 'travel: {turn_back: "%s"}'
    one = made(outing_of, "desert", "2026-06-27", first, turn % "21:00")
    two = made(outing_of, "desert", "2026-06-27", later, turn % "21:55")
    assert [event["dtstart"].dt for event in one] != [event["dtstart"].dt for event in two]
    assert {str(event["summary"]): str(event["uid"]) for event in one} == {
        str(event["summary"]): str(event["uid"]) for event in two
    }
    uids = {str(event["uid"]) for event in one}
    # A slot may be called as another event is.
    assert len(uids) == len(one) == 6
    other = made(outing_of, "desert", "2026-06-28", first, turn % "21:00")
    assert not uids & {str(event["uid"]) for event in other}


def test_a_slot_says_what_it_states(outing_of: Any) -> None:
    schedule = SLOTTED.format(more="", one="15:30", two="16:30", three="18:00", four="20:30")
    told = {str(one["summary"]): str(one["description"]) for one in made(outing_of, "desert", "2026-06-27", schedule)}
    assert told["An outing: early"] == (
        "15:30 to 16:30 local time in America/Los_Angeles, 22:30Z to 23:30Z. 40m, CW, 5 W."
    )
    assert told["An outing: arrive"] == (
        "18:00 to 20:30 local time in America/Los_Angeles, 01:00Z (28 June) to 03:30Z (28 June)."
    )


def test_the_stamp_is_past_and_of_no_clock(outing_of: Any) -> None:
    """By the release of the zone data, which cannot be of a year to come."""
    year = int(outing_of.facts(outing_of.plan("desert", "2026-06-27", EVENING))["place.zone_data"][:4])
    for day in ("2026-06-27", "2031-06-27"):
        stamps = {event["dtstamp"].dt for event in made(outing_of, "desert", day, EVENING)}
        assert stamps == {datetime(year, 1, 1, tzinfo=UTC)}
    assert datetime(year, 1, 1, tzinfo=UTC) < datetime.now(UTC)


def test_the_place_stands_with_each_event(outing_of: Any) -> None:
    events = made(outing_of, "desert", "2026-06-27", EVENING)
    assert {(str(one["location"]), one["geo"].to_ical()) for one in events} == {
        ("39.90412, -117.30288", "39.90412;-117.30288")
    }
    placeless = made(outing_of, None, "2026-06-27", EVENING)
    assert placeless
    assert not [one for one in placeless if "geo" in one or "location" in one]


@pytest.mark.parametrize("schedule", ['arrive: "14:45", leave: "21:15"'])
def test_times_without_a_zone_make_no_calendar(outing_of: Any, schedule: str) -> None:
    assert text_of(outing_of, None, "2026-06-27", schedule) is None
