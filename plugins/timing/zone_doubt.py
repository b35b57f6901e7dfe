"""Whether a stated time zone can be that of the place: its clocks against the sun's time at the longitude."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from afield.core.api import _, local_digits, marked
from afield.plugins.timing.computations.zone_files import offset_min
from afield.plugins.timing.timeline_words import length_words, offset_words

APART_MIN = 210.0
"""Minutes between clocks and sun's time above which a zone is doubted.

No country's clocks are as far apart from the sun: in the far west of China (73.5 degrees east, UTC+08:00) they are by
3 h 6 min, in the far west of Alaska (171.7 degrees west, UTC-08:00 in summer) by 3 h 27 min."""
MIN_PER_DEG = 4.0
DAY_MIN = 1440.0
DOUBTED = marked(
    "On {day} the clocks of the stated zone {zone} show {clocks}; the place is at {place}, where the sun's time is "
    "{sun}: {apart} apart. Local times stay in the stated zone: see that `schedule.zone` and `station.at` are right."
)


def zone_doubt(at: Mapping[str, Any] | None, zone: ZoneInfo, day: date) -> str | None:
    """A sentence where the zone's clocks on the date are far from the sun's time at the place; else None.

    Args:
        at: the position as the plan writes it; a point in a file is not looked up.
        zone: the stated zone.
        day: local date of arrival.

    """
    lon_deg = rough_longitude_deg(at or {})
    if lon_deg is None:
        return None
    clocks = offset_min(datetime.combine(day, time(12), zone))
    sun = lon_deg * MIN_PER_DEG
    # A day more or less is a matter of the date line, not of the sun.
    apart = abs((clocks - sun + DAY_MIN / 2) % DAY_MIN - DAY_MIN / 2)
    if apart <= APART_MIN:
        return None
    place = (_("{degrees} degrees east") if lon_deg >= 0 else _("{degrees} degrees west")).format(
        degrees=local_digits(f"{abs(lon_deg):.1f}")
    )
    return _(DOUBTED).format(
        day=day,
        zone=zone.key,
        clocks=offset_words(clocks),
        place=place,
        sun=offset_words(sun),
        apart=length_words(apart),
    )


def rough_longitude_deg(at: Mapping[str, Any]) -> float | None:
    """The longitude of a written position to a few degrees, east positive; None for a form without one in it."""
    if "lon" in at:
        return _of_degrees(at["lon"])
    for key in ("utm", "mgrs"):
        if key in at:
            return _of_utm_zone(str(at[key]))
    return _of_locator(str(at["locator"])) if "locator" in at else None


def _of_degrees(written: Any) -> float | None:
    if isinstance(written, int | float):
        return float(written)
    found = re.findall(r"\d+(?:\.\d+)?", str(written))
    if not found:
        return None
    degrees = sum(float(part) / 60.0**place for place, part in enumerate(found[:3]))
    return -degrees if re.search(r"[Ww]|^\s*[-\u2212]", str(written)) else degrees


def _of_utm_zone(written: str) -> float | None:
    """The middle of the zone, which is 6 degrees wide."""
    found = re.match(r"\s*(\d{1,2})", written)
    return 6.0 * int(found[1]) - 183.0 if found else None


def _of_locator(written: str) -> float | None:
    """The middle of the square, which is 2 degrees wide (Maidenhead: fields of 20 degrees from 180 west)."""
    found = re.match(r"\s*([A-Ra-r])[A-Ra-r](\d)", written)
    return 20.0 * (ord(found[1].upper()) - ord("A")) + 2.0 * int(found[2]) - 179.0 if found else None
