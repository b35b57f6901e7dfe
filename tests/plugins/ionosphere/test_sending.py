"""What is sent in each hour: by its slot, else by the schedule, else by what is assumed, and that is said."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from afield.plugins.ionosphere.sending import Sending, Sent

NOON = datetime(2026, 6, 27, 12, tzinfo=UTC)


def slot(name: str, start_h: float, hours: float, mode: str | None, power_w: float | None) -> dict[str, Any]:
    start = NOON + timedelta(hours=start_h)
    ends = {"from": start.isoformat(), "to": (start + timedelta(hours=hours)).isoformat()}
    return {"name": name, **ends, "mode": mode, "power_w": power_w}


EARLY, LATE = slot("early", 1, 1, "CW", 100), slot("late", 3, 1.5, "SSB", 5)


def sent(
    slots: list[dict[str, Any]], mode: str | None = None, power_w: float | None = None
) -> tuple[list[Sent], list[str]]:
    """What is sent from 12 to 18, hour by hour, and what is said of it."""
    sending = Sending(slots, mode, power_w)
    return sending.of_hours([NOON + timedelta(hours=hour) for hour in range(6)]), sending.notes


def test_a_slot_has_its_own_and_the_schedule_what_lies_outside() -> None:
    found, notes = sent([EARLY, LATE], "FT8", 20)
    own = [Sent(20, "digital"), Sent(100, "CW"), Sent(20, "digital"), Sent(5, "SSB"), Sent(5, "SSB")]
    assert found == [*own, Sent(20, "digital")]
    assert notes == []


def test_where_the_schedule_is_silent_the_nearest_slot_counts() -> None:
    found, notes = sent([EARLY, LATE])
    assert found == [Sent(100, "CW"), Sent(100, "CW"), Sent(100, "CW"), Sent(5, "SSB"), Sent(5, "SSB"), Sent(5, "SSB")]
    assert notes == []


def test_a_slot_takes_from_the_schedule_what_it_does_not_state() -> None:
    assert sent([slot("late", 0, 6, None, 5)], "USB", 20)[0] == [Sent(5, "SSB")] * 6


def test_of_two_in_one_hour_the_one_that_reaches_less_far_is_taken() -> None:
    # 20 dBW less 27 dBHz for the one, 7 dBW less 40 dBHz for the other.
    found, notes = sent([slot("one", 0, 0.5, "CW", 100), slot("two", 0.5, 5.5, "SSB", 5)])
    assert found[0] == Sent(5, "SSB")
    assert notes == ["In an hour with two of them, the one that reaches less far is taken."]


@pytest.mark.parametrize(
    ("slots", "mode", "power_w", "all_hours", "notes"),
    [
        ([], None, None, Sent(10, "CW"),
         ["The power is not stated: 10 W is taken.", "The mode is not stated: CW is taken."]),
        ([], "digital", 5, Sent(5, "digital"), []),
        ([], "rtty", 5, Sent(5, "SSB"), ["What rtty needs is not known: SSB, which needs most, is taken."]),
        ([], "CW", 0, Sent(10, "CW"),
         ["The power is stated as 0 W, nothing is sent: 10 W is taken, as of a station that may be heard."]),
        ([slot("late", 0, 6, "CW", None)], None, None, Sent(10, "CW"),
         ["The power of slot late is not stated: 10 W is taken."]),
        ([slot("late", 0, 6, "CW", 0)], None, 20, Sent(10, "CW"),
         ["The power of slot late is stated as 0 W, nothing is sent: 10 W is taken, as of a station that may be "
          "heard."]),
    ],
)  # fmt: skip
def test_what_is_assumed_is_said_once(
    slots: list[dict[str, Any]], mode: str | None, power_w: float | None, all_hours: Sent, notes: list[str]
) -> None:
    assert sent(slots, mode, power_w) == ([all_hours] * 6, notes)
