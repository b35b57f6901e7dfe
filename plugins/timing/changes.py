"""Changes of a zone's clocks within a span of time."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from afield.core.api import frozen
from afield.plugins.timing.computations.zone_files import offset_min

STEP_S = 3600


@frozen
class ClockChange:
    """A change of the clocks: the instant, and what the clock on the wall would show and shows then."""

    at: datetime
    before: datetime
    after: datetime

    @property
    def by_min(self) -> float:
        """Minutes by which the clocks go forward; below 0 if they go back."""
        return (self.after - self.before).total_seconds() / 60


def clock_changes(zone: ZoneInfo, start: datetime, end: datetime) -> list[ClockChange]:
    """The changes after the start and not after the end, to the second."""
    found: list[ClockChange] = []
    low, last = int(start.timestamp()), int(end.timestamp())
    while low < last:
        high = min(low + STEP_S, last)
        if _offset(zone, low) != _offset(zone, high):
            found.append(_change(zone, low, high))
        low = high
    return found


def _at(seconds: int) -> datetime:
    return datetime.fromtimestamp(seconds, UTC)


def _offset(zone: ZoneInfo, seconds: int) -> float:
    return offset_min(_at(seconds).astimezone(zone))


def _change(zone: ZoneInfo, low: int, high: int) -> ClockChange:
    old = _offset(zone, low)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if _offset(zone, middle) == old else (low, middle)
    at = _at(high)
    naive = at.replace(tzinfo=None)
    return ClockChange(at, naive + timedelta(minutes=old), naive + timedelta(minutes=_offset(zone, high)))
