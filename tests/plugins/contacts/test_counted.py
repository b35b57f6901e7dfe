"""The time that counts for one claim: by operator, station call or party, for one reference or all claimed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.api import CannotTell
from afield.plugins.contacts.counted import Shares, Span, counted, on_utc_day, spans_of

NOON = datetime(2026, 6, 27, 12, tzinfo=UTC)


def span(start_h: float, hours: float, who: str | None = None) -> Span:
    start = NOON + timedelta(hours=start_h)
    return start, start + timedelta(hours=hours), who


def shares(counted_for: str | None = None, counts_for: str | None = None, who: str = "", claimed: int = 1) -> Shares:
    return Shares(counted_for, counts_for, who.split(), claimed)


@pytest.mark.parametrize(
    ("spans", "given_shares", "minutes", "who"),
    [
        ([span(0, 2)], shares(), 120, "station call"),
        ([span(0, 2)], shares("party"), 120, "party"),
        # Two stations on the air at once make contacts both.
        ([span(0, 2, "ann"), span(1, 2, "bob")], shares("party"), 240, "party"),
        ([span(0, 2)], shares("operator", who="ann"), 120, "ann"),
        ([span(0, 2)], shares("operator"), 120, "operator"),
        ([span(0, 2)], shares("operator", who="ann bob"), 60, "each operator"),
        ([span(0, 2, "ann"), span(2, 1, "bob"), span(3, 0.5, "bob")], shares("operator", who="ann bob"), 90, "bob"),
        ([span(0, 2)], shares("party", "one reference", claimed=3), 40, "party"),
        ([span(0, 2)], shares("party", "one reference", claimed=1), 120, "party"),
        ([span(0, 2)], shares("party", "all claimed", claimed=3), 120, "party"),
        ([], shares("operator", who="ann bob"), 0, "each operator"),
    ],
)
def test_the_time_that_counts(spans: list[Span], given_shares: Shares, minutes: float, who: str) -> None:
    found = counted(spans, given_shares)
    assert (found.minutes, found.who) == (minutes, who)


def test_what_the_time_rests_on_is_said() -> None:
    found = counted([span(0, 2)], shares("operator", "one reference", "ann bob", 2))
    assert found.basis == (
        'all time on the air, divided equally among the operators "ann", "bob", divided equally among 2 references'
    )
    assert counted([span(0, 2, "ann")], shares("operator", who="ann bob")).basis == "the slots of operator ann"


def test_of_several_operators_the_one_with_the_least_time_is_said_to_be_that() -> None:
    spans = [span(0, 2, "ann"), span(2, 1, "bob"), span(3, 20, "cyd")]
    assert counted(spans, shares("operator", who="ann bob cyd")).basis == (
        "the slots of operator bob, 60 min, who has the least (ann 120 min, cyd 1,200 min)"
    )


@pytest.mark.parametrize(
    ("spans", "given_shares", "spent"),
    [
        ([span(0, 2)], shares("operator", who="ann bob"), 120),
        ([span(0, 2)], shares("party", "one reference", claimed=3), 120),
        ([span(0, 2)], shares(), 120),
        ([span(0, 2, "ann"), span(2, 1, "bob")], shares("operator", who="ann bob"), None),
    ],
)
def test_the_time_before_it_is_divided_is_known(spans: list[Span], given_shares: Shares, spent: float | None) -> None:
    assert counted(spans, given_shares).spent == spent


def test_slots_of_which_some_name_their_operator_leave_it_open() -> None:
    with pytest.raises(CannotTell) as silent:
        counted([span(0, 2, "ann"), span(2, 1)], shares("operator", who="ann bob"))
    assert silent.value.reason.text == "some slots name their operator and others do not"
    assert silent.value.reason.settle == "schedule.slots[].operator"


def test_no_time_on_the_air_is_not_no_contacts() -> None:
    with pytest.raises(CannotTell) as silent:
        spans_of({"slots": [], "on_air": []})
    assert silent.value.reason.text == "the time on the air is not stated"


def test_slots_stand_for_the_time_on_the_air() -> None:
    on_air = [["2026-06-27T12:00:00Z", "2026-06-27T14:00:00Z"]]
    slot = {"from": on_air[0][0], "to": on_air[0][1], "operator": "ann"}
    assert spans_of({"slots": [], "on_air": on_air}) == [span(0, 2)]
    assert spans_of({"slots": [slot], "on_air": on_air}) == [span(0, 2, "ann")]


@given(st.lists(st.tuples(st.floats(-30, 30), st.floats(0.1, 20)), min_size=1, max_size=4))
def test_the_utc_days_share_the_whole_time(ends: list[tuple[float, float]]) -> None:
    spans = [span(start, hours) for start, hours in ends]
    days = [(NOON + timedelta(days=shift)).date().isoformat() for shift in range(-3, 4)]
    parts = [counted(on_utc_day(spans, day), shares()).minutes for day in days]
    assert sum(parts) == pytest.approx(counted(spans, shares()).minutes)
