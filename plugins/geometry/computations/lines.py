"""How far a station reaches from a line, from a point, and what a corridor looks like."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import ArrayLike

from afield.core.api import frozen, marked
from afield.plugins.geometry.computations.edges import Edges, planar_edges
from afield.plugins.geometry.computations.footprints import Band, Offset, Part, reach_m
from afield.plugins.geometry.computations.planar import lengths, segment_distances_m
from afield.plugins.geometry.computations.plane import Floats, Plane, plane_at
from afield.plugins.geometry.computations.worst import TOLERANCE_M, Worst, farthest_point, local, nearest_of, unit
from afield.plugins.geometry.notes import Digits, Note


@frozen
class Line:
    """A line reference around a station.

    Attributes:
        edges: its pieces in the station's plane.
        near: those of them that can matter to a station of this reach.
        reach_m: good for stations that reach no farther than this from the plane's centre.

    """

    edges: Edges
    near: Edges
    reach_m: float


def line_around(
    lines_lat_lon_deg: Sequence[ArrayLike], plane: Plane, reach_m: float, edge_model: str = "lonlat"
) -> Line:
    """Lay a line of one or several pieces into a station's plane; pieces are never joined.

    Raises ValueError if there is no edge, a vertex is not on the Earth, or the edge model is unknown.
    """
    edges = planar_edges(lines_lat_lon_deg, plane, reach_m, edge_model)
    return Line(edges, edges.near(reach_m), reach_m)


def farthest_from_line(parts: Sequence[Part], line: Line) -> Worst:
    """The point of the station that is farthest from a line: the directed Hausdorff distance from station to line.

    Formula: max over points p of the station of min over edges e of |p - e|, by branch and bound to 1 mm: the farthest
    point may be the middle of a wire whose ends are both near the line.
    Source: own derivation.
    Valid: within the reach that the line was laid out for. Planar error below 1 mm for lines within 10 km.

    Raises:
        ValueError: no part, or parts that reach farther than the line was laid out for.

    """
    _check_reach(parts, line.reach_m)
    start, end = local(line.near.start, line.near.end, line.reach_m)
    found = [(farthest_point(part.shape.cells(), start, end), part.name) for part in parts]
    (value, point, slack), name = max(found, key=lambda each: each[0][0])
    nearest, number = nearest_of(point, start, end)
    return Worst(
        value_m=value,
        part=name,
        point_m=_pair(point),
        nearest_m=_pair(nearest),
        direction=unit(point - nearest, end[number] - start[number]),
        edge_doubt_m=doubt_at_m(point, line.near),
        notes=slack_notes(slack),
    )


def farthest_from_point(parts: Sequence[Part], point_m: Offset) -> Worst:
    """The point of the station that is farthest from a point of the plane, exactly.

    Raises ValueError if there is no part.
    """
    if not parts:
        raise ValueError("the station has no part to measure from")
    centre = np.asarray(point_m, float)
    found = [(_farthest_of(part, centre), part.name) for part in parts]
    point, name = max(found, key=lambda each: float(lengths(each[0] - centre)))
    away = point - centre
    return Worst(float(lengths(away)), name, _pair(point), _pair(centre), unit(away, np.zeros(2)))


def point_to_polyline_distance(
    point_lat_deg: float, point_lon_deg: float, lines_lat_lon_deg: Sequence[ArrayLike], edge_model: str = "lonlat"
) -> float:
    """Distance of a point from the nearest of one or several lines along the ground of the ellipsoid, metres.

    Formula: least distance to the pieces of all edges in the azimuthal equidistant plane of the point; edges are cut by
    bisection until their curve is met within 0.2 mm. Pieces of a track are never joined; the nearest point may lie
    inside an edge.
    Source: own derivation; edges as RFC 7946, 3.1.1 ("lonlat"), as geodesics, or as rhumb lines.
    Valid: everywhere on WGS 84. Error below 0.5 mm, or 2e-8 of the distance where that is more.

    Args:
        point_lat_deg, point_lon_deg: the point.
        lines_lat_lon_deg: lines of [latitude, longitude]; one line alone may be given as its points.
        edge_model: "lonlat", "geodesic" or "rhumb".

    Raises:
        ValueError: no edge, a position that is not on the Earth, an unknown edge model.

    """
    lines = as_lines(lines_lat_lon_deg)
    edges = planar_edges(lines, plane_at(point_lat_deg, point_lon_deg), 0.0, edge_model)
    return float(segment_distances_m(np.zeros((1, 2)), edges.start, edges.end).min())


def corridor(line: Line, half_width_m: float, window_m: float = 5000.0) -> Any:
    """The corridor around a line within `window_m` of the station, to draw: a shapely geometry of the plane.

    The union of one capsule for each piece: growing a whole line at once loses much of a closed trail that crosses
    itself (GEOS 3.14). Arcs are inscribed, 32 chords a quarter: up to 0.03 % of the half width short, the safe side.

    Raises:
        ValueError: a half width that is not above 0.

    """
    if not half_width_m > 0:
        raise ValueError(f"a corridor's half width is more than 0 m, not {half_width_m} m")
    edges = line.edges
    near = segment_distances_m(np.zeros((1, 2)), edges.start, edges.end)[0] <= window_m + half_width_m
    pieces = shapely.linestrings(np.stack([edges.start[near], edges.end[near]], axis=1))
    return shapely.union_all(shapely.buffer(pieces, half_width_m, quad_segs=32))


def as_lines(lines_lat_lon_deg: Sequence[ArrayLike]) -> Sequence[ArrayLike]:
    """Lines as given; the points of a single line become one line."""
    first: Any = lines_lat_lon_deg[0] if len(lines_lat_lon_deg) else []
    return [np.asarray(lines_lat_lon_deg)] if np.ndim(first) == 1 and np.size(first) else lines_lat_lon_deg


def doubt_at_m(point: Floats, edges: Edges) -> float:
    """How far the distance of a point from edges can change if the edges are read otherwise, metres.

    The nearest edge may move by its doubt, and another one, farther but longer, may come nearer than it.
    """
    distance = segment_distances_m(point[None, :], edges.start, edges.end)[0]
    value = float(distance.min())
    nearer = value - float(np.maximum(distance - edges.doubt_m, 0.0).min())
    farther = float((distance + edges.doubt_m).min()) - value
    return max(nearer, farther, 0.0)


def slack_notes(slack_m: float) -> tuple[str, ...]:
    """A note if the search was cut short."""
    if slack_m <= 1.01 * TOLERANCE_M:
        return ()
    sentence = marked("the farthest point is found to within {distance} m only: the shapes are very detailed")
    return (Note(sentence, distance=Digits(f"{slack_m:.3f}")),)


def _check_reach(parts: Sequence[Part], laid_out_m: float) -> None:
    if not parts:
        raise ValueError("the station has no part to measure from")
    if reach_m(parts) > laid_out_m + 1e-6:
        raise ValueError(
            f"the station reaches {reach_m(parts):.3f} m, the reference was laid out for {laid_out_m:.3f} m"
        )


def _farthest_of(part: Part, centre: Floats) -> Floats:
    shape = part.shape
    if isinstance(shape, Band):
        middle = np.asarray(shape.centre)
        return np.asarray(middle + shape.outer_m * np.asarray(unit(middle - centre, np.zeros(2))))
    corners = np.concatenate([cell.hull for cell in shape.cells()])
    return np.asarray(corners[int(np.argmax(lengths(corners - centre)))])


def _pair(point: Floats) -> Offset:
    return float(point[0]), float(point[1])
