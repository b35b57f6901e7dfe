"""Distances between an antenna and overhead power lines, by the rules that are published for them.

The rules do not agree. The largest figure governs, and the line's owner may ask for more.
"""

from __future__ import annotations

from typing import NamedTuple

from afield.plugins.outing.computations.checked import within

FOOT_M = 0.3048
FALL_MARGIN_FT = 10.0

TABLE_A = ((50, 10), (200, 15), (350, 20), (500, 25), (750, 35), (1000, 45))
"""Up to so many kV, phase to phase: so many feet."""


class Clearance(NamedTuple):
    """One distance in both units; the table is in feet."""

    clearance_ft: float
    clearance_m: float


class GreatestDistance(NamedTuple):
    """The largest of several distances, and the rule that gives it."""

    min_distance_m: float
    rule: str


def power_line_clearance(line_kv: float) -> Clearance:
    """The clearance in air from a power line that work near it has to keep.

    Formula: a table by voltage, 10 ft up to 50 kV to 45 ft up to 1000 kV; each limit belongs to its row.
    Source: US OSHA, 29 CFR 1926.1408 (2010), Table A. For lines over 350 kV 1926.1409 takes 50 ft instead.
    Valid: above 0 to 1000 kV, phase to phase. A house's service drop counts too: no line has less than 10 ft. It is
    kept by every part of mast, antenna, throw line and person, also while they fall.

    Args:
        line_kv: nominal voltage of the line, phase to phase. Of an unknown line ask its owner.

    Raises:
        ValueError: zero or negative, or above the table, where the owner of the line sets the distance.

    """
    voltage_kv = within(0, 1000, line_kv, "line voltage", "kV")
    if voltage_kv == 0:
        raise ValueError("line voltage 0 kV is no voltage; take the line's nominal one, phase to phase")
    feet = float(next(feet for limit_kv, feet in TABLE_A if voltage_kv <= limit_kv))
    return Clearance(feet, feet * FOOT_M)


def antenna_power_line_distance(mast_m: float, antenna_m: float) -> float:
    """Horizontal distance from power lines for a mast with an antenna: twice both together, in metres.

    Formula: 2 (mast + antenna).
    Source: US CPSC, 16 CFR 1402, warning for antennas and supporting structures, as instruction leaflets print it.
    Valid: lengths of 0 to 250 m, not both 0; the antenna's length beyond the mast, or its longest dimension.

    Args:
        mast_m: height of the mast.
        antenna_m: length of the antenna on it.

    Raises:
        ValueError: a length out of range.

    """
    return 2 * _height(mast_m, antenna_m)


def antenna_power_line_distance_fall_plus_10ft(height_ft: float) -> float:
    """Horizontal distance from power lines that leaves 10 ft if the whole height falls towards them, in feet.

    Formula: height + 10 ft.
    Source: common practice; the 10 ft are those of 29 CFR 1926.1408, Table A, up to 50 kV.
    Valid: heights of 0 to 1650 ft (500 m). Above 50 kV the table's clearance is more than those 10 ft.

    Args:
        height_ft: of mast and antenna together.

    Raises:
        ValueError: a height out of range.

    """
    return within(0, 1650, height_ft, "height", "ft") + FALL_MARGIN_FT


def power_line_distance_greatest(mast_m: float, antenna_m: float, line_kv: float) -> GreatestDistance:
    """The largest of the three distances from a power line, in metres, and which rule it is from.

    Formula: the greatest of `antenna_power_line_distance`, `antenna_power_line_distance_fall_plus_10ft` and
    `power_line_clearance`.
    Source: as these three.
    Valid: as these three. A power company's own distance, often 1.5 to 2 times the height, is not among them.

    Args:
        mast_m: height of the mast.
        antenna_m: length of the antenna on it.
        line_kv: nominal voltage of the line, phase to phase.

    Raises:
        ValueError: a figure that one of the three refuses.

    """
    height_ft = _height(mast_m, antenna_m) / FOOT_M
    distances = (
        GreatestDistance(antenna_power_line_distance(mast_m, antenna_m), "twice mast and antenna"),
        GreatestDistance(antenna_power_line_distance_fall_plus_10ft(height_ft) * FOOT_M, "height and 10 ft"),
        GreatestDistance(power_line_clearance(line_kv).clearance_m, "clearance in air by voltage"),
    )
    return max(distances, key=lambda distance: distance.min_distance_m)


def _height(mast_m: float, antenna_m: float) -> float:
    height_m = within(0, 250, mast_m, "mast", "m") + within(0, 250, antenna_m, "antenna", "m")
    if height_m == 0:
        raise ValueError("mast 0 m and antenna 0 m are nothing that stands")
    return height_m
