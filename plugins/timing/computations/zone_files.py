"""Time zones of the tzdata package alone: the operating system's files may be years older."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache
from importlib.resources import files
from zoneinfo import ZoneInfo


class UnknownZone(ValueError):
    """A name that is no time zone of the tzdata package."""


@cache
def zone_names() -> frozenset[str]:
    """The names of all zones in the IANA database that the tzdata package holds."""
    return frozenset(files("tzdata").joinpath("zones").read_text(encoding="utf-8").split())


@cache
def zone_of(name: str) -> ZoneInfo:
    """The zone's rules, read from the tzdata package.

    `zoneinfo.ZoneInfo(name)` would take the operating system's file first (Python library reference, zoneinfo,
    "Data sources"), and two machines would then give two answers.

    Raises:
        UnknownZone: no zone of that name.

    """
    if name not in zone_names():
        raise UnknownZone(f"{name} is no time zone")
    with files("tzdata").joinpath("zoneinfo", *name.split("/")).open("rb") as file:
        return ZoneInfo.from_file(file, key=name)


def zone_data_version() -> str:
    """The release of the IANA database in use, such as 2026f."""
    import tzdata

    return str(tzdata.IANA_VERSION)


def utc_offset_min(zone: str, utc: str) -> float:
    """Minutes by which local time is ahead of UTC at an instant; below 0 west of Greenwich.

    Args:
        zone: IANA name.
        utc: date and time with its zone, "2026-06-27T21:45Z".

    Source: IANA time zone database, the release of the installed tzdata package.

    Raises:
        ValueError: an unknown zone, or a time without its zone.

    """
    return offset_min(instant_of(utc).astimezone(zone_of(zone)))


def offset_min(local: datetime) -> float:
    """Minutes by which a local time is ahead of UTC."""
    offset = local.utcoffset()
    assert offset is not None
    return offset.total_seconds() / 60


def instant_of(text: str) -> datetime:
    """The instant that an ISO 8601 text with its zone names, in UTC.

    Raises:
        ValueError: it is no date and time, or does not say its zone.

    """
    found = datetime.fromisoformat(text)
    if found.tzinfo is None:
        raise ValueError(f"{text} does not say its zone: write it in UTC with a Z at its end")
    return found.astimezone(UTC)


def iso(instant: datetime) -> str:
    """An instant in UTC as ISO 8601 text to the second, "2026-06-27T21:45:00Z"."""
    rounded = datetime.fromtimestamp(round(instant.timestamp()), UTC)
    return rounded.strftime("%Y-%m-%dT%H:%M:%SZ")
