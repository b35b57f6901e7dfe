"""The schedule in hours after the arrival, and the whole text of every complaint about one."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import InputError
from afield.core.engine import Engine, load
from afield.core.host.loading import PluginInfo, new_host
from afield.plugins.outing import plugin as outing
from afield.plugins.outing.clocks import DAY, clock_of, unwrapped


class Plans:
    """Plans in a folder, read with the plugin alone."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        host = new_host()
        host.add(outing, PluginInfo("outing", "afield", "0.1.0"))
        self.engine = Engine(host)

    def record(self, more: str) -> Any:
        """The record of the timeline of a plan with these lines."""
        path = self.folder / "trip.yaml"
        path.write_text(f"trip: A day out\ndate: 2026-06-27\n{more}\npacks: [gear]\n", encoding="utf-8")
        record = load(path, self.engine).world.value("trip", "schedule.timeline")
        assert self.engine.failures() == []
        return record

    def complaint(self, more: str) -> str:
        """All that is said of a wrong schedule, without the file's folder."""
        with pytest.raises(InputError) as refused:
            self.record(more)
        return refused.value.text(verbose=True).replace(f"{self.folder}/", "")

    def silence(self, more: str) -> tuple[str, str | None, str]:
        """Why it cannot be told, what would settle it, and the reason's code."""
        reason = self.record(more).reason
        return reason.text, reason.settle, reason.code


@pytest.fixture
def plans(tmp_path: Path) -> Plans:
    return Plans(tmp_path)


EVENING = 'schedule: {arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15"}'


def test_hours_after_the_arrival(plans: Plans) -> None:
    found = plans.record(EVENING).value
    assert found == {
        "arrive_h": 0.0, "leave_h": 6.5, "clock": {"arrive": "14:45", "leave": "21:15"}, "on_air": [[0.75, 5.75]],
        "slots": [
            {
                "name": "on air", "from_h": 0.75, "to_h": 5.75, "mode": None, "band": None, "frequency_mhz": None,
                "power_w": None, "transmit_share": None, "transmit_share_around": None, "operator": None,
            }
        ],
    }  # fmt: skip


def test_what_the_schedule_states_holds_where_a_slot_does_not_say_otherwise(plans: Plans) -> None:
    found = plans.record(
        'schedule: {on_air: ["15:00", "18:00"], mode: SSB, band: 20m, frequency: 14.2 MHz, power: 10 W, '
        "transmit_share: 30 %, slots: [{name: first, from: '15:00', to: '16:30'}, "
        "{name: second, from: '16:30', to: '18:00', mode: CW, power: 5 W, transmit_share: 45 %, operator: anna}]}"
    ).value
    first, second = found["slots"]
    assert (first["mode"], first["band"], first["frequency_mhz"], first["power_w"]) == ("SSB", "20m", 14.2, 10)
    assert (first["transmit_share"], first["transmit_share_around"], first["operator"]) == (0.3, 0.05, None)
    assert (second["mode"], second["band"], second["power_w"], second["operator"]) == ("CW", "20m", 5, "anna")
    assert (second["transmit_share"], second["from_h"], second["to_h"]) == (0.45, 1.5, 3.0)


def test_a_slot_on_another_band_has_not_the_frequency_of_the_schedule(plans: Plans) -> None:
    found = plans.record(
        'schedule: {on_air: ["15:00", "18:00"], band: 20m, frequency: 14.2 MHz, slots: [{name: evening, band: 40m}]}'
    )
    assert [(slot["band"], slot["frequency_mhz"]) for slot in found.value["slots"]] == [("40m", None)]


def test_without_arrival_and_departure_the_outing_is_the_time_on_the_air(plans: Plans) -> None:
    found = plans.record('schedule: {on_air: ["22:30Z", "03:30Z"]}').value
    assert (found["leave_h"], found["on_air"], found["clock"]) == (5, [[0, 5]], {"arrive": "22:30Z", "leave": "03:30Z"})


def test_the_only_slot_needs_no_times(plans: Plans) -> None:
    (slot,) = plans.record('schedule: {on_air: ["15:30", "20:30"], slots: [{name: evening, mode: CW}]}').value["slots"]
    assert (slot["from_h"], slot["to_h"], slot["mode"]) == (0, 5, "CW")


@pytest.mark.parametrize(
    ("more", "silence"),
    [
        ("", ("the time on the air is not stated", "schedule.on_air", "missing input")),
        ('schedule: {arrive: "14:45"}', ("the time on the air is not stated", "schedule.on_air", "missing input")),
        (
            'schedule: {arrive: "14:45", on_air: ["22:30Z", "03:30Z"]}',
            (
                "the schedule mixes local times with times in UTC (with a Z), and the time zone of "
                "the place is "
                "not known",
                "schedule",
                "missing input",
            ),
        ),
        (
            'schedule: {slots: [{name: a, from: "15:00", to: "16:00"}, {name: b}]}',
            ("slot b does not say its times", "schedule.slots[].from", "missing input"),
        ),
        ("schedule: {slots: [{name: b}]}", ("the time on the air is not stated", "schedule.on_air", "missing input")),
        (
            'schedule: {on_air: ["15:00", "18:00"], slots: [{name: a, from: "15:00", to: "16:00"}, {name: b}]}',
            ("slot b does not say its times", "schedule.slots[].from", "missing input"),
        ),
    ],
)  # fmt: skip
def test_what_is_not_stated_cannot_be_told(plans: Plans, more: str, silence: tuple[str, str, str]) -> None:
    assert plans.silence(more) == silence


ORDER = (
    "\n    = The times are arrive, on_air from and to, leave, in that order; over midnight they run on, but the "
    "whole must "
    "be shorter than 24 h."
)


WIDEN = (
    "\n    = Widen `on_air`, or shorten the slot. Without `on_air`, the time on the air is from the first slot's start "
    "to the last one's end."
)
BACKWARDS = (
    "\n    = Write the start in `from` and the end in `to`; over midnight a slot runs on, but not beyond the outing."
)
LEAVING = "\n    = Mend the slot's times, or `leave`."


@pytest.mark.parametrize(
    ("line", "complaint"),
    [
        (
            'schedule: {arrive: "14:45", on_air: ["14:00", "20:30"], leave: "21:15"}',
            "trip.yaml:3:38: the start on the air, 14:00, lies before the arrival, 14:45\n    | LINE" + ORDER,
        ),
        (
            'schedule: {arrive: "14:45", on_air: ["20:30", "15:30"], leave: "21:15"}',
            "trip.yaml:3:47: the end on the air, 15:30, lies before the start on the air, 20:30\n    | LINE" + ORDER,
        ),
        (
            'schedule: {arrive: "14:45", on_air: ["15:30", "20:30"], leave: "20:00"}',
            "trip.yaml:3:64: the departure, 20:00, lies before the end on the air, 20:30\n    | LINE" + ORDER,
        ),
        (
            'schedule: {arrive: "14:45", on_air: ["15:30", "20:30"], leave: "14:45"}',
            "trip.yaml:3:64: the outing begins and ends at 14:45\n    | LINE\n    = It must be shorter than 24 "
            "h: mend one "
            "of the two times.",
        ),
        (
            'schedule: {on_air: ["15:30", "15:30"]}',
            "trip.yaml:3:30: the time on the air begins and ends at 15:30\n    | LINE\n    = Write two times, "
            "the start "
            "first; an end after midnight is fine.",
        ),
        (
            'schedule: {on_air: ["15:30", "20:30"], slots: [{name: late, from: "20:00", to: "21:00"}]}',
            "trip.yaml:3:80: slot late, 20:00 to 21:00, reaches outside the time on the air, 15:30 to 20:30"
            "\n    | LINE" + WIDEN,
        ),
        (
            'schedule: {on_air: ["15:30", "20:30"], slots: [{name: early, from: "15:00", to: "16:00"}]}',
            "trip.yaml:3:68: slot early, 15:00 to 16:00, reaches outside the time on the air, 15:30 to 20:30"
            "\n    | LINE" + WIDEN,
        ),
        (
            'schedule: {on_air: ["15:30", "20:30"], slots: [{name: long, from: "15:00", to: "21:00"}]}',
            "trip.yaml:3:67: slot long, 15:00 to 21:00, reaches outside the time on the air, 15:30 to 20:30"
            "\n    | LINE" + WIDEN,
        ),
        (
            'schedule: {on_air: ["15:30", "20:30"], slots: [{name: back, from: "20:00", to: "16:00"}]}',
            "trip.yaml:3:80: slot back ends at 16:00, before it begins, at 20:00\n    | LINE" + BACKWARDS,
        ),
        (
            'schedule: {arrive: "22:30", leave: "04:00", slots: [{name: soon, from: "22:00", to: "23:00"}]}',
            "trip.yaml:3:72: slot soon begins at 22:00, before the arrival, 22:30\n    | LINE\n    = Mend the slot's "
            "`from`, or `arrive`.",
        ),
        (
            'schedule: {arrive: "22:30", slots: [{name: soon, from: "22:00", to: "23:00"}]}',
            "trip.yaml:3:56: slot soon begins at 22:00, before the arrival, 22:30\n    | LINE\n    = Mend the slot's "
            "`from`, or `arrive`.",
        ),
        (
            'schedule: {arrive: "22:30", leave: "04:00", slots: [{name: back, from: "23:30", to: "23:00"}]}',
            "trip.yaml:3:85: slot back ends at 23:00, before it begins, at 23:30\n    | LINE" + BACKWARDS,
        ),
        (
            'schedule: {arrive: "22:30", leave: "04:00", slots: [{name: late, from: "03:00", to: "05:00"}]}',
            "trip.yaml:3:85: slot late, 03:00 to 05:00, reaches beyond the departure, 04:00\n    | LINE" + LEAVING,
        ),
        (
            'schedule: {arrive: "22:30", leave: "04:00", slots: [{name: late, from: "04:30", to: "05:00"}]}',
            "trip.yaml:3:72: slot late, 04:30 to 05:00, reaches beyond the departure, 04:00\n    | LINE" + LEAVING,
        ),
        (
            'schedule: {leave: "04:00", slots: [{name: b, from: "01:30", to: "03:30"}, '
            '{name: a, from: "22:30", to: "01:00"}]}',
            "trip.yaml:3:91: slot a begins at 22:30, before slot b, 01:30, the first that the plan lists\n    | LINE\n"
            "    = List the slots in their order, or state `arrive`.",
        ),
        (
            'schedule: {leave: "15:30", slots: [{name: a, from: "15:30", to: "16:00"}]}',
            "trip.yaml:3:19: the outing begins and ends at 15:30\n    | LINE\n    = It must be shorter than 24 h: mend "
            "one of the two times.",
        ),
        (
            'schedule: {on_air: ["15:30", "20:30"], slots: [{name: none, from: "16:00", to: "16:00"}]}',
            "trip.yaml:3:80: slot none begins and ends at 16:00\n    | LINE\n    = Write two times.",
        ),
        (
            'schedule: {on_air: ["15:30", "20:30"], slots: [{name: a, from: "16:00", to: "18:00"}, '
            '{name: b, from: "17:00", to: "19:00"}]}',
            "trip.yaml:3:103: slots a and b overlap, and nobody named is at both\n    | LINE\n    = Mend their "
            "times, or "
            "name the operator of each; the other is at trip.yaml:3:48.",
        ),
        (
            'schedule: {on_air: ["15:30","19:30"],slots: [{name: a,from: "16:00",to: "18:00",operator: x},'
            '{name: b,from: "17:00",to: "19:00",operator: x}]}',
            "trip.yaml:3:109: slots a and b overlap, and operator x is at both\n    | ... CUT\n    = Mend their "
            "times, or "
            "name the operator of each; the other is at trip.yaml:3:46.",
        ),
    ],
)  # fmt: skip
def test_a_schedule_that_contradicts_itself_is_refused(plans: Plans, line: str, complaint: str) -> None:
    assert plans.complaint(line) == complaint.replace("LINE", line).replace("CUT", line[2:])


PAUSED = '{name: a, from: "22:30", to: "01:00"}, {name: b, from: "01:30", to: "03:30"}'


@pytest.mark.parametrize(
    ("around", "on_air", "leave_h", "clock"),
    [
        ('arrive: "21:00", leave: "04:30", ', [1.5, 6.5], 7.5, ("21:00", "04:30")),
        ('arrive: "21:00", ', [1.5, 6.5], 6.5, ("21:00", "03:30")),
        ('leave: "04:30", ', [0, 5], 6, ("22:30", "04:30")),
        ("", [0, 5], 5, ("22:30", "03:30")),
    ],
)
def test_without_on_air_it_is_from_the_first_slot_to_the_last(
    plans: Plans, around: str, on_air: list[float], leave_h: float, clock: tuple[str, str]
) -> None:
    record = plans.record(f"schedule: {{{around}slots: [{PAUSED}]}}")
    found = record.value
    assert (found["on_air"], found["leave_h"], tuple(found["clock"].values())) == ([on_air], leave_h, clock)
    assert [slot["to_h"] - slot["from_h"] for slot in found["slots"]] == [2.5, 2]
    assert record.notes[-1] == (
        "The plan states no `on_air`: the time on the air is from the first slot's start to the last one's end."
    )


def test_a_slot_may_fill_the_time_on_the_air_to_the_minute(plans: Plans) -> None:
    # 5 h 20 min is no exact number of hours.
    found = plans.record('schedule: {arrive: "21:50", on_air: ["22:10", "03:10"], slots: [{name: a, from: "22:10", '
                         'to: "03:10"}]}').value  # fmt: skip
    assert found["on_air"] == [[found["slots"][0]["from_h"], found["slots"][0]["to_h"]]]


def test_slots_of_two_operators_may_overlap(plans: Plans) -> None:
    found = plans.record(
        'schedule: {on_air: ["15:30", "20:30"], slots: [{name: a, from: "16:00", to: "18:00", operator: anna}, '
        '{name: b, from: "17:00", to: "19:00", operator: ben}]}'
    )
    assert [slot["operator"] for slot in found.value["slots"]] == ["anna", "ben"]


times = st.integers(0, DAY - 1).map(lambda minute: clock_of(f"{minute // 60:02d}:{minute % 60:02d}"))


@given(st.lists(times, min_size=2, max_size=5))
def test_unwrapped_times_run_on_and_keep_their_time_of_day(clocks: list[Any]) -> None:
    passed = unwrapped(clocks)
    assert passed == sorted(passed)
    assert [(clocks[0].minute + minutes) % DAY for minutes in passed] == [clock.minute for clock in clocks]
    assert all(after - before < DAY for before, after in pairwise(passed))
