"""Local times at the place, by the tzdata package as the plan's own times."""

from __future__ import annotations

from datetime import date, datetime
from functools import cache
from zoneinfo import ZoneInfo

from afield.core.api import day_in_words


def local_words(at: datetime, zone: str, day: date) -> str:
    """The local time to the minute, with its date where that is not the day: "02:45 (12 July)"."""
    local = at.astimezone(zone_of(zone))
    return f"{local:%H:%M}" if local.date() == day else f"{local:%H:%M} ({day_in_words(local.date())})"


def local_date(at: datetime, zone: str) -> date:
    """The date at the place."""
    return at.astimezone(zone_of(zone)).date()


@cache
def zone_of(name: str) -> ZoneInfo:
    """The zone of the tzdata package: the system's file may be years older."""
    from importlib.resources import files

    with files("tzdata").joinpath("zoneinfo", *name.split("/")).open("rb") as file:
        return ZoneInfo.from_file(file, key=name)
