from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.timing.computations.calendar import day_of_year, jd_of, julian_day, season_start
from afield.plugins.timing.computations.sun import solar_apparent_equatorial


@given(st.dates(date(1583, 1, 1), date(2999, 12, 30)))
def test_the_next_day_has_the_next_number(day: date) -> None:
    following = day + timedelta(days=1)
    assert julian_day(following.isoformat()) == julian_day(day.isoformat()) + 1


@given(st.datetimes(datetime(1900, 1, 1), datetime(2100, 1, 1)))
def test_the_day_of_an_instant_is_that_of_its_text(at: datetime) -> None:
    at = at.replace(microsecond=0)
    assert jd_of(at.replace(tzinfo=UTC)) == pytest.approx(julian_day(at.isoformat()), abs=1e-8)


@pytest.mark.parametrize("text", ["tomorrow", "2026-13-01", "2026-00-10", "2026-01-32"])
def test_what_is_no_date_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is no date"):
        julian_day(text)


def test_the_julian_calendar_is_refused() -> None:
    with pytest.raises(ValueError, match="1582-10-14 is before the Gregorian calendar"):
        julian_day("1582-10-14")


@pytest.mark.parametrize(("day", "number"), [("2024-12-31", 366), ("2026-12-31", 365), ("2024-03-01", 61)])
def test_leap_years_have_one_day_more(day: str, number: int) -> None:
    assert day_of_year(day) == number


@given(st.integers(1951, 2050))
def test_the_sun_stands_at_the_quarters_of_its_way_when_seasons_begin(year: int) -> None:
    for begins, longitude in zip(season_start(year), (0, 90, 180, 270), strict=True):
        sun = solar_apparent_equatorial(julian_day(begins.removesuffix("Z")) + 69 / 86400)
        # A day of the sun's way is 0.9856 degrees; 0.02 degrees are half an hour.
        assert (sun.apparent_longitude_deg - longitude + 180) % 360 - 180 == pytest.approx(0, abs=0.02)


def test_a_year_beyond_the_theory_is_refused() -> None:
    with pytest.raises(ValueError, match="the year 2051 is outside 1951 to 2050"):
        season_start(2051)
