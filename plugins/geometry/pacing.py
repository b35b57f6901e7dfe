"""Lengths and directions as a person paces them out: metres and feet, true and by compass."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, hypot

FOOT_M = 0.3048
AT_THE_POSITION_M = 0.05


def paced(length_m: float) -> str:
    """A length in both units: "21 m (68.9 ft)", "310 m (1017 ft)"."""
    feet = length_m / FOOT_M
    return f"{_shown(length_m)} m ({_shown(feet)} ft)"


def _shown(number: float) -> str:
    return f"{number:.0f}" if abs(number) >= 100 else f"{number:.1f}".removesuffix(".0")


def seen_from_position(point: Sequence[float], declination_deg: float | None) -> str:
    """Where a point of the plane lies from the station's position: "21 m (68.9 ft) at 040° true, 028° by compass".

    Args:
        point: metres east and north of the position.
        declination_deg: of the magnetic needle, east positive; None if not known.

    """
    distance = hypot(point[0], point[1])
    if distance < AT_THE_POSITION_M:
        return "the position"
    bearing = degrees(atan2(point[0], point[1]))
    words = f"{paced(distance)} at {_whole_circle(bearing)}° true"
    if declination_deg is None:
        return words
    return f"{words}, {_whole_circle(bearing - declination_deg)}° by compass"


def _whole_circle(angle_deg: float) -> str:
    # Rounded before the turn is taken off, so that 359.8 reads 000 and not 360.
    return f"{round(angle_deg) % 360:03d}"
