"""Where a station afloat may be: the circle in which it swings at anchor, and the legs of a track under way."""

from __future__ import annotations

from math import hypot, sqrt
from typing import Any

import numpy as np
import shapely
from numpy.typing import ArrayLike

from afield.plugins.geometry.computations.planar import lengths
from afield.plugins.geometry.computations.plane import Floats
from afield.plugins.geometry.computations.positions import checked_number

STILL_M = 1e-6
"""A shorter leg has no length."""


def anchor_swing_radius(rode_m: float, depth_m: float, bow_height_m: float, bow_to_farthest_m: float) -> float:
    """How far any part of an anchored boat may be from its anchor, metres.

    Formula: sqrt(rode^2 - (depth + bow height)^2) + bow to farthest part: the rode taut and straight. A rode that only
    just reaches the bottom leaves the bow above the anchor: then the last term alone.
    Source: own derivation (Pythagoras).
    Valid: level bottom, an anchor that holds, a rode that does not stretch (nylon may by a tenth and more). Use the
    shallowest depth of the stay: it gives the widest circle.

    Args:
        rode_m: chain and rope let out, from the bow.
        depth_m: of the water at the anchor.
        bow_height_m: of the point where the rode leaves the boat, above the water.
        bow_to_farthest_m: from there to the farthest part of the station.

    Raises:
        ValueError: a length that is not finite or below 0.

    """
    named = {"rode": rode_m, "depth": depth_m, "bow height": bow_height_m, "distance from the bow": bow_to_farthest_m}
    for name, length in named.items():
        if checked_number(length, name) < 0:
            raise ValueError(f"{name} {length:g} m is negative")
    upright = depth_m + bow_height_m
    return sqrt(max(rode_m**2 - upright**2, 0.0)) + bow_to_farthest_m


def turn_between_fixes(leg_m: float, turn_radius_m: float) -> float:
    """How far a boat may have been from the straight line between two fixes, metres.

    Formula: d^2 / (8 r), the height of an arc over its chord, at most half the chord.
    Source: own derivation.
    Valid: one turn of no less than this radius between the fixes, at a steady speed.

    Args:
        leg_m: distance of the fixes.
        turn_radius_m: of the tightest turn.

    Raises:
        ValueError: a length below 0, or a radius that is not above 0.

    """
    if checked_number(leg_m, "leg") < 0 or checked_number(turn_radius_m, "radius of the turn") <= 0:
        raise ValueError(f"a leg of {leg_m:g} m and turns of {turn_radius_m:g} m: both must be above 0")
    return min(leg_m**2 / (8 * turn_radius_m), leg_m / 2)


def minutes_within(points_m: ArrayLike, minutes: ArrayLike, region: Any) -> Floats:
    """Of each leg of a track, the minutes within a region.

    Formula: times go evenly along the straight leg, so a leg counts by the share of its length that lies in the region;
    a leg without length counts whole if its point does.
    Source: own derivation.
    Valid: a boat that keeps its speed between fixes.

    Args:
        points_m: (n, 2) east and north of the fixes.
        minutes: (n,) their times.
        region: shapely polygons of the same plane.

    """
    points = np.asarray(points_m, float)
    spans = np.diff(np.asarray(minutes, float))
    start, end = points[:-1], points[1:]
    whole = lengths(end - start)
    shapely.prepare(region)
    legs = shapely.linestrings(np.stack([start, end], axis=1))
    inside = shapely.length(shapely.intersection(legs, region))
    still = shapely.covers(region, shapely.points(start)).astype(float)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(whole > STILL_M, inside / whole, still)
    return np.asarray(spans * np.clip(share, 0.0, 1.0))


def greatest_distance(points_m: ArrayLike) -> float:
    """The greatest distance of any two points (n, 2), metres: between corners of their convex hull."""
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(np.asarray(points_m, float))))
    return max(hypot(*(one - other)) for one in hull for other in hull)
