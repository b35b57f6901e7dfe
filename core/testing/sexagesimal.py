"""How far apart two written times or sexagesimal angles are."""

from __future__ import annotations

import re
from datetime import datetime

_CLOCK = re.compile(
    r"(?P<date>\d{4}-\d\d-\d\dT)?(?P<time>\d\d:\d\d(?::\d\d(?:\.\d+)?)?)(?P<zone>Z|[+-]\d\d:?\d\d)?(?P<label> .*)?"
)
_SEXAGESIMAL = re.compile(r"(?P<sign>-?)(?P<whole>\d+) (?P<minutes>\d+) (?P<seconds>\d+(?:\.\d+)?)")

DAY_S = 86_400


def time_or_angle_error(expected: str, got: str, unit: str, of_time: bool) -> float | None:
    """The difference, in seconds of time or of arc; None if the two are not written alike.

    Args:
        expected: clock time with or without date, zone and words after it, or three figures "12 27 19.721".
        got: the same.
        unit: "s" or "arcsec".
        of_time: the three figures are hours, minutes and seconds of time.

    """
    clocks = _CLOCK.fullmatch(expected), _CLOCK.fullmatch(got)
    if clocks[0] and clocks[1]:
        return _clock_error(clocks[0], clocks[1])
    angles = _SEXAGESIMAL.fullmatch(expected), _SEXAGESIMAL.fullmatch(got)
    if angles[0] and angles[1]:
        error = abs(_seconds(angles[0]) - _seconds(angles[1]))
        return error * 15 if of_time and unit == "arcsec" else error
    return None


def _clock_error(expected: re.Match[str], got: re.Match[str]) -> float | None:
    if any((expected[part] is None) != (got[part] is None) for part in ("date", "zone")):
        return None
    if expected["label"] != got["label"]:
        return None
    error = abs((_instant(expected) - _instant(got)).total_seconds())
    # Without a date the clock face is a circle.
    return error if expected["date"] else min(error, DAY_S - error)


def _instant(written: re.Match[str]) -> datetime:
    return datetime.fromisoformat((written["date"] or "2000-01-01T") + written["time"] + (written["zone"] or ""))


def _seconds(written: re.Match[str]) -> float:
    size = int(written["whole"]) * 3600 + int(written["minutes"]) * 60 + float(written["seconds"])
    return -size if written["sign"] else size
