"""Local time and UTC: skipped and repeated hours, elapsed time, the UTC days that a stay touches."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from afield.plugins.timing.computations.zone_files import instant_of, iso, zone_of

PASSES = ("first", "second")
"""Which pass of a local hour that the clock goes through twice."""


class UtcTime(NamedTuple):
    """An instant in UTC as text, and its UTC date."""

    utc: str
    utc_date: str


class Validity(NamedTuple):
    """What local times are, and the two instants of each that is ambiguous."""

    classes: list[str]
    utc_of_ambiguous: list[str]


class DatesTouched(NamedTuple):
    """The UTC dates of a stay, and the local time at which the second begins (None if there is only one)."""

    utc_dates: list[str]
    utc_midnight_local: str | None


def passes(local: datetime, zone: ZoneInfo) -> list[datetime]:
    """The instants at which the clock on the wall shows a local time: none in a gap, two in a repeated hour.

    Source: PEP 495, "Local Time Disambiguation": a time is real if it survives the way to UTC and back.
    """
    both = [local.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1)]
    return [one for one in sorted(set(both)) if one.astimezone(zone).replace(tzinfo=None) == local]


def local_to_utc(zone: str, local: str, repeated_hour: str = "") -> UtcTime:
    """UTC of a local time.

    Args:
        zone: IANA name, "America/Denver".
        local: "2026-07-18T19:30".
        repeated_hour: "first" or "second" where the clock shows the time twice.

    Source: IANA time zone database, the release of the installed tzdata package.

    Raises:
        ValueError: an unknown zone, a time that the clock skips, or one that it shows twice without saying which.

    """
    instant = _chosen(_naive(local), zone_of(zone), repeated_hour)
    return UtcTime(iso(instant), instant.date().isoformat())


def _chosen(local: datetime, zone: ZoneInfo, repeated_hour: str) -> datetime:
    if repeated_hour and repeated_hour not in PASSES:
        raise ValueError(f"the pass {repeated_hour} is neither first nor second")
    found = passes(local, zone)
    if not found:
        raise ValueError(f"the clocks of {zone.key} skip {local:%H:%M} on {local:%Y-%m-%d}")
    if len(found) == 2 and not repeated_hour:
        raise ValueError(f"the clocks of {zone.key} show {local:%H:%M} twice on {local:%Y-%m-%d}: say which is meant")
    return found[-1] if repeated_hour == "second" else found[0]


def _naive(text: str) -> datetime:
    local = datetime.fromisoformat(text)
    if local.tzinfo is not None:
        raise ValueError(f"{text} has a zone of its own: write local time without one")
    return local


def utc_to_local(zone: str, utc: str) -> str:
    """Local time of an instant, with its offset: "2026-12-15T11:00:00-0700".

    Args:
        zone: IANA name.
        utc: "2026-12-15T18:00:00Z".

    Source: IANA time zone database, the release of the installed tzdata package.

    Raises:
        ValueError: an unknown zone, or an instant without its zone.

    """
    return instant_of(utc).astimezone(zone_of(zone)).strftime("%Y-%m-%dT%H:%M:%S%z")


def local_time_validity(zone: str, local: list[str]) -> Validity:
    """Whether the clock on the wall shows local times once (valid), never (nonexistent) or twice (ambiguous).

    Args:
        zone: IANA name.
        local: local times, "2026-03-08T02:30".

    Source: IANA time zone database; PEP 495.

    Raises:
        ValueError: an unknown zone, or a time with a zone of its own.

    """
    found = [passes(_naive(text), zone_of(zone)) for text in local]
    classes = [("nonexistent", "valid", "ambiguous")[len(one)] for one in found]
    return Validity(classes, [iso(instant) for one in found if len(one) == 2 for instant in one])


def elapsed_time(zone: str, from_local: str, to_local: str) -> float:
    """Hours that pass between two local times, also over a change of the clocks.

    Args:
        zone: IANA name.
        from_local, to_local: local times that the clock shows once.

    Source: IANA time zone database.

    Raises:
        ValueError: as `local_to_utc`.

    """
    start, end = (_chosen(_naive(text), zone_of(zone), "") for text in (from_local, to_local))
    return (end - start).total_seconds() / 3600


def utc_dates_touched(zone: str, from_local: str, to_local: str) -> DatesTouched:
    """The UTC dates between two local times, and the local time of the first 00:00 UTC within.

    A stay that ends at 00:00 UTC exactly does not touch the day that begins then.

    Args:
        zone: IANA name.
        from_local, to_local: local times that the clock shows once, the second not before the first.

    Source: definition; IANA time zone database.

    Raises:
        ValueError: as `local_to_utc`, or the end before the start.

    """
    start, end = (_chosen(_naive(text), zone_of(zone), "") for text in (from_local, to_local))
    if end < start:
        raise ValueError(f"{to_local} is before {from_local}")
    days = dates_between(start, end)
    midnight = utc_midnight(days[1]).astimezone(zone_of(zone)).strftime("%H:%M") if len(days) > 1 else None
    return DatesTouched([day.isoformat() for day in days], midnight)


def dates_between(start: datetime, end: datetime) -> list[date]:
    """The UTC dates of the half-open time from start to end; that of the start, if it has no length."""
    last = max(start, end - timedelta(microseconds=1)).date()
    return [start.date() + timedelta(days=count) for count in range((last - start.date()).days + 1)]


def utc_midnight(day: date) -> datetime:
    """00:00 UTC of the date."""
    return datetime(day.year, day.month, day.day, tzinfo=UTC)
