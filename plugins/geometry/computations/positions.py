"""A position in degrees, and the refusal of one that is not on the Earth."""

from __future__ import annotations

from math import isfinite
from typing import NamedTuple


class Position(NamedTuple):
    """Latitude (north positive) and longitude (east positive) in degrees."""

    lat_deg: float
    lon_deg: float


def checked_position(lat_deg: float, lon_deg: float) -> Position:
    """The same position as floats.

    Args:
        lat_deg: latitude, -90 to 90.
        lon_deg: longitude, -180 to 180.

    Raises:
        ValueError: outside that range or not a number; says so if the two look swapped.

    """
    position = Position(float(lat_deg), float(lon_deg))
    if not -90 <= position.lat_deg <= 90:
        raise ValueError(f"latitude {position.lat_deg:g} is outside -90 to 90{_swapped(position)}")
    if not -180 <= position.lon_deg <= 180:
        raise ValueError(f"longitude {position.lon_deg:g} is outside -180 to 180")
    return position


def checked_number(value: float, name: str) -> float:
    """The value as a float.

    Raises:
        ValueError: infinite or not a number.

    """
    number = float(value)
    if not isfinite(number):
        raise ValueError(f"{name} {number} is not a finite number")
    return number


def wrapped_360(angle_deg: float) -> float:
    """The angle from 0 up to but not including 360 degrees."""
    wrapped = float(angle_deg) % 360.0
    # A tiny negative angle rounds up to the modulus itself.
    return 0.0 if wrapped == 360.0 else wrapped


def _swapped(position: Position) -> str:
    swapped = abs(position.lat_deg) <= 180 and abs(position.lon_deg) <= 90
    return ". Are latitude and longitude swapped?" if swapped else ""
