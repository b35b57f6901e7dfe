from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.timing.changes import clock_changes
from afield.plugins.timing.computations.clock import (
    dates_between,
    elapsed_time,
    local_time_validity,
    local_to_utc,
    passes,
    utc_dates_touched,
    utc_to_local,
)
from afield.plugins.timing.computations.zone_files import zone_names, zone_of

ZONES = st.sampled_from(sorted(zone_names()))
LOCALS = st.datetimes(datetime(1990, 1, 1), datetime(2037, 12, 31)).map(lambda at: at.replace(second=0, microsecond=0))


@given(ZONES, LOCALS)
def test_every_pass_shows_the_time_and_no_other_instant_does(zone: str, local: datetime) -> None:
    clock = zone_of(zone)
    found = passes(local, clock)
    around = local.replace(tzinfo=UTC)
    minutes = [around + timedelta(minutes=minute) for minute in range(-15 * 60, 15 * 60 + 1, 15)]
    shown = {at for at in minutes if at.astimezone(clock).replace(tzinfo=None) == local}
    assert len(found) <= 2
    assert all(at.astimezone(clock).replace(tzinfo=None) == local for at in found)
    assert shown <= set(found)


@given(ZONES, st.datetimes(datetime(1990, 1, 1), datetime(2037, 12, 31), timezones=st.just(UTC)))
def test_local_time_and_back_is_the_same_instant(zone: str, at: datetime) -> None:
    at = at.replace(microsecond=0)
    local = at.astimezone(zone_of(zone)).replace(tzinfo=None)
    assert at in passes(local, zone_of(zone))


def test_a_repeated_hour_must_say_which_pass_is_meant() -> None:
    with pytest.raises(ValueError, match="the clocks of America/Denver show 01:30 twice on 2026-11-01: say which is"):
        local_to_utc("America/Denver", "2026-11-01T01:30")
    first, second = (local_to_utc("America/Denver", "2026-11-01T01:30", which).utc for which in ("first", "second"))
    assert (first, second) == ("2026-11-01T07:30:00Z", "2026-11-01T08:30:00Z")
    with pytest.raises(ValueError, match="the pass third is neither first nor second"):
        local_to_utc("America/Denver", "2026-11-01T01:30", "third")


def test_a_skipped_hour_and_a_skipped_day_are_refused() -> None:
    with pytest.raises(ValueError, match="the clocks of America/Denver skip 02:30 on 2026-03-08"):
        local_to_utc("America/Denver", "2026-03-08T02:30")
    with pytest.raises(ValueError, match="the clocks of Pacific/Apia skip 12:00 on 2011-12-30"):
        local_to_utc("Pacific/Apia", "2011-12-30T12:00")


def test_a_local_time_with_a_zone_of_its_own_is_refused() -> None:
    with pytest.raises(ValueError, match=r"has a zone of its own: write local time without one"):
        local_to_utc("America/Denver", "2026-03-08T02:30Z")


def test_half_an_hour_of_summer_time() -> None:
    found = local_time_validity("Australia/Lord_Howe", ["2026-10-04T02:15", "2026-04-05T01:45", "2026-04-05T02:15"])
    assert found.classes == ["nonexistent", "ambiguous", "valid"]
    assert len(found.utc_of_ambiguous) == 2


def test_hours_pass_that_the_clock_does_not_show() -> None:
    assert elapsed_time("America/Denver", "2026-10-31T23:30", "2026-11-01T03:30") == 5
    assert elapsed_time("America/Denver", "2026-03-07T23:30", "2026-03-08T03:30") == 3
    assert elapsed_time("America/Phoenix", "2026-03-07T23:30", "2026-03-08T03:30") == 4


def test_local_time_is_written_with_its_offset() -> None:
    assert utc_to_local("Asia/Kathmandu", "2026-11-20T00:00Z") == "2026-11-20T05:45:00+0545"


def test_a_stay_that_ends_at_midnight_does_not_touch_the_next_utc_day() -> None:
    found = utc_dates_touched("America/Los_Angeles", "2026-06-27T14:00", "2026-06-27T17:00")
    assert found == (["2026-06-27"], None)
    assert utc_dates_touched("America/Los_Angeles", "2026-06-27T17:00", "2026-06-27T17:00").utc_dates == ["2026-06-28"]
    with pytest.raises(ValueError, match="2026-06-27T14:00 is before 2026-06-27T17:00"):
        utc_dates_touched("America/Los_Angeles", "2026-06-27T17:00", "2026-06-27T14:00")


@given(
    st.datetimes(datetime(2020, 1, 1), datetime(2030, 1, 1), timezones=st.just(UTC)),
    st.timedeltas(timedelta(0), timedelta(days=3)),
)
def test_each_instant_of_a_stay_falls_on_one_of_its_dates(start: datetime, length: timedelta) -> None:
    days = dates_between(start, start + length)
    assert all((start + length * share).date() in days for share in (0, 0.25, 0.5, 0.75))
    assert days == sorted(set(days))


@given(ZONES, st.datetimes(datetime(1995, 1, 1), datetime(2036, 1, 1), timezones=st.just(UTC)))
def test_changes_of_the_clocks_add_up(zone: str, start: datetime) -> None:
    clock, end = zone_of(zone), start + timedelta(days=20)
    moved = sum(change.by_min for change in clock_changes(clock, start, end))
    offsets = [at.astimezone(clock).utcoffset() or timedelta(0) for at in (start, end)]
    assert moved == (offsets[1] - offsets[0]).total_seconds() / 60
