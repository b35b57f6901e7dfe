"""Edges laid into the station's plane: cut so finely near the station that a chord stands for its curve."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin, tan

import numpy as np
from numpy.typing import ArrayLike

from afield.core.api import frozen
from afield.plugins.geometry.computations.bisection import RADIUS_M, Booleans, bisected, corners_of, steepness_of
from afield.plugins.geometry.computations.courses import Indices, Vertices, course_of
from afield.plugins.geometry.computations.planar import paired_distances_m
from afield.plugins.geometry.computations.plane import Floats, Plane


@frozen
class Edges:
    """Straight pieces of edges in the plane, in the order of their lines.

    Attributes:
        start, end: (n, 2) metres east and north.
        source: (n,) number of the edge that each piece belongs to.
        line: (n,) number of the line that each piece belongs to.
        doubt_m: (n,) how far the readings of that edge may lie apart (`edge_doubt_m`).
        precise_m: pieces nearer to the station than this are true to SAG_M.

    """

    start: Floats
    end: Floats
    source: Indices
    line: Indices
    doubt_m: Floats
    precise_m: float

    def vertices(self, line: int) -> Floats:
        """The vertices (k, 2) of one line."""
        of_line = self.line == line
        return np.concatenate([self.start[of_line], self.end[of_line][-1:]])

    def where(self, kept: Booleans) -> Edges:
        """Some of the pieces."""
        return Edges(
            self.start[kept], self.end[kept], self.source[kept], self.line[kept], self.doubt_m[kept], self.precise_m
        )

    def near(self, reach_m: float) -> Edges:
        """The pieces that, however they are read, can be nearest to a point within `reach_m` of the plane's centre."""
        distance = paired_distances_m(np.zeros_like(self.start), self.start, self.end)
        return self.where(distance - self.doubt_m <= distance.min() + 2 * reach_m + 0.01)


def planar_edges(
    lines_lat_lon_deg: Sequence[ArrayLike],
    plane: Plane,
    reach_m: float,
    edge_model: str = "lonlat",
    window_m: float = 0.0,
) -> Edges:
    """Edges of lines in the plane, cut by bisection until each piece near the station sags less than SAG_M.

    Near is what may be nearest to some point of a station that reaches `reach_m` from the plane's centre, and all
    within `window_m`; what lies farther is cut only so finely that it cannot look near. Consecutive vertices are joined
    within a line, never from line to line; longitudes go the short way round.

    Args:
        lines_lat_lon_deg: lines of [latitude, longitude], (k, 2) each; lines of fewer than two points have no edge.
        plane: centred on the station.
        reach_m: how far the station reaches from its centre.
        edge_model: a key of `courses.EDGE_MODELS`.
        window_m: the least distance within which all edges are true.

    Raises:
        ValueError: no edge at all, an unknown edge model, or a vertex that is not on the Earth.

    """
    points = [_points(line) for line in lines_lat_lon_deg]
    line = np.repeat(np.arange(len(points)), [max(len(each) - 1, 0) for each in points])
    if not len(line):
        raise ValueError("there is no edge: a line needs at least two points")
    ends = _ends([each for each in points if len(each) > 1])
    pieces, precise_m = bisected(
        ends, corners_of(ends, line, plane), plane, course_of(edge_model, ends), reach_m, window_m
    )
    order = np.lexsort((pieces.share0, pieces.edge))
    pieces = pieces.where(order)
    return Edges(pieces.start, pieces.end, pieces.edge, line[pieces.edge], _doubts_m(ends)[pieces.edge], precise_m)


def edge_doubt_m(length_m: float, latitude_deg: float, azimuth_deg: float | None = None) -> float:
    """How far an edge's readings (straight in longitude and latitude, geodesic) may lie apart, metres.

    Formula: L^2 tan(f) / (8 R), the sagitta of a parallel against the geodesic between two of its points; an edge of
    known azimuth takes min(1.06, 1.5 |sin azimuth|) times that; never more than L / 2, right for an edge across a pole.
    Source: own derivation; the factors are fitted to computed separations.
    Valid: within 3 % for edges along parallels of up to 100 km that stay away from the poles.

    Args:
        length_m: length of the edge, at least 0.
        latitude_deg: the highest latitude on it.
        azimuth_deg: direction of the edge, from north.

    Raises:
        ValueError: a length below 0 or a latitude outside -90 to 90.

    """
    if length_m < 0 or abs(latitude_deg) > 90:
        raise ValueError("an edge's length is at least 0 m and its latitude within -90 to 90 degrees")
    slant = 1.0 if azimuth_deg is None else min(1.06, 1.5 * abs(sin(radians(azimuth_deg))))
    if cos(radians(latitude_deg)) < 1e-9:
        return slant * length_m / 2
    return slant * min(length_m**2 * tan(radians(abs(latitude_deg))) / (8 * RADIUS_M), length_m / 2)


def _points(line_lat_lon_deg: ArrayLike) -> Floats:
    points = np.asarray(line_lat_lon_deg, float)
    points = points.reshape(-1, 2) if points.size == 0 else points
    if points.ndim != 2 or points.shape[1] < 2:
        raise ValueError("a line is a list of [latitude, longitude]")
    if not np.isfinite(points[:, :2]).all() or (np.abs(points[:, 0]) > 90).any():
        raise ValueError("a vertex is not on the Earth: latitudes lie within -90 to 90 degrees")
    return points[:, :2]


def _ends(lines: Sequence[Floats]) -> Vertices:
    first = np.concatenate([line[:-1] for line in lines])
    last = np.concatenate([line[1:] for line in lines])
    turn = (last[:, 1] - first[:, 1] + 180) % 360 - 180
    return Vertices(first[:, 0], first[:, 1], last[:, 0], first[:, 1] + turn)


def _doubts_m(ends: Vertices) -> Floats:
    """`edge_doubt_m` of every edge, lengths by the middle latitude."""
    north = np.radians(ends.lat1 - ends.lat0) * RADIUS_M
    east = np.radians(ends.lon1 - ends.lon0) * np.cos(np.radians((ends.lat0 + ends.lat1) / 2)) * RADIUS_M
    length = np.hypot(north, east)
    slant = np.minimum(1.06, 1.5 * np.abs(east) / np.maximum(length, 1e-9))
    return np.asarray(slant * np.minimum(length**2 * steepness_of(ends) / (8 * RADIUS_M), length / 2))
