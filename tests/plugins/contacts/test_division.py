"""The best division across 00:00 UTC: by the clock, beside the plan, and beside one UTC day alone."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.contacts.computations.counts import prob_at_least_negative_binomial
from afield.plugins.contacts.counted import Counted
from afield.plugins.contacts.division import Room, division_of
from afield.plugins.contacts.section_words import division_words
from afield.plugins.contacts.zones import zone_of

RATE = {"per_h": 20.0, "dispersion_k": 2.0}


def instants(arrive: str | None, leave: str | None, on_air: list[list[str]] | None = None) -> dict[str, Any]:
    """Of the night from 11 to 12 July 2026 in Berlin, times in UTC."""
    stated = [at for at in (arrive, leave, "11T21:30", "12T01:00") if at]
    return {
        "zone": "Europe/Berlin", "arrive": _at(arrive), "leave": _at(leave), "start": _at(min(stated)),
        "end": _at(max(stated)), "on_air": [[_at(end) for end in span] for span in on_air or []],
    }  # fmt: skip


def _at(text: str | None) -> Any:
    return text and f"2026-07-{text}:00+00:00"


def told(counted: Counted, room: Room, wanted: int = 5) -> list[str]:
    return list(division_words(division_of(counted, RATE, wanted, room)))


def test_times_by_the_clock_beside_the_plan_and_one_day_alone() -> None:
    room = Room(instants("11T20:30", "12T01:45"), 40, 30)
    found = division_of(Counted(210, "party", "all time on the air", 210), RATE, 5, room)
    assert (found["minutes_before"], found["minutes_after"]) == (105, 105)
    # 20 an hour for 105 min are 35, with k of 2: fewer than five have the chance (2 / 37)^2 (1 + 2 q + 3 q^2 + 4 q^3 +
    # 5 q^4) with q = 35 / 37, that is 0.0379; of both days 0.962^2. For 210 min, with 72 and 70: 0.0107.
    assert found["chance_in_one"] == pytest.approx(prob_at_least_negative_binomial(70, 2.0, 5))
    assert found["chance_before"] == pytest.approx(prob_at_least_negative_binomial(35, 2.0, 5))
    assert list(division_words(found)) == [
        "To make it on both UTC days with the same time: 105 min before 00:00 UTC and 105 min after it, with chances "
        "of 96 % and 96 %, of both 93 %.",
        "That is on the air, without a pause, from 00:15 (12 July) to 03:45 (12 July) local time (22:15Z to 01:45Z).",
        "It does not fit the plan: setting up ends at 23:10 (21:10Z) and packing up has to begin at 03:15 (12 July) "
        "(01:15Z).",
        "All of it in one UTC day would give that day 99 %, and the other no contact.",
    ]


@pytest.mark.parametrize(
    ("arrive", "leave", "set_up", "pack_up", "words"),
    [
        ("11T20:30", "12T02:15", 40, 30, "It fits the plan: setting up ends at 23:10 (21:10Z) and packing up has to "
         "begin at 03:45 (12 July) (01:45Z)."),
        ("11T20:30", "12T02:14", 40, 30, "It does not fit the plan: setting up ends at 23:10 (21:10Z) and packing up "
         "has to begin at 03:44 (12 July) (01:44Z)."),
        ("11T22:15", "12T01:45", None, None, "It fits the plan: the arrival is at 00:15 (12 July) (22:15Z) and the "
         "departure is at 03:45 (12 July) (01:45Z)."),
        ("11T22:16", None, None, None, "It does not fit the plan: the arrival is at 00:16 (12 July) (22:16Z)."),
    ],
)  # fmt: skip
def test_whether_it_fits_is_said_to_the_minute(
    arrive: str, leave: str | None, set_up: float | None, pack_up: float | None, words: str
) -> None:
    found = told(Counted(210, "party", "all", 210), Room(instants(arrive, leave), set_up, pack_up))
    # The outing begins at 23:30, or before; from another day on the dates would be others.
    assert found[2] == words


def test_what_the_plan_has_is_said_to_be_that() -> None:
    planned = [["11T22:15", "12T01:45"]]
    found = told(Counted(210, "party", "all", 210), Room(instants("11T20:30", "12T02:30", planned), None, None))
    assert found[2] == "That is the time on the air as planned."


def test_a_divided_time_takes_longer_by_the_clock() -> None:
    # 105 min each of two operators are 210 min on the air: 104 of them, or 106, before 00:00 UTC.
    found = division_of(
        Counted(105, "each", "shared", 210), RATE, 5, Room(instants("11T20:30", "12T02:30"), None, None)
    )
    assert found["minutes_before"] + found["minutes_after"] == 105
    clock = found["clock"]
    assert (clock["from"]["utc"], clock["to"]["utc"]) in (("22:16Z", "01:46Z"), ("22:14Z", "01:44Z"))


def test_without_a_midnight_or_for_one_operator_s_slots_there_are_no_times() -> None:
    night, early = instants("11T20:30", "12T02:30"), instants("11T20:30", "11T23:30")
    early["end"] = _at("11T23:30")
    for counted, of in (
        (Counted(100, "bert", "the slots of operator bert"), night),
        (Counted(100, "x", "all", 100), early),
    ):
        found = told(counted, Room(of, None, None))
        assert len(found) == 2
        assert found[1].startswith("All of it in one UTC day would give that day ")


def test_the_zone_is_that_of_the_package() -> None:
    assert zone_of("America/Los_Angeles").key == "America/Los_Angeles"
