"""The station's position as other plugins give it, and the zone that it lies in."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import cos, hypot, radians
from typing import Any, Protocol

from afield.core.api import CannotTell, _

M_PER_DEG = 111_195.0
"""Mean length of a degree on the Earth (6371.0 km)."""
TO_95 = 2.448
"""Radius of a 95 % circle over the standard deviation of one axis."""


class HasPosition(Protocol):
    """What is asked of the fact `station.position`: degrees (WGS 84), and metres that are left open."""

    @property
    def lat_deg(self) -> float:
        """North positive."""

    @property
    def lon_deg(self) -> float:
        """East positive."""

    @property
    def sigma_m(self) -> float | None:
        """Standard deviation of one axis; None where the form itself bounds it."""

    @property
    def bound_m(self) -> tuple[float, float]:
        """Half sizes, east and north, of what the written digits leave open."""


def reach_m(position: HasPosition) -> tuple[float, float]:
    """How far east or west, and north or south, the place may be from the position as stated; 95 %, metres."""
    circle = TO_95 * (position.sigma_m or 0.0)
    east, north = position.bound_m
    return circle + east, circle + north


def doubt_deg(position: HasPosition) -> float:
    """The greatest change of the sun's elevation by the position's uncertainty: the angle at the Earth's centre."""
    return hypot(*reach_m(position)) / M_PER_DEG


def corners(position: HasPosition) -> Iterator[tuple[float, float]]:
    """Latitude and longitude of the position and of the corners of what it leaves open."""
    east, north = reach_m(position)
    high = north / M_PER_DEG
    wide = east / (M_PER_DEG * max(cos(radians(position.lat_deg)), 1e-6))
    for up, right in ((0, 0), (1, 1), (1, -1), (-1, 1), (-1, -1)):
        lat = max(-90.0, min(90.0, position.lat_deg + up * high))
        yield lat, (position.lon_deg + right * min(wide, 180.0) + 180.0) % 360.0 - 180.0


def zone_at(position: HasPosition) -> str:
    """The time zone that the position lies in.

    Raises:
        CannotTell: it is at sea, or too near the boundary of two zones for its uncertainty.

    """
    found = dict.fromkeys(_land_zone(lat, lon) for lat, lon in corners(position))
    first, *others = found
    if others:
        names = _(" or ").join(name or _("the sea") for name in found)
        text = _("within its uncertainty the position is in {names}").format(names=names)
        raise CannotTell(text, "schedule.zone", "within uncertainty", "trip")
    if first is None:
        text = _("the position is at sea, where no time zone of a country holds")
        raise CannotTell(text, "schedule.zone", "not stated")
    return first


def _land_zone(lat_deg: float, lon_deg: float) -> str | None:
    found: str | None = _finder().timezone_at_land(lat=lat_deg, lng=lon_deg)
    return found


@cache
def _finder() -> Any:
    from timezonefinder import TimezoneFinder

    return TimezoneFinder()


def boundaries() -> str:
    """What the zones' boundaries are from, for the reader."""
    from importlib.metadata import version

    text = _("timezonefinder {version}, boundaries by OpenStreetMap contributors (ODbL)")
    return text.format(version=version("timezonefinder"))
