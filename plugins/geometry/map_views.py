"""How much of the neighbourhood the map shows, and whether an overview is drawn besides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import hypot
from typing import Any, NamedTuple

from afield.core.api import _
from afield.plugins.geometry.pacing import FOOT_M, paced
from afield.plugins.geometry.windows import Point, Window, bounds, nearest_on_path, proportioned, round_step

LEAST_SPAN_M = 20.0
LONGEST_BAR = 0.4
"""Of the map's width."""
NEAR = 1.5
"""A boundary within this many spans of the station is drawn on the map itself; a farther one on the overview."""


class _Boundary(NamedTuple):
    """A place's boundary point nearest to the middle of the station, its distance, and half its corridor's width."""

    point: tuple[float, float]
    distance_m: float
    band_m: float


def views(data: Mapping[str, Any]) -> dict[str, Any]:
    """The map's window ("close") and the overview's ("wide", None if the map shows every boundary)."""
    station = _station_window(data)
    reach = station.span * NEAR
    boundaries = list(_boundaries(data["references"], station))
    near = [boundary for boundary in boundaries if boundary.distance_m <= reach]
    shown = [
        corner for boundary in near for corner in [boundary.point, *_around(boundary.point, boundary.band_m, reach)]
    ]
    close = proportioned(station.with_points(shown).padded(station.span * 0.12))
    summits = [reference["zone"]["summit"] for reference in data["references"] if reference.get("zone")]
    return {"close": view_of(close), "wide": _wide(close, [*(boundary.point for boundary in boundaries), *summits])}


def _wide(close: Window, points: Sequence[Point]) -> dict[str, Any] | None:
    far = [point for point in points if not close.holds(point)]
    if not far:
        return None
    window = close.with_points(far)
    return view_of(proportioned(window.padded(window.span * 0.15)))


def _station_window(data: Mapping[str, Any]) -> Window:
    points: list[Point] = [(0.0, 0.0), *(worst["point"] for worst in data["worst"])]
    for part in data["parts"]:
        radius = part["radius_m"] or 0.0
        points += [corner for point in part["points"] for corner in _around(point, radius, radius)]
    uncertain = (data["position"] or {}).get("radius_m") or 0.0
    window = bounds([*points, *_around((0.0, 0.0), uncertain, uncertain)])
    return window.padded(max(0.0, (LEAST_SPAN_M - window.span) / 2))


def _around(point: Point, distance: float, at_most: float) -> list[Point]:
    """Two corners of the square around a point; none if it would be larger than is worth showing."""
    if distance > at_most:
        return []
    return [(point[0] - distance, point[1] - distance), (point[0] + distance, point[1] + distance)]


def _boundaries(references: Sequence[Mapping[str, Any]], station: Window) -> Iterator[_Boundary]:
    middle = ((station.west + station.east) / 2, (station.south + station.north) / 2)
    for reference in references:
        paths = [*reference["lines"], *([point] for point in reference["points"])]
        feet = [nearest_on_path(path, middle) for path in paths if path]
        if feet:
            distances = [hypot(foot[0] - middle[0], foot[1] - middle[1]) for foot in feet]
            least = min(distances)
            band = (reference["corridor_m"] or 0.0) + reference["half_width_m"]
            yield _Boundary(feet[distances.index(least)], least, band)


def view_of(window: Window) -> dict[str, Any]:
    """A drawing's window with its grid and its scale bars."""
    west, south, east, north = (round(side, 2) for side in window)
    grid_m = round_step(window.span, 8)
    return {
        "window": {"west": west, "south": south, "east": east, "north": north},
        "grid_m": grid_m,
        "scale_m": _bar(window.width),
        "scale_ft": _bar(window.width / FOOT_M),
        "words": _("one square is {length}").format(length=paced(grid_m)),
    }


def _bar(width: float) -> float:
    """Length of a scale bar, in the unit of the width; a longer one would run into the compass beside it."""
    length = round_step(width, 4)
    return length if length <= LONGEST_BAR * width else round_step(width, 8)
