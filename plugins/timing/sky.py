"""The sky over a place: day, the three twilights and night, one after the other."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise

from afield.plugins.timing.computations.calendar import jd_of
from afield.plugins.timing.computations.sun import elevation_deg
from afield.plugins.timing.computations.sun_events import LEVELS, named_events
from afield.plugins.timing.computations.zone_files import iso

PHASES = ("day", "civil twilight", "nautical twilight", "astronomical twilight", "night")
"""From light to dark; the sun is below the level of the same place in LEVELS at the end of each but the last."""


def phases(lat_deg: float, lon_deg: float, start: datetime, end: datetime) -> list[dict[str, str]]:
    """The phases of a window, each from and to as ISO texts in UTC."""
    edges = [start, *(at for at, _ in named_events(lat_deg, lon_deg, start, end)), end]
    spans = [(one, other) for one, other in pairwise(edges) if other > one]
    return [
        {"phase": _phase(lat_deg, lon_deg, one + (other - one) / 2), "from": iso(one), "to": iso(other)}
        for one, other in spans
    ]


def _phase(lat_deg: float, lon_deg: float, moment: datetime) -> str:
    elevation = elevation_deg(lat_deg, lon_deg, jd_of(moment))
    return PHASES[sum(elevation < level for level in LEVELS.values())]
