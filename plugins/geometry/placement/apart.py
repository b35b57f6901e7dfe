"""How far a reference is from the middle of the window, roughly and at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf
from typing import Any

import numpy as np
import shapely

from afield.plugins.geometry.computations.plane import Floats, Plane
from afield.plugins.geometry.reference_facts import Place

DEGREE_M = 111_700.0
"""No degree of a meridian or of the equator is longer."""


def apart_m(place: Place, plane: Plane) -> float:
    """Distance from the plane's centre to the nearest vertex, less half the longest edge: never too much; 0 within.

    Distances from the centre are exact in the plane, so this holds for a place on another continent.
    """
    if place.kind == "area" and any(_around_centre(rings, plane) for rings in place.areas):
        return 0.0
    return min((_nearest_m(line, plane) for line in _lines(place)), default=inf)


def _lines(place: Place) -> Iterator[Sequence[Any]]:
    yield from place.lines
    yield from (ring for rings in place.areas for ring in rings)
    yield from ([point] for point in place.points)


def _nearest_m(line: Sequence[Any], plane: Plane) -> float:
    points = np.asarray(line, float)
    away = float(np.hypot(*plane.to_plane(points[:, 0], points[:, 1])).min())
    turns = (np.diff(points[:, 1]) + 180) % 360 - 180
    longest = np.hypot(np.diff(points[:, 0]), turns).max(initial=0.0) * DEGREE_M
    return max(0.0, away - float(longest) / 2)


def _around_centre(rings: Sequence[Any], plane: Plane) -> bool:
    outer = shapely.make_valid(shapely.Polygon(_laid(rings[0], plane))) if len(rings[0]) > 2 else shapely.Polygon()
    return bool(shapely.intersects(outer, shapely.Point(0, 0)))


def _laid(ring: Sequence[Any], plane: Plane) -> Floats:
    points = np.asarray(ring, float)
    return np.stack(plane.to_plane(points[:, 0], points[:, 1]), axis=1)
