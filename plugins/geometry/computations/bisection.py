"""Edges cut into straight pieces, finely near the station and coarsely far away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from afield.core.api import frozen
from afield.plugins.geometry.computations.courses import Course, Indices, Vertices
from afield.plugins.geometry.computations.planar import lengths, paired_distances_m
from afield.plugins.geometry.computations.plane import Floats, Plane

Booleans = NDArray[np.bool_]

SAG_M = 0.0002
"""The most that a chord near the station may leave its curve."""
RADIUS_M = 6371008.8
"""Mean radius of the Earth (IUGG)."""
_LONG_M = 100_000.0
_MOST_ROUNDS = 60


@frozen
class Pieces:
    """Pieces of edges: between which shares of which edge, and where their ends lie in the plane, (n,) or (n, 2)."""

    edge: Indices
    share0: Floats
    share1: Floats
    start: Floats
    end: Floats

    def where(self, chosen: Booleans | Indices) -> Pieces:
        """Some of the pieces."""
        return Pieces(self.edge[chosen], self.share0[chosen], self.share1[chosen], self.start[chosen], self.end[chosen])


def corners_of(ends: Vertices, line: Indices, plane: Plane) -> tuple[Floats, Floats]:
    """Both ends of edges in the plane; a vertex that two edges share is projected once."""
    start = np.column_stack(plane.to_plane(ends.lat0, ends.lon0))
    end = np.roll(start, -1, axis=0)
    last = np.flatnonzero(np.diff(line, append=-1))
    end[last] = np.column_stack(plane.to_plane(ends.lat1[last], ends.lon1[last]))
    return start, end


def bisected(
    ends: Vertices, corners: tuple[Floats, Floats], plane: Plane, course: Course, reach_m: float, window_m: float
) -> tuple[Pieces, float]:
    """Edges halved until no piece sags more than it may.

    Args:
        ends, course: the edges and the curves that they follow.
        corners: their ends in the plane, (m, 2) each.
        plane: centred on the station.
        reach_m: how far the station reaches from there.
        window_m: the least distance within which all pieces are to be true.

    Returns:
        The pieces, in no order; the distance within which they are true to SAG_M.

    """
    count = len(ends.lat0)
    live = Pieces(np.arange(count), np.zeros(count), np.ones(count), *corners)
    nearest_m = min(float(lengths(corner).min()) for corner in corners)
    steepness, done = steepness_of(ends), []
    for _ in range(_MOST_ROUNDS):
        near_m = max(window_m, nearest_m + 2 * reach_m + 1.0)
        doubtful = _may_sag(live, steepness[live.edge], near_m)
        done.append(live.where(~doubtful))
        live = live.where(doubtful)
        inner = _inner_points(live, plane, course)
        split = _sags(live, inner, near_m)
        done.append(live.where(~split))
        live = _halves(live.where(split), inner[1][split])
        if not len(live.edge):
            break
        nearest_m = min(nearest_m, float(lengths(live.start).min()))
    return _joined([*done, live]), max(window_m, nearest_m + 2 * reach_m + 1.0)


def _allowed_m(lower_m: Floats, near_m: float) -> Floats:
    """How much a piece may sag: next to nothing where it matters, beyond that a tenth of how far beyond it lies."""
    return np.asarray(np.maximum.reduce([np.full_like(lower_m, SAG_M), 2e-8 * lower_m, (lower_m - near_m) / 10]))


def _may_sag(pieces: Pieces, steepness: Floats, near_m: float) -> Booleans:
    """Whether a piece's curve can leave its chord: a quick bound, twice the curvature that edge and plane can have."""
    length, distance = lengths(pieces.end - pieces.start), _distances_m(pieces)
    bulge = length**2 * (1.1 * steepness + (distance + length) / RADIUS_M) / (4 * RADIUS_M)
    return np.asarray((bulge > _allowed_m(distance - 2 * bulge, near_m)) | (length > _LONG_M))


def _inner_points(pieces: Pieces, plane: Plane, course: Course) -> tuple[Floats, Floats, Floats]:
    """The points of each curve at a quarter, a half and three quarters."""
    span = pieces.share1 - pieces.share0
    quarter, half, three = (
        np.column_stack(plane.to_plane(*course(pieces.edge, pieces.share0 + share * span)))
        for share in (0.25, 0.5, 0.75)
    )
    return quarter, half, three


def _sags(pieces: Pieces, inner: tuple[Floats, Floats, Floats], near_m: float) -> Booleans:
    """Whether a piece must be halved."""
    sag = np.maximum.reduce([paired_distances_m(points, pieces.start, pieces.end) for points in inner])
    lower = np.maximum(_distances_m(pieces) - 2 * sag, 0.0)
    length = lengths(pieces.end - pieces.start)
    # Three points can miss the bends of a very long curve, unless it is far away as seen from the station.
    unsure = (length > _LONG_M) & (length > lower / 2)
    return np.asarray((sag > _allowed_m(lower, near_m)) | unsure)


def _distances_m(pieces: Pieces) -> Floats:
    return paired_distances_m(np.zeros_like(pieces.start), pieces.start, pieces.end)


def _halves(pieces: Pieces, middle: Floats) -> Pieces:
    share = (pieces.share0 + pieces.share1) / 2
    return _joined([replace(pieces, share1=share, end=middle), replace(pieces, share0=share, start=middle)])


def _joined(parts: Sequence[Pieces]) -> Pieces:
    return Pieces(
        np.concatenate([part.edge for part in parts]),
        np.concatenate([part.share0 for part in parts]),
        np.concatenate([part.share1 for part in parts]),
        np.concatenate([part.start for part in parts]),
        np.concatenate([part.end for part in parts]),
    )


def steepness_of(ends: Vertices) -> Floats:
    """Tangent of the highest latitude of each edge, finite at the poles."""
    highest = np.radians(np.maximum(np.abs(ends.lat0), np.abs(ends.lat1)))
    return np.asarray(np.sin(highest) / np.maximum(np.cos(highest), 1e-12))
