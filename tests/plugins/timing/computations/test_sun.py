"""The sun against a second library (skyfield with the ephemeris DE421) and against a printed almanac."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import cache
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from afield.plugins.timing.computations.calendar import jd_of
from afield.plugins.timing.computations.sun import (
    elevation_deg,
    equation_of_time,
    solar_apparent_equatorial,
    sun_position,
)
from afield.plugins.timing.computations.sun_events import (
    HORIZON_DEG,
    LEVELS,
    crossings,
    named_events,
    sun_events_in_utc_window,
    sunrise_sunset,
    transit_near,
    twilight_events,
)

PLACES = st.tuples(st.floats(-89, 89), st.floats(-180, 180))
INSTANTS = st.datetimes(datetime(1990, 1, 1), datetime(2049, 1, 1), timezones=st.just(UTC)).map(
    lambda at: at.replace(microsecond=0)
)
MINUTE = timedelta(minutes=1)


@cache
def sky() -> tuple[Any, Any, Any]:
    """The other library's time scale, Earth and sun."""
    import skyfield_data
    from skyfield.api import Loader

    # The package's own warnings are of tables of the Earth's turning, which are built into the library too.
    load = Loader(Path(skyfield_data.__file__).parent / "data", verbose=False)
    bodies = load("de421.bsp")
    return load.timescale(builtin=True), bodies["earth"], bodies["sun"]


def other_elevations(lat: float, lon: float, times: list[datetime]) -> list[float]:
    """True elevations of the sun's centre by the other library, degrees."""
    from skyfield.api import wgs84

    scale, earth, sun = sky()
    seen = (earth + wgs84.latlon(lat, lon)).at(scale.from_datetimes(times)).observe(sun).apparent()
    return [float(degrees) for degrees in seen.altaz()[0].degrees]


@settings(max_examples=40)
@given(PLACES, INSTANTS)
def test_the_elevation_is_that_of_another_library(place: tuple[float, float], at: datetime) -> None:
    (other,) = other_elevations(*place, [at])
    assert elevation_deg(*place, jd_of(at)) == pytest.approx(other, abs=0.01)


@settings(max_examples=25)
@given(st.tuples(st.floats(-89, 89), st.floats(-180, 180)), INSTANTS, st.sampled_from(sorted(LEVELS)))
def test_events_are_within_a_minute_of_another_library(place: tuple[float, float], start: datetime, level: str) -> None:
    """A minute before each event the other library has the sun on one side of the level, a minute after on the other.

    Only where the sun moves steeply enough for a minute to tell: near the poles it may creep along the horizon.
    """
    height = LEVELS[level]
    for event in crossings(*place, start, start + timedelta(days=1), height):
        before, after = other_elevations(*place, [event.at - MINUTE, event.at + MINUTE])
        if abs(after - before) > 0.02:
            assert (before < height < after) if event.rising else (before > height > after)


@settings(max_examples=25)
@given(PLACES, INSTANTS, st.sampled_from(sorted(LEVELS)))
def test_no_event_is_missed(place: tuple[float, float], start: datetime, level: str) -> None:
    """Between events the sun is on the side of the level on which the other library has it, all day long."""
    height = LEVELS[level]
    found = crossings(*place, start, start + timedelta(days=1), height)
    times = [start + timedelta(minutes=5 * step) for step in range(289)]
    above = elevation_deg(*place, jd_of(start)) >= height
    for at, other in zip(times, other_elevations(*place, times), strict=True):
        crossed = sum(event.at <= at for event in found)
        if abs(other - height) > 0.02:
            assert (other > height) == (above != bool(crossed % 2))


def usno_2007() -> dict[date, tuple[str, str]]:
    """Sunrise and sunset at Atlanta for each day of 2007 as the U.S. Naval Observatory printed them, UTC-5."""
    text = files("ephem").joinpath("tests", "usno", "riset_sun.txt").read_text(encoding="ascii")
    rows = [line for line in text.splitlines() if line[:2].isdigit()]
    found = {}
    for row in rows:
        for month in range(12):
            cell = row[4 + 11 * month : 13 + 11 * month].split()
            if cell:
                found[date(2007, month + 1, int(row[:2]))] = (cell[0], cell[1])
    return found


def minutes_of(clock: str) -> int:
    digits = clock.replace(":", "")
    return int(digits[:2]) * 60 + int(digits[2:])


def test_all_of_a_printed_almanac_is_met_within_a_minute() -> None:
    table = usno_2007()
    assert len(table) == 365
    for day, printed in table.items():
        found = sunrise_sunset(33 + 46 / 60, -(84 + 25 / 60), day.isoformat(), -5)
        for ours, theirs in zip(found, printed, strict=True):
            assert ours is not None
            assert abs(minutes_of(ours) - minutes_of(theirs)) <= 1, (day, ours, theirs)


def test_the_sunset_is_that_of_the_local_evening() -> None:
    """West of Greenwich the sunset within a UTC date is that of the evening before: 19:13:58, not 19:12:53."""
    evening = crossings(39.742476, -105.1786, at("2015-08-02T07:00Z"), at("2015-08-03T07:00Z"), HORIZON_DEG)
    assert [f"{event.at - timedelta(hours=7):%d %H:%M}" for event in evening if not event.rising] == ["02 19:12"]


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


def lowest(lat: float, start: datetime) -> float:
    """The least elevation of the hour that follows, degrees."""
    return min(elevation_deg(lat, 20.0, jd_of(start + timedelta(seconds=20 * step))) for step in range(180))


def latitude_of_dip(depth_deg: float, start: datetime) -> float:
    """Where the sun of the hour dips that far under the horizon."""
    low, high = 65.0, 67.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if lowest(middle, start) < HORIZON_DEG - depth_deg else (low, middle)
    return low


@pytest.mark.parametrize("shift", range(10))
def test_a_sun_that_sets_for_three_minutes_is_not_missed(shift: int) -> None:
    """At the edge of polar day, wherever the samples, ten minutes apart, happen to lie."""
    lat = latitude_of_dip(0.0005, at("2026-06-21T22:10Z"))
    start = at("2026-06-21T18:00Z") + timedelta(minutes=shift)
    down, up = crossings(lat, 20.0, start, start + timedelta(hours=10), HORIZON_DEG)
    assert (down.rising, up.rising) == (False, True)
    assert timedelta(minutes=2) < up.at - down.at < timedelta(minutes=4)
    assert not crossings(lat + 0.01, 20.0, start, start + timedelta(hours=10), HORIZON_DEG)


def test_polar_day_and_night_have_no_events() -> None:
    for day, lat in (("2026-06-21", 78.0), ("2026-12-21", 78.0), ("2026-12-21", -78.0)):
        assert sunrise_sunset(lat, 15.0, day, 1) == (None, None)


@given(PLACES, INSTANTS)
def test_the_events_of_a_day_come_in_turn(place: tuple[float, float], start: datetime) -> None:
    for level in LEVELS.values():
        found = crossings(*place, start, start + timedelta(days=2), level)
        assert all(one.rising != other.rising and one.at < other.at for one, other in pairwise(found))


@given(st.floats(-60, 60), st.floats(-180, 180), INSTANTS)
def test_the_sun_is_highest_at_its_transit(lat: float, lon: float, near: datetime) -> None:
    transit = transit_near(lon, near)
    assert abs(transit - near) <= timedelta(hours=12, minutes=1)
    ten = timedelta(minutes=10)
    heights = [elevation_deg(lat, lon, jd_of(transit + shift)) for shift in (-ten, timedelta(0), ten)]
    assert heights[1] >= max(heights[0], heights[2]) or abs(heights[0] - heights[2]) < 0.2


@given(INSTANTS)
def test_the_short_theory_is_good_to_a_hundredth_of_a_degree(when: datetime) -> None:
    import ephem

    seen = ephem.Sun(ephem.Date(when.replace(tzinfo=None)))
    sun = solar_apparent_equatorial(jd_of(when) + 65 / 86400)
    assert sun.dec_deg == pytest.approx(float(seen.g_dec) * 57.29577951308232, abs=0.01)
    difference = sun.ra_deg - float(seen.g_ra) * 57.29577951308232
    assert (difference + 180) % 360 - 180 == pytest.approx(0, abs=0.011)


@given(INSTANTS)
def test_a_sundial_is_never_a_quarter_and_two_minutes_out(when: datetime) -> None:
    assert -14.5 < equation_of_time(jd_of(when)) < 16.7


def test_what_is_outside_is_refused() -> None:
    with pytest.raises(ValueError, match="is outside the years 1950 to 2050"):
        solar_apparent_equatorial(2500000.0)
    with pytest.raises(ValueError, match="2060-01-01T00:00Z is outside the years 1950 to 2050"):
        sun_position(0, 0, "2060-01-01T00:00Z")
    with pytest.raises(ValueError, match="the latitude 91 is outside -90 to 90"):
        sun_position(91, 0, "2026-01-01T00:00Z")
    with pytest.raises(ValueError, match="the latitude -91 is outside -90 to 90"):
        sunrise_sunset(-91, 0, "2026-01-01", 0)
    with pytest.raises(ValueError, match=r"2026-01-02T00:00Z to 2026-01-01T00:00Z is no window of up to 31 days"):
        sun_events_in_utc_window(0, 0, "2026-01-02T00:00Z", "2026-01-01T00:00Z")
    with pytest.raises(ValueError, match="does not say its zone"):
        twilight_events(0, 0, "2026-01-01T00:00", "2026-01-02T00:00Z")


def test_events_have_names_in_their_order() -> None:
    found = named_events(39.9, -117.3, at("2026-06-27T07:00Z"), at("2026-06-28T07:00Z"))
    names = ["astronomical dawn", "nautical dawn", "civil dawn", "sunrise", "sunset", "civil dusk", "nautical dusk"]
    assert [name for _, name in found] == [*names, "astronomical dusk"]
