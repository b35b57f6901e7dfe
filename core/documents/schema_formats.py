"""The formats that a schema may ask of a text: dates and times as people write them."""

from __future__ import annotations

import re
from calendar import month_name, monthrange
from datetime import date, datetime

Fault = tuple[str, str]
"""What is wrong, and what to do."""

_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_YEARS = range(1000, 3000)
"""A day before or after can be reckoned from every date in them."""

_CLOCK = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]Z?")


def format_fault(text: str, name: str) -> Fault | None:
    """What is wrong with the text in that format; None if nothing is, or if the format is not one of these.

    `date` is year-month-day; `clock` is hours and minutes, with Z for UTC; `date-time` is ISO 8601 with its zone.
    """
    check = _FORMATS.get(name)
    return check(text) if check else None


def _date_fault(text: str) -> Fault | None:
    found = _DATE.fullmatch(text)
    if found is None:
        return f"{text} is no date", "Write year, month and day, for example 2026-06-27."
    year, month, day = map(int, found.groups())
    if year not in _YEARS:
        return f"the year {found[1]} is out of range", f"Write a year from {_YEARS[0]} to {_YEARS[-1]}."
    try:
        date(year, month, day)
    except ValueError:
        return f"{text} is no date", _calendar_advice(year, month)
    return None


def _calendar_advice(year: int, month: int) -> str:
    if not 1 <= month <= 12:
        return "Write a month from 01 to 12, for example 2026-06-27."
    return f"{month_name[month]} {year} has {monthrange(year, month)[1]} days."


def _clock_fault(text: str) -> Fault | None:
    if _CLOCK.fullmatch(text):
        return None
    return f"{text} is no time of day", 'Write 00:00 to 23:59, with a Z at the end for UTC: "14:45" or "21:45Z".'


def _date_time_fault(text: str) -> Fault | None:
    advice = "Write date, T, time and zone, for example 2026-06-27T21:45Z."
    try:
        instant = datetime.fromisoformat(text)
    except ValueError:
        return f"{text} is no date and time", advice
    return None if instant.tzinfo else (f"{text} does not say its zone", advice)


_FORMATS = {"date": _date_fault, "clock": _clock_fault, "date-time": _date_time_fault}
