"""What position, map and edge model make uncertain in a margin: signed 95 % contributions by origin."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import atan2, cos, exp, pi, sin, sqrt

from afield.plugins.geometry.computations.accuracy import HORIZONTAL

TWO_SIDED_95 = 1.959963984540054
"""Standard deviations of one axis that hold 95 % (JCGM 100:2008, table G.1)."""
_STEP = 2.2
"""Standard deviations: where values that lie just outside the interval come from, on the whole."""
_MOST_BEYOND = 0.065


def sigma_m(accuracy_m: float, level_percent: float = 68) -> float:
    """Standard deviation of each axis from the radius of a circle that holds 68 % or 95 % of fixes, metres.

    r68 / 1.515 or r95 / 2.448: quantiles of the circular normal distribution. Raises ValueError for another level or an
    accuracy that is below 0.
    """
    if level_percent not in (68, 95):
        raise ValueError(f"an accuracy holds 68 % or 95 % of fixes, not {level_percent:g} %")
    if not accuracy_m >= 0:
        raise ValueError(f"an accuracy is 0 m or more, not {accuracy_m:g} m")
    return accuracy_m / HORIZONTAL[f"r{level_percent:.0f}"]


def margin_parts(
    direction: tuple[float, float], position_sigma_m: float, map_sigma_m_by_layer: Mapping[str, float], doubt_m: float
) -> dict[str, float]:
    """The signed contributions to a distance or margin, 95 %, metres, by origin.

    1.96 sigma along the margin's own direction. A shift of the whole map acts like the opposite shift of the station,
    so map origins have the opposite sign, and in a difference between two references of one layer they cancel as far
    as the directions agree; so do the station's.

    Args:
        direction: unit (east, north) in which moving the station makes the value grow (`Worst.direction`).
        position_sigma_m: standard deviation of each axis of the station's position.
        map_sigma_m_by_layer: the same for each map layer that the value is measured to.
        doubt_m: how far the readings of the map's edges can change the value (`Worst.edge_doubt_m`).

    Returns:
        Origins "station.at/east", "station.at/north", "map:LAYER/east", "map:LAYER/north", "edge model:LAYER"; those
        that contribute nothing are left out.

    """
    parts = {}
    for axis, share in zip(("east", "north"), direction, strict=True):
        parts[f"station.at/{axis}"] = TWO_SIDED_95 * position_sigma_m * share
        for layer, sigma in map_sigma_m_by_layer.items():
            parts[f"map:{layer}/{axis}"] = -TWO_SIDED_95 * sigma * share
    parts[f"edge model:{'+'.join(map_sigma_m_by_layer)}"] = doubt_m
    return {origin: part for origin, part in parts.items() if part != 0}


def guaranteed_half_width_m(
    position_sigma_m: float, map_sigma_m_by_layer: Mapping[str, float], doubt_m: float
) -> float:
    """A half width that holds at least 95 % whatever the shapes, metres.

    A distance or margin changes no faster than the station moves against the map, so the circle that holds 95 % of
    such moves bounds it: 2.448 times their sigma, plus the edge doubt.
    """
    together = sqrt(position_sigma_m**2 + sum(sigma**2 for sigma in map_sigma_m_by_layer.values()))
    return HORIZONTAL["r95"] * together + doubt_m


def bends_within(
    value_at: Callable[[float, float], float], value_m: float, direction: tuple[float, float], sigma_m: float
) -> bool:
    """Whether the value bends so much within its uncertainty that 1.96 sigma either way hold less than 93.5 %.

    Formula: the share that lies farther off is the mean over all bearings of exp(-(1.96 / g)^2 / 2), g the growth of
    the value per metre that way (5 % for an even slope, where g is the cosine; 15 % where it grows every way). Taken
    from eight bearings at 2.2 sigma. It happens where several parts or edges take turns: radials around a point, a
    value near zero. Then use `guaranteed_half_width_m`.
    Source: J. W. Craig (1991), A new, simple and exact result for calculating the probability of error; own use of it.
    Valid: for a circular normal error of the position against the map.

    Args:
        value_at: the value with the station moved by (east, north), metres.
        value_m: the value where it is.
        direction: as in `margin_parts`; bearings are counted from it.
        sigma_m: standard deviation of each axis of the station against the map.

    """
    if sigma_m == 0:
        return False
    step = _STEP * sigma_m
    first = atan2(*direction) + pi / 16
    bearings = [first + k * pi / 4 for k in range(8)]
    growths = [abs(value_at(step * sin(b), step * cos(b)) - value_m) / step for b in bearings]
    return sum(exp(-((TWO_SIDED_95 / growth) ** 2) / 2) for growth in growths if growth > 0) / 8 > _MOST_BEYOND
