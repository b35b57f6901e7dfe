"""What is said of times that cannot be: where, what, and what to do."""

from __future__ import annotations

import pytest

from .conftest import Outing

CASES = {
    "skipped": (
        "denver", "2026-03-08", 'arrive: "01:00", on_air: ["02:30", "05:30"], leave: "06:00"',
        """\
trip.yaml:5:38: 02:30 does not exist on 2026-03-08: the clocks of America/Denver go from 02:00 to 03:00
    | schedule: {arrive: "01:00", on_air: ["02:30", "05:30"], leave: "06:00"}
    = Write a time before or after the change, or write the time in UTC with a Z at its end.""",
    ),
    "skipped after midnight": (
        "denver", "2026-03-07", 'arrive: "22:00", on_air: ["23:00", "02:15"], leave: "06:00"',
        """\
trip.yaml:5:47: 02:15 does not exist on 2026-03-08: the clocks of America/Denver go from 02:00 to 03:00
    | schedule: {arrive: "22:00", on_air: ["23:00", "02:15"], leave: "06:00"}
    = Write a time before or after the change, or write the time in UTC with a Z at its end.""",
    ),
    "repeated": (
        "berlin", "2026-10-25", 'arrive: "02:30", leave: "06:00"',
        """\
trip.yaml:5:20: 02:30 comes twice on 2026-10-25: the clocks of Europe/Berlin go from 03:00 to 02:00
    | schedule: {arrive: "02:30", leave: "06:00"}
    = State `repeated_hour: first` or `second` under `schedule:`, or write the time in UTC with a Z at its end: 00:30Z \
or 01:30Z.""",
    ),
    "no such hour of UTC on the day": (
        "london", "2026-03-29", 'arrive: "23:30Z", leave: "01:30Z"',
        """\
trip.yaml:5:20: 23:30Z does not fall on 2026-03-29 in Europe/London, a day without that hour of UTC
    | schedule: {arrive: "23:30Z", leave: "01:30Z"}
    = Correct the time, or `date`, which is the local date of arrival.""",
    ),
    "out of order": (
        "berlin", "2026-06-27", 'arrive: "10:30", on_air: ["11:30", "15:30"], leave: "15:00"',
        """\
trip.yaml:5:64: the departure, 15:00, lies before the end on the air, 15:30
    | schedule: {arrive: "10:30", on_air: ["11:30", "15:30"], leave: "15:00"}
    = The times are arrive, on_air from and to, leave, in that order; over midnight they run on, but the whole must be \
shorter than 24 h.""",
    ),
    "no time on the air": (
        "berlin", "2026-06-27", 'on_air: ["11:30", "11:30"]',
        """\
trip.yaml:5:30: the time on the air begins and ends at 11:30
    | schedule: {on_air: ["11:30", "11:30"]}
    = Write two times, the start first; an end after midnight is fine.""",
    ),
    "a slot after the end": (
        "berlin", "2026-06-27", 'arrive: "10:30", leave: "15:00", slots: [{name: late, from: "14:00", to: "16:00"}]',
        """\
trip.yaml:5:85: slot late, 14:00 to 16:00, reaches beyond the departure, 15:00
    | schedule: {arrive: "10:30", leave: "15:00", slots: [{name: late, from: "14:00", to: "16:00"}]}
    = Mend the slot's times, or `leave`.""",
    ),
    "a slot that begins before the arrival": (
        "berlin", "2026-06-27", 'arrive: "22:30", leave: "04:00", slots: [{name: soon, from: "22:00", to: "23:00"}]',
        """\
trip.yaml:5:72: slot soon begins at 22:00, before the arrival, 22:30
    | schedule: {arrive: "22:30", leave: "04:00", slots: [{name: soon, from: "22:00", to: "23:00"}]}
    = Mend the slot's `from`, or `arrive`.""",
    ),
    "a slot that ends before it begins": (
        "berlin", "2026-06-27", 'arrive: "22:30", leave: "04:00", slots: [{name: back, from: "23:30", to: "23:00"}]',
        """\
trip.yaml:5:85: slot back ends at 23:00, before it begins, at 23:30
    | schedule: {arrive: "22:30", leave: "04:00", slots: [{name: back, from: "23:30", to: "23:00"}]}
    = Write the start in `from` and the end in `to`; over midnight a slot runs on, but not beyond the outing.""",
    ),
    "a slot that begins before the time on the air": (
        "berlin", "2026-06-27", 'on_air: ["23:30", "02:00"], slots: [{name: early, from: "22:30", to: "01:00"}]',
        """\
trip.yaml:5:68: slot early, 22:30 to 01:00, reaches outside the time on the air, 23:30 to 02:00
    | schedule: {on_air: ["23:30", "02:00"], slots: [{name: early, from: "22:30", to: "01:00"}]}
    = Widen `on_air`, or shorten the slot. Without `on_air`, the time on the air is from the first slot's start to the \
last one's end.""",
    ),
    "a slot that ends after the time on the air": (
        "berlin", "2026-06-27",
        'on_air: ["23:30", "03:00"], leave: "04:00", slots: [{name: late, from: "02:15", to: "03:30"}]',
        """\
trip.yaml:5:96: slot late, 02:15 to 03:30, reaches outside the time on the air, 23:30 to 03:00
    | schedule: {on_air: ["23:30", "03:00"], leave: "04:00", slots: [{name: late, from: "02:15", to: "03:30"}]}
    = Widen `on_air`, or shorten the slot. Without `on_air`, the time on the air is from the first slot's start to the \
last one's end.""",
    ),
    "a slot before the first that is listed": (
        "berlin", "2026-06-27",
        'leave: "04:00", slots: [{name: b, from: "01:30", to: "03:30"}, {name: a, from: "22:30", to: "01:00"}]',
        """\
trip.yaml:5:91: slot a begins at 22:30, before slot b, 01:30, the first that the plan lists
    | schedule: {leave: "04:00", slots: [{name: b, from: "01:30", to: "03:30"}, {name: a, from: "22:30", to: "01:00"}]}
    = List the slots in their order, or state `arrive`.""",
    ),
    "no time to set up": (
        "berlin", "2026-06-27", 'arrive: "15:00", set_up: 40 min, on_air: ["15:10", "20:30"]',
        """\
trip.yaml:5:37: setting up takes 40 min, but only 10 min lie between the arrival, 15:00, and the start on the air, 15:10
    | schedule: {arrive: "15:00", set_up: 40 min, on_air: ["15:10", "20:30"]}
    = Arrive earlier, begin later, or state a shorter `set_up`.""",
    ),
    "no time to set up before the first slot": (
        "berlin", "2026-06-27", 'arrive: "15:00Z", set_up: 1 h, slots: [{name: a, from: "15:10Z", to: "20:30Z"}]',
        """\
trip.yaml:5:38: setting up takes 1 h, but only 10 min lie between the arrival, 15:00Z, and the start on the air, 15:10Z
    | schedule: {arrive: "15:00Z", set_up: 1 h, slots: [{name: a, from: "15:10Z", to: "20:30Z"}]}
    = Arrive earlier, begin later, or state a shorter `set_up`.""",
    ),
    "no time to set up, for the clocks go forward": (
        "denver", "2026-03-08", 'arrive: "01:30", set_up: 1 h, on_air: ["03:10", "05:00"]',
        """\
trip.yaml:5:37: setting up takes 1 h, but only 40 min lie between the arrival, 01:30, and the start on the air, 03:10
    | schedule: {arrive: "01:30", set_up: 1 h, on_air: ["03:10", "05:00"]}
    = Arrive earlier, begin later, or state a shorter `set_up`.""",
    ),
    "no time to pack up": (
        "berlin", "2026-06-27", 'on_air: ["15:30", "20:30"], pack_up: 30 min, leave: "20:40"',
        """\
trip.yaml:5:49: packing up takes 30 min, but only 10 min lie between the end on the air, 20:30, and the departure, 20:40
    | schedule: {on_air: ["15:30", "20:30"], pack_up: 30 min, leave: "20:40"}
    = Leave later, end earlier, or state a shorter `pack_up`.""",
    ),
    "a start before the arrival": (
        "berlin", "2026-06-27", 'arrive: "14:45", on_air: ["14:00", "20:30"], leave: "21:15"',
        """\
trip.yaml:5:38: the start on the air, 14:00, lies before the arrival, 14:45
    | schedule: {arrive: "14:45", on_air: ["14:00", "20:30"], leave: "21:15"}
    = The times are arrive, on_air from and to, leave, in that order; over midnight they run on, but the whole must be \
shorter than 24 h.""",
    ),
    "a slot without length": (
        "berlin", "2026-06-27", 'on_air: ["15:30", "20:30"], slots: [{name: none, from: "16:00", to: "16:00"}]',
        """\
trip.yaml:5:80: slot none begins and ends at 16:00
    | schedule: {on_air: ["15:30", "20:30"], slots: [{name: none, from: "16:00", to: "16:00"}]}
    = Write two times.""",
    ),
    "slots of one operator that overlap": (
        "berlin", "2026-06-27",
        'on_air: ["15:30","19:30"],slots: [{name: a,from: "16:00",to: "18:00",operator: x},'
        '{name: b,from: "17:00",to: "19:00",operator: x}]',
        """\
trip.yaml:5:109: slots a and b overlap, and operator x is at both
    | ... hedule: {on_air: ["15:30","19:30"],slots: [{name: a,from: "16:00",to: "18:00",operator: x},\
{name: b,from: "17:00",to: "19:00",operator: x}]}
    = Mend their times, or name the operator of each; the other is at trip.yaml:5:46.""",
    ),
    "slots of nobody named that overlap": (
        "berlin", "2026-06-27",
        'slots: [{name: a, from: "16:00", to: "18:00"}, {name: b, from: "17:00", to: "19:00"}]',
        """\
trip.yaml:5:75: slots a and b overlap, and nobody named is at both
    | schedule: {slots: [{name: a, from: "16:00", to: "18:00"}, {name: b, from: "17:00", to: "19:00"}]}
    = Mend their times, or name the operator of each; the other is at trip.yaml:5:20.""",
    ),
    "a slot on the skipped hour": (
        "denver", "2026-03-08", 'arrive: "01:00", leave: "05:00", slots: [{name: a, from: "02:30", to: "03:30"}]',
        """\
trip.yaml:5:69: 02:30 does not exist on 2026-03-08: the clocks of America/Denver go from 02:00 to 03:00
    | schedule: {arrive: "01:00", leave: "05:00", slots: [{name: a, from: "02:30", to: "03:30"}]}
    = Write a time before or after the change, or write the time in UTC with a Z at its end.""",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_what_is_said(outing_of: Outing, name: str) -> None:
    place, date, schedule, text = CASES[name]
    assert outing_of.complaint(outing_of.plan(place, date, schedule)) == text


def test_a_day_that_was_left_out_is_named(outing_of: Outing) -> None:
    plan = outing_of.plan(None, "2011-12-30", 'arrive: "10:30", zone: Pacific/Apia')
    assert (
        outing_of.complaint(plan)
        == """\
trip.yaml:4:20: 10:30 does not exist on 2011-12-30: the clocks of Pacific/Apia go from 2011-12-30 00:00 to \
2011-12-31 00:00
    | schedule: {arrive: "10:30", zone: Pacific/Apia}
    = Write a time before or after the change, or write the time in UTC with a Z at its end."""
    )


STAY = 'arrive: "15:00", on_air: ["16:00", "20:30"], pack_up: 30 min, leave: "21:30"'
TURNS = {
    "before the arrival": (
        STAY, 'turn_back: "14:00"',
        """\
trip.yaml:6:21: the time to turn back, 14:00, lies before the arrival, 15:00
    | travel: {turn_back: "14:00"}
    = State a time between the end of packing up and the end of the walk back.""",
    ),
    "before the start, without an arrival": (
        'on_air: ["16:00", "20:30"]', 'turn_back: "14:00"',
        """\
trip.yaml:6:21: the time to turn back, 14:00, lies before the start of the outing, 16:00
    | travel: {turn_back: "14:00"}
    = State a time between the end of packing up and the end of the walk back.""",
    ),
    "on the air": (
        STAY, 'turn_back: "20:00"',
        """\
trip.yaml:6:21: the time to turn back, 20:00, lies before the end on the air, 20:30
    | travel: {turn_back: "20:00"}
    = Turn back later, or end earlier.""",
    ),
    "not packed": (
        STAY, 'turn_back: "20:45"',
        """\
trip.yaml:6:21: packing up takes 30 min, but only 15 min lie between the end on the air, 20:30, and the time to turn \
back, 20:45
    | travel: {turn_back: "20:45"}
    = Turn back later, end earlier, or state a shorter `pack_up`.""",
    ),
    "after the walk": (
        STAY, 'turn_back: "22:00", walk: 25 min',
        """\
trip.yaml:6:21: the time to turn back, 22:00, lies after the end of the walk back, 21:55
    | travel: {turn_back: "22:00", walk: 25 min}
    = By then the plan has everybody back: mend `turn_back`, `leave` or `walk`.""",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", TURNS)
def test_a_time_to_turn_back_at_which_nobody_can_is_refused(outing_of: Outing, name: str) -> None:
    schedule, travel, text = TURNS[name]
    assert outing_of.complaint(outing_of.plan("berlin", "2026-06-27", schedule, f"travel: {{{travel}}}")) == text


@pytest.mark.parametrize(
    ("schedule", "travel"),
    [
        (STAY, 'turn_back: "21:00"'),
        (STAY, 'turn_back: "21:30"'),
        # It is the latest start: the plan may leave earlier.
        (STAY, 'turn_back: "23:00"'),
        (STAY, 'turn_back: "21:55", walk: 25 min'),
        (f"{STAY}, set_up: 1 h", ""),
        ('arrive: "15:00", set_up: 30 min', 'turn_back: "16:00"'),
    ],
)
def test_times_that_can_just_be_kept_are_taken(outing_of: Outing, schedule: str, travel: str) -> None:
    plan = outing_of.plan("berlin", "2026-06-27", schedule, f"travel: {{{travel}}}" if travel else "")
    assert outing_of.facts(plan)["schedule.instants"]["arrive"] == "2026-06-27T13:00:00Z"


def test_an_hour_that_comes_twice_leaves_time_to_set_up(outing_of: Outing) -> None:
    # From 00:45 to the second 01:15 by the clock of Denver are 90 minutes.
    schedule = 'repeated_hour: second, arrive: "00:45", set_up: 90 min, on_air: ["01:15", "05:00"]'
    assert outing_of.facts(outing_of.plan("denver", "2026-11-01", schedule))["schedule.set_up_spare"] == 0


@pytest.mark.parametrize("name", ["no time to pack up", "a slot that ends before it begins", "skipped"])
def test_where_the_zone_is_stated_no_rule_has_to_ask(outing_of: Outing, name: str) -> None:
    place, date, schedule, text = CASES[name]
    zone = {"berlin": "Europe/Berlin", "denver": "America/Denver"}[place]
    said = outing_of.complaint(outing_of.plan(None, date, f"{schedule}, zone: {zone}"), "trip.date")
    what, line = text.splitlines()[:2]
    assert said.splitlines()[0] == what.replace("trip.yaml:5:", "trip.yaml:4:")
    assert said.splitlines()[1] == f"{line[:-1]}, zone: {zone}}}"


def test_the_time_to_turn_back_is_checked_too(outing_of: Outing) -> None:
    plan = outing_of.plan("denver", "2026-03-08", 'arrive: "01:00", leave: "05:00"', 'travel: {turn_back: "02:10"}')
    assert (
        outing_of.complaint(plan, "travel.turn_back_at")
        == """\
trip.yaml:6:21: 02:10 does not exist on 2026-03-08: the clocks of America/Denver go from 02:00 to 03:00
    | travel: {turn_back: "02:10"}
    = Write a time before or after the change, or write the time in UTC with a Z at its end."""
    )


@pytest.mark.parametrize(
    ("zone", "advice"),
    [
        ("America/Devner", 'Did you mean "America/Denver"? Write a name of the IANA time zone database, such as '
                           "America/Denver or Europe/Paris."),
        ("Moonbase", "Write a name of the IANA time zone database, such as America/Denver or Europe/Paris."),
    ],
)  # fmt: skip
def test_a_zone_that_is_none_is_refused_even_if_no_rule_asks_a_time(outing_of: Outing, zone: str, advice: str) -> None:
    plan = outing_of.plan("denver", "2026-06-27", f'arrive: "10:00", zone: {zone}')
    assert outing_of.complaint(plan, "trip.date") == (
        f'trip.yaml:5:35: {zone} is no time zone\n    | schedule: {{arrive: "10:00", zone: {zone}}}\n    = {advice}'
    )


def test_a_pass_that_is_none_is_refused_by_the_schema(outing_of: Outing) -> None:
    plan = outing_of.plan("denver", "2026-06-27", 'arrive: "10:00", repeated_hour: third')
    said = outing_of.complaint(plan, "trip.date")
    assert said.startswith('trip.yaml:5:44: "third" is not a choice for pass of the repeated hour')


@pytest.mark.parametrize("length", ["20", "-5 min", "25 h", "20 m"])
def test_a_duration_needs_its_unit_and_bounds(outing_of: Outing, length: str) -> None:
    plan = outing_of.plan("denver", "2026-06-27", f'arrive: "10:00", set_up: {length}')
    assert outing_of.complaint(plan, "trip.date").startswith("trip.yaml:5:37: ")
