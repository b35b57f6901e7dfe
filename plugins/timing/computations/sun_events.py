"""When the sun crosses an elevation: sunrise, sunset and the twilights, searched for in a window of time.

The window is the reader's, a local day or the hours of an outing: the events of "a UTC date" are those of the wrong
evening west of Greenwich.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from afield.plugins.timing.computations.calendar import jd_of
from afield.plugins.timing.computations.sun import YEARS, elevation_deg, equation_of_time
from afield.plugins.timing.computations.zone_files import instant_of, iso

HORIZON_DEG = -0.8333
"""Upper limb on a level horizon: 34' of mean refraction and 16' of semidiameter (U.S. Naval Observatory, Rise, Set and
Twilight Definitions)."""
LEVELS = {"sunrise": HORIZON_DEG, "civil": -6.0, "nautical": -12.0, "astronomical": -18.0}
"""Elevation of the sun's centre, degrees, at each event (the same definitions)."""

DAWNS = {"sunrise": "sunrise", "civil": "civil dawn", "nautical": "nautical dawn", "astronomical": "astronomical dawn"}
DUSKS = {"sunrise": "sunset", "civil": "civil dusk", "nautical": "nautical dusk", "astronomical": "astronomical dusk"}

STEP_S = 600.0
_ENOUGH_S = 0.1

Sample = tuple[float, float]
"""Seconds since 1970, and the sun's elevation then, degrees."""


class Crossing(NamedTuple):
    """An instant at which the sun crosses a level, upwards or downwards."""

    at: datetime
    rising: bool


class Crossings(NamedTuple):
    """The rises and sets of a window as texts in UTC."""

    rise_utc: list[str]
    set_utc: list[str]


class RiseAndSet(NamedTuple):
    """Sunrise and sunset of a local day, rounded to the minute; None for one that does not happen."""

    sunrise_local: str | None
    sunset_local: str | None


def crossings(lat_deg: float, lon_deg: float, start: datetime, end: datetime, level_deg: float) -> list[Crossing]:
    """The instants of a window at which the sun's centre crosses an elevation, in their order.

    The elevation is sampled every ten minutes; where it turns between samples the turn is searched for too, so that
    a sun which only just rises is not missed.
    """
    path = _Path(lat_deg, lon_deg)
    samples = path.samples(start.timestamp(), end.timestamp(), level_deg)
    return [path.crossing(one, other, level_deg) for one, other in pairwise(samples) if _apart(one, other, level_deg)]


def _apart(one: Sample, other: Sample, level: float) -> bool:
    return (one[1] < level) != (other[1] < level)


@lru_cache(maxsize=20_000)
def _sample(lat_deg: float, lon_deg: float, seconds: float) -> Sample:
    # The same instants are looked at for each of several levels.
    return seconds, elevation_deg(lat_deg, lon_deg, seconds / 86400 + 2440587.5)


class _Path:
    """The sun's way over a place."""

    def __init__(self, lat_deg: float, lon_deg: float) -> None:
        self.lat, self.lon = lat_deg, lon_deg

    def at(self, seconds: float) -> Sample:
        return _sample(self.lat, self.lon, seconds)

    def samples(self, start: float, end: float, level: float) -> list[Sample]:
        count = max(1, -int(-(end - start) // STEP_S))
        plain = [self.at(start + (end - start) * index / count) for index in range(count + 1)]
        return sorted({*plain, *self.turns(plain, level)})

    def turns(self, samples: list[Sample], level: float) -> Iterator[Sample]:
        """Summits below the level and valleys above it that may reach over it between the samples."""
        for before, middle, after in zip(samples, samples[1:], samples[2:], strict=False):
            sign = -1.0 if middle[1] > level else 1.0
            if abs(middle[1] - level) < 0.2 and sign * middle[1] >= max(sign * before[1], sign * after[1]):
                yield self.turn(before[0], after[0], sign)

    def turn(self, low: float, high: float, sign: float) -> Sample:
        while high - low > _ENOUGH_S:
            third = (high - low) / 3
            if sign * self.at(low + third)[1] < sign * self.at(high - third)[1]:
                low += third
            else:
                high -= third
        return self.at((low + high) / 2)

    def crossing(self, one: Sample, other: Sample, level: float) -> Crossing:
        low, high, rising = one[0], other[0], one[1] < level
        while high - low > _ENOUGH_S:
            middle = (low + high) / 2
            low, high = (middle, high) if (self.at(middle)[1] < level) == rising else (low, middle)
        return Crossing(datetime.fromtimestamp((low + high) / 2, UTC), rising)


def sun_events_in_utc_window(
    lat_deg: float, lon_deg: float, from_utc: str, to_utc: str, sunrise_altitude_deg: float = HORIZON_DEG
) -> dict[str, Crossings]:
    """Sunrise, sunset and the three twilights in a window; empty lists where the sun stays above or below.

    Args:
        lat_deg, lon_deg: north and east positive.
        from_utc, to_utc: the window, "2026-07-04T06:00Z".
        sunrise_altitude_deg: elevation of the sun's centre at sunrise and sunset.

    Source: U.S. Naval Observatory, Rise, Set and Twilight Definitions; the sun by the library ephem. For a
    level, unobstructed horizon: hills delay or advance what is seen by many minutes.

    Raises:
        ValueError: a time without its zone, a window that is longer than 31 days or ends before it begins, years
            outside 1950 to 2050, a latitude beyond a pole.

    """
    start, end = _window(lat_deg, from_utc, to_utc)
    levels = {**LEVELS, "sunrise": sunrise_altitude_deg}
    found = {name: crossings(lat_deg, lon_deg, start, end, level) for name, level in levels.items()}
    return {name: _texts(events) for name, events in found.items()}


def _window(lat_deg: float, from_utc: str, to_utc: str) -> tuple[datetime, datetime]:
    start, end = instant_of(from_utc), instant_of(to_utc)
    if not timedelta(0) < end - start <= timedelta(days=31):
        raise ValueError(f"{from_utc} to {to_utc} is no window of up to 31 days")
    if start.year < YEARS[0] or end.year > YEARS[1]:
        raise ValueError(f"{from_utc} is outside the years {YEARS[0]} to {YEARS[1]}")
    if not -90 <= lat_deg <= 90:
        raise ValueError(f"the latitude {lat_deg:g} is outside -90 to 90")
    return start, end


def _texts(events: list[Crossing]) -> Crossings:
    rises = [iso(event.at) for event in events if event.rising]
    return Crossings(rises, [iso(event.at) for event in events if not event.rising])


def named_events(lat_deg: float, lon_deg: float, start: datetime, end: datetime) -> list[tuple[datetime, str]]:
    """Every sunrise, sunset, dawn and dusk of a window, in their order, by name."""
    found = [
        (event.at, (DAWNS if event.rising else DUSKS)[name])
        for name, level in LEVELS.items()
        for event in crossings(lat_deg, lon_deg, start, end, level)
    ]
    return sorted(found)


def twilight_events(lat_deg: float, lon_deg: float, from_utc: str, to_utc: str) -> list[str]:
    """The dawns and dusks of a window in their order, as "10:42 astronomical dawn", UTC to the minute.

    Args, source, errors: as `sun_events_in_utc_window`.
    """
    found = named_events(lat_deg, lon_deg, *_window(lat_deg, from_utc, to_utc))
    return [f"{to_minute(at):%H:%M} {name}" for at, name in found]


def to_minute(at: datetime) -> datetime:
    """The nearest whole minute, as almanacs print it."""
    return (at + timedelta(seconds=30)).replace(second=0, microsecond=0)


def sunrise_sunset(lat_deg: float, lon_deg: float, date_local: str, utc_offset_h: float) -> RiseAndSet:
    """Sunrise and sunset within a local day of a fixed offset, as clock times to the minute.

    Args:
        lat_deg, lon_deg: north and east positive.
        date_local: "2007-06-21".
        utc_offset_h: local time less UTC, hours.

    Source, errors: as `sun_events_in_utc_window`. Where an event happens twice in the day, the first is given.
    """
    offset = timedelta(hours=utc_offset_h)
    start = instant_of(f"{date_local}T00:00Z") - offset
    window = _window(lat_deg, iso(start), iso(start + timedelta(days=1)))
    found = crossings(lat_deg, lon_deg, *window, HORIZON_DEG)
    return RiseAndSet(*(_first_clock(found, rising, offset) for rising in (True, False)))


def _first_clock(found: list[Crossing], rising: bool, offset: timedelta) -> str | None:
    times = [to_minute(event.at + offset) for event in found if event.rising == rising]
    return f"{times[0]:%H:%M}" if times else None


def transit_near(lon_deg: float, near: datetime) -> datetime:
    """The sun's passage through the meridian nearest to an instant (Meeus 1998, chapter 28: noon less the equation)."""
    day_s = 86400.0
    shift = -lon_deg * 240 - equation_of_time(jd_of(near)) * 60 + day_s / 2
    seconds = near.timestamp()
    whole = round((seconds - shift) / day_s)
    return datetime.fromtimestamp(whole * day_s + shift, UTC)
