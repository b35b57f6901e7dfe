"""Where a station may stand so that all of it lies in a region: the region eroded by the station's shapes.

Source: own derivation. For a connected shape F with a point f, {p : p + F in R} is R - f without every p for which
p + F meets the boundary of R; for a straight piece s of F and a piece e of the boundary these p are the parallelogram
e + (-s). Arcs are drawn on the safe side, by at most d (1 - cos(pi / 64)) = 0.12 % of their radius d.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import cos, pi
from typing import Any

import numpy as np
import shapely

from afield.plugins.geometry.computations.footprints import Band, Part, Shape, Strokes
from afield.plugins.geometry.computations.plane import Floats

QUAD_SEGS = 16
SLIVER_M2 = 1e-4
"""Pieces of a region with less area than this are what differences leave over, not places to stand."""
THIN_M = 1e-4
"""Nor are pieces whose area is less than this times their outline: up to 0.2 mm wide, ten times the overlays' grid."""
_OUTSIDE = 1 / cos(pi / (4 * QUAD_SEGS))
"""How much a circle must grow for its chords to lie outside it."""
_PARALLEL_M2 = 1e-9
_NEARLY_PARALLEL = 1e-6
"""Sine of an angle."""
GRID_M = 1e-5
"""Overlays are made on this grid: without one GEOS 3.14 now and then loses a thin piece of a union of many, and a
station that hangs out would be let in."""


def eroded(region: Any, parts: Sequence[Part], grid_m: float | None = GRID_M) -> Any:
    """The points at which a station may stand so that all its parts lie in the region.

    Args:
        region: shapely polygons of the plane, metres; valid, may be empty.
        parts: the station's, east and north of the point where it stands; a ring is taken as a whole disk.
        grid_m: of the overlays; None is three times as quick, and right but for a rare piece too many.

    Raises:
        ValueError: no part.


    """
    shapes = [part.shape for part in parts]
    if not shapes:
        raise ValueError("the station has no part that must lie in the region")
    rings = boundary_rings(region)
    # Every connected shape lies in the region if one point of it does, and none of it meets the boundary.
    anchored = met(_anchored(region, shape) for shape in shapes)
    forbidden = [_forbidden(rings, shape) for shape in shapes if not isinstance(shape, Band)]
    if anchored.is_empty or not forbidden:
        return anchored
    return without_slivers(shapely.difference(anchored, _union(np.concatenate(forbidden), grid_m), grid_size=grid_m))


def shrunk(region: Any, by_m: float) -> Any:
    """The region without what is nearer than `by_m` to its boundary; grown where `by_m` is below 0.

    One capsule for each piece of the boundary: shrinking a whole outline at once loses too much or too little where it
    crosses or nearly touches itself (GEOS 3.14).
    """
    if by_m == 0 or region.is_empty:
        return region
    radius = by_m * _OUTSIDE if by_m > 0 else -by_m
    capsules = _union(shapely.buffer(_lines(boundary_edges(region)), radius, quad_segs=QUAD_SEGS))
    overlay = shapely.difference if by_m > 0 else shapely.union
    changed = overlay(region, capsules, grid_size=GRID_M)
    return without_slivers(changed)


def capsules(start: Floats, end: Floats, radius_m: float) -> Any:
    """All that lies within a radius of segments (n, 2); nothing where the radius is not above 0."""
    if radius_m <= 0 or not len(start):
        return shapely.Polygon()
    pieces = _lines(np.stack([start, end], axis=1))
    return _union(shapely.buffer(pieces, radius_m, quad_segs=QUAD_SEGS))


def met(regions: Iterable[Any]) -> Any:
    """What is in all regions; each step keeps polygons only, since GEOS stumbles over what it leaves between them."""
    left = None
    for region in regions:
        polygons = without_slivers(region)
        left = polygons if left is None else without_slivers(shapely.intersection(left, polygons, grid_size=GRID_M))
        if left.is_empty:
            break
    return shapely.Polygon() if left is None else left


def boundary_edges(region: Any) -> Floats:
    """The pieces of a region's boundary, holes included, as (n, 2, 2)."""
    return _edges(boundary_rings(region))


def boundary_rings(region: Any) -> list[Floats]:
    """The rings of a region's boundary, holes included, each closed, (k, 2)."""
    return [shapely.get_coordinates(ring) for part in polygons_of(region) for ring in shapely.get_rings(part)]


def _edges(rings: Sequence[Floats]) -> Floats:
    if not rings:
        return np.zeros((0, 2, 2))
    return np.concatenate([np.stack([ring[:-1], ring[1:]], axis=1) for ring in rings])


def polygons_of(region: Any) -> list[Any]:
    """The polygons of a region; `shapely.get_rings` of several at once silently gives nothing."""
    return [part for part in shapely.get_parts(region) if part.geom_type == "Polygon" and not part.is_empty]


def without_slivers(region: Any) -> Any:
    """The polygons of a region that are large enough to stand in."""
    kept = [part for part in polygons_of(region) if part.area > max(SLIVER_M2, THIN_M * part.length)]
    return shapely.multipolygons(kept) if kept else shapely.Polygon()


def _anchored(region: Any, shape: Shape) -> Any:
    """Where the first point of a shape lies in the region; for a disk or ring, where all of the disk does."""
    if isinstance(shape, Band):
        east, north = shape.centre
        return _moved(shrunk(region, shape.outer_m), -east, -north)
    first = shape.ends[0, 0] if isinstance(shape, Strokes) else shape.cells()[0].hull[0]
    return _moved(region, -float(first[0]), -float(first[1]))


def _forbidden(rings: Sequence[Floats], shape: Shape) -> Any:
    """Where the shape would meet the boundary, as polygons."""
    if isinstance(shape, Strokes):
        return _swept(rings, shape.ends)
    return np.concatenate([_hulls(_edges(rings), np.asarray(cell.hull)) for cell in shape.cells()])


def _hulls(edges: Floats, cell: Floats) -> Any:
    """Each edge (n, 2, 2) less a filled convex cell (k, 2), as polygons."""
    corners = (edges[:, :, None, :] - cell[None, None, :, :]).reshape(len(edges), -1, 2)
    return shapely.convex_hull(shapely.multipoints(corners))


def _swept(rings: Sequence[Floats], pieces: Floats) -> Any:
    """Boundaries (k, 2) less straight pieces (n, 2, 2), as polygons: one for each run of edges on one side of a piece.

    Edges that follow each other and all lead to the same side of the piece sweep one simple polygon, the union of
    their parallelograms: far fewer shapes to be joined. Edges along the piece are left out: they sweep no area.
    """
    solid = pieces[(pieces[:, 0] != pieces[:, 1]).any(axis=1)]
    found = [outline for ring in rings for piece in solid for outline in _runs_swept(ring, piece)]
    if not found:
        return np.zeros(0, dtype=object)
    owners = np.repeat(np.arange(len(found)), [len(outline) for outline in found])
    return shapely.polygons(shapely.linearrings(np.concatenate(found), indices=owners))


def _runs_swept(ring: Floats, piece: Floats) -> Iterator[Floats]:
    """The outline of what each run of a ring's edges sweeps."""
    along, edges = piece[1] - piece[0], np.diff(ring, axis=0)
    across = edges[:, 0] * along[1] - edges[:, 1] * along[0]
    steep = np.abs(across) > _NEARLY_PARALLEL * np.hypot(edges[:, 0], edges[:, 1]) * np.hypot(*along)
    side = np.where(np.abs(across) > _PARALLEL_M2, np.sign(across), 0)
    # An edge nearly along the piece stands alone: in a run its outline would all but touch itself.
    breaks = np.flatnonzero((side[1:] != side[:-1]) | ~steep[1:] | ~steep[:-1]) + 1
    for first, last in pairwise([0, *breaks.tolist(), len(edges)]):
        if side[first]:
            run = ring[first : last + 1]
            yield np.concatenate([run - piece[0], run[::-1] - piece[1]])


def _union(shapes: Any, grid_m: float | None = GRID_M) -> Any:
    return shapely.union_all(shapes, grid_size=grid_m)


def _moved(region: Any, east_m: float, north_m: float) -> Any:
    return shapely.transform(region, lambda points: points + np.array([east_m, north_m]))


def _lines(edges: Floats) -> Any:
    return shapely.linestrings(edges)
