"""Longitude and latitude of WGS 84 from a file: checked, and turned to (latitude, longitude)."""

from collections.abc import Sequence
from math import isfinite
from typing import Any

from afield.core.api import WrittenFloat
from afield.plugins.geometry.readers.layer import LatLon

NUMBERS = (int, float, WrittenFloat)
SWAPPED = "Are latitude and longitude swapped? "
PROJECTED = (
    "These look like metres or feet of a projected map, not degrees. Save the file in WGS 84 (EPSG:4326), or with its "
    "coordinate reference system."
)
ORDER = "A position is [longitude, latitude] in degrees."


class CoordinateError(Exception):
    """A position that is no place on earth: what is wrong, and what to do."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(what)
        self.what = what
        self.advice = advice


def range_error(x: float, y: float) -> CoordinateError:
    """The error for a longitude x and a latitude y of which one is out of range."""
    if not (isfinite(x) and isfinite(y)):
        return CoordinateError("a coordinate is not a finite number (NaN or infinity)", "Remove or mend that position.")
    if abs(x) > 360 or abs(y) > 360:
        return CoordinateError(f"longitude {x:g}, latitude {y:g} is no place on earth", PROJECTED)
    if abs(y) > 90:
        advice = f"{SWAPPED if abs(x) <= 90 else ''}{ORDER}"
        return CoordinateError(f"latitude {y:g} is outside -90 to 90", advice)
    return CoordinateError(f"longitude {x:g} is outside -180 to 180", ORDER)


def numbers_of(position: Any) -> tuple[float, float]:
    """The first two numbers of a position (a height may follow). Raises CoordinateError where there are no two."""
    if not isinstance(position, list | tuple) or len(position) < 2:
        raise CoordinateError(f"{str(position)[:40]!r} is not a position", ORDER)
    x, y = position[0], position[1]
    if type(x) not in NUMBERS or type(y) not in NUMBERS:
        raise CoordinateError(f"{str(position)[:40]!r} is not a position", ORDER)
    try:
        return x + 0.0 if type(x) is int else x, y + 0.0 if type(y) is int else y
    except OverflowError:
        raise range_error(float("inf"), 0.0) from None


def wrapped(x: float) -> float:
    """The longitude, less or plus 360 where it runs past 180 (files that cross the 180th meridian count on to 360)."""
    if -180.0 <= x <= 180.0:
        return x
    return x - 360.0 if x > 0 else x + 360.0


def lat_lon_of(x: float, y: float) -> LatLon:
    """(latitude, longitude) of a longitude x and a latitude y in degrees, each checked; NaN fails every comparison."""
    if -90.0 <= y <= 90.0 and -360.0 <= x <= 360.0:
        return (y, wrapped(x))
    raise range_error(x, y)


def wgs84_lat_lons(positions: Sequence[Any]) -> list[LatLon]:
    """(latitude, longitude) of every [longitude, latitude, ...] of the list. Raises CoordinateError."""
    return [lat_lon_of(*numbers_of(position)) for position in positions]
