"""The words of the timeline: times on both clocks, dates where they are not the day of arrival, lengths of time."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from afield.core.api import day_in_words, frozen, in_context, local_digits, marked
from afield.plugins.timing.computations.clock import passes
from afield.plugins.timing.computations.zone_files import offset_min

PASSES = (marked("pass|first"), marked("pass|second"))
LABEL = 20
"""Characters that have room beside the drawing."""


def offset_words(minutes: float) -> str:
    """An offset from UTC: "UTC+05:45"."""
    hours, rest = divmod(round(abs(minutes)), 60)
    return f"UTC{'-' if minutes < 0 else '+'}{hours:02d}:{rest:02d}"


def length_words(minutes: float) -> str:
    """A length of time to the minute: "5 h 30 min"."""
    hours, rest = divmod(round(abs(minutes)), 60)
    parts = [f"{hours} h"] * bool(hours) + [f"{rest} min"] * bool(rest or not hours)
    return " ".join(parts)


def slot_words(slot: Mapping[str, Any]) -> str:
    """What a slot states beside its times: "40m, 7.03 MHz, CW, 10 W, anna"."""
    frequency, power = slot["frequency_mhz"], slot["power_w"]
    parts = (
        slot["band"], None if frequency is None else f"{frequency:.9g} MHz", slot["mode"],
        None if power is None else local_digits(f"{power:g} W"), slot["operator"],
    )  # fmt: skip
    return ", ".join(str(part) for part in parts if part)


def short(words: str) -> str:
    """Words cut to what has room beside the drawing."""
    return words if len(words) <= LABEL else f"{words[: LABEL - 1].rstrip()}…"


@frozen
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
        """Local time, with the date where it is another, and the pass where the clock shows it twice.

        "00:15 (28 June)", "02:40 (first)".
        """
        local = self.local(at)
        more = [part for part in (self._pass(local), self._date(local.date())) if part]
        return f"{local:%H:%M} ({', '.join(more)})" if more else f"{local:%H:%M}"

    def utc_words(self, at: datetime) -> str:
        """The time in UTC, with the date where it is another: "04:15Z (28 June)"."""
        utc = self.minute(at)
        date_words = self._date(utc.date())
        return f"{utc:%H:%M}Z ({date_words})" if date_words else f"{utc:%H:%M}Z"

    def _date(self, day: date) -> str:
        return "" if day == self.day else day_in_words(day)

    def _pass(self, local: datetime) -> str:
        """Which pass of an hour that the clocks repeat; nothing for any other time."""
        twice = len(passes(local.replace(tzinfo=None, fold=0), self.zone)) == 2
        return in_context(PASSES[local.fold]) if twice else ""

    def offset(self, at: datetime) -> float:
        """Minutes of local time less UTC."""
        return offset_min(at.astimezone(self.zone))
