"""Lengths and directions as a person paces them out: metres and feet, true and by compass."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, hypot

from afield.core.api import _, local_digits

FOOT_M = 0.3048
AT_THE_POSITION_M = 0.05


def paced(length_m: float) -> str:
    """A length in both units: "21 m (68.9 ft)", "310 m (1017 ft)"."""
    feet = length_m / FOOT_M
    return local_digits(f"{_shown(length_m)} m ({_shown(feet)} ft)")


def _shown(number: float) -> str:
    return f"{number:.0f}" if abs(number) >= 100 else f"{number:.1f}".removesuffix(".0")


def seen_from_position(point: Sequence[float], declination_deg: float | None) -> str:
    """Where a point of the plane lies from the station's position: "21 m (68.9 ft) at 040° true, 028° by compass".

    Args:
        point: metres east and north of the position.
        declination_deg: of the magnetic needle, east positive; None if not known.

    """
    if is_at_position(point):
        return _("the position")
    bearing = degrees(atan2(point[0], point[1]))
    # Rounded before the turn is taken off, so that 359.8 reads 000 and not 360.
    compass = None if declination_deg is None else round(bearing - declination_deg) % 360
    return way_words(hypot(point[0], point[1]), round(bearing) % 360, compass)


def is_at_position(point: Sequence[float]) -> bool:
    """Whether a point of the plane, metres, cannot be told from the position itself."""
    return hypot(point[0], point[1]) < AT_THE_POSITION_M


def way_words(distance_m: float, bearing_deg: int, compass_deg: int | None) -> str:
    """A distance with its bearing: "21 m (68.9 ft) at 040° true, 028° by compass"; None where no compass is told."""
    distance, bearing = paced(distance_m), f"{bearing_deg:03d}"
    if compass_deg is None:
        return _("{distance} at {bearing}° true").format(distance=distance, bearing=bearing)
    sentence = _("{distance} at {bearing}° true, {compass}° by compass")
    return sentence.format(distance=distance, bearing=bearing, compass=f"{compass_deg:03d}")
