"""The full method, for references that the quick measures are not right for: as a plan's own margins are measured."""

from __future__ import annotations

import sqlite3
from typing import Any

from afield.plugins.geometry.catalogue.measuring import Nearest, Place
from afield.plugins.geometry.catalogue.reading import feature_of
from afield.plugins.geometry.computations.areas import area_around, least_inside
from afield.plugins.geometry.computations.footprints import point_part
from afield.plugins.geometry.computations.lines import farthest_from_line, line_around
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.computations.worst import Worst

HERE = (point_part("here", (0.0, 0.0)),)


def measured_exactly(
    connection: sqlite3.Connection, number: int, kind: str, edge_model: str, place: Place
) -> tuple[bool | None, Nearest]:
    """Whether the place is inside (None for a line), and the nearest point of the boundary or line.

    An area that encloses nothing once it is repaired has its rings measured as lines, and holds no place.
    """
    feature = feature_of(connection, number, "", kind)
    if kind == "line":
        return None, _of_lines(feature.lines, place, edge_model)
    try:
        area = area_around(feature.areas, plane_at(place.lat, place.lon), 1.0, edge_model)
    except ValueError:
        return False, _of_lines([ring for rings in feature.areas for ring in rings], place, edge_model)
    worst = least_inside(HERE, area)
    return worst.value_m > 0, _nearest(worst)


def _of_lines(lines: list[Any], place: Place, edge_model: str) -> Nearest:
    return _nearest(farthest_from_line(HERE, line_around(lines, plane_at(place.lat, place.lon), 1.0, edge_model)))


def _nearest(worst: Worst) -> Nearest:
    return Nearest(abs(worst.value_m), *worst.nearest_m, worst.edge_doubt_m)
