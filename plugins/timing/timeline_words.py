"""The words of the timeline: times on both clocks, dates where they are not the day of arrival, lengths of time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from afield.plugins.timing.computations.zone_files import offset_min

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
LABEL = 20
"""Characters that have room beside the drawing."""


def day_words(day: date) -> str:
    """A date without its year: "28 June"."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def short_day(day: date) -> str:
    """A date as it fits beside the drawing: "28 Jun"."""
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


def offset_words(minutes: float) -> str:
    """An offset from UTC: "UTC+05:45"."""
    hours, rest = divmod(round(abs(minutes)), 60)
    return f"UTC{'-' if minutes < 0 else '+'}{hours:02d}:{rest:02d}"


def length_words(minutes: float) -> str:
    """A length of time to the minute: "5 h 30 min"."""
    hours, rest = divmod(round(abs(minutes)), 60)
    parts = [f"{hours} h"] * bool(hours) + [f"{rest} min"] * bool(rest or not hours)
    return " ".join(parts)


def short(words: str) -> str:
    """Words cut to what has room beside the drawing."""
    return words if len(words) <= LABEL else f"{words[: LABEL - 1].rstrip()}…"


@dataclass(frozen=True, slots=True)
class Clocks:
    """Both clocks of an outing: the zone, and the local date of arrival that goes without saying."""

    zone: ZoneInfo
    day: date

    def minute(self, at: datetime) -> datetime:
        """The nearest minute in UTC."""
        return (at + timedelta(seconds=30)).replace(second=0, microsecond=0).astimezone(UTC)

    def local(self, at: datetime) -> datetime:
        """The nearest minute on the clock on the wall."""
        return self.minute(at).astimezone(self.zone)

    def local_words(self, at: datetime) -> str:
        """Local time, with the date where it is another: "00:15 (28 June)"."""
        local = self.local(at)
        return f"{local:%H:%M}{self._date(local.date())}"

    def utc_words(self, at: datetime) -> str:
        """The time in UTC, with the date where it is another: "04:15Z (28 June)"."""
        utc = self.minute(at)
        return f"{utc:%H:%M}Z{self._date(utc.date())}"

    def _date(self, day: date) -> str:
        return "" if day == self.day else f" ({day_words(day)})"

    def offset(self, at: datetime) -> float:
        """Minutes of local time less UTC."""
        return offset_min(at.astimezone(self.zone))
