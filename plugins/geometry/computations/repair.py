"""Rings that enclose nothing, cross themselves or carry spurs: put right, and said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import ArrayLike

from afield.core.api import marked
from afield.plugins.geometry.computations.planar import lengths
from afield.plugins.geometry.computations.plane import Floats, plane_at
from afield.plugins.geometry.notes import Note

GAP_M = 0.002
"""Slits up to twice this width are cuts in the data, not boundaries."""
SPUR_M = 0.005
"""Necks and spurs up to twice this width are slips in the data, not land."""
_MITRE = 50.0
"""Corners sharper than 2.3 degrees lose their tip when an area is opened or closed."""

Rings = list[Floats]


class Validity(NamedTuple):
    """What `polygon_validity` finds."""

    valid_polygon: bool
    ring_points: int
    why: str


def polygon_validity(ring_lat_lon_deg: ArrayLike) -> Validity:
    """Whether one ring is a valid polygon, how many points it has as stored, and why it is not one.

    Formula: closed, at least four points (the last repeats the first), no crossing and no touching of itself, judged in
    the plane of its first vertex.
    Source: OGC 06-103r4 (Simple Feature Access), rules for a LinearRing and a Polygon.
    Valid: rings of any number of points, also across 180 degrees and around a pole, on one side of the Earth. A ring of
    too few points is answered, not refused.

    Args:
        ring_lat_lon_deg: (n, 2) [latitude, longitude].

    Raises:
        ValueError: a point that is not on the Earth, or no list of points.

    """
    ring = _ring(ring_lat_lon_deg)
    why = _why_invalid(ring)
    return Validity(not why, len(ring), why)


def cleaned_polygons(polygons_lat_lon_deg: Sequence[Sequence[ArrayLike]]) -> tuple[list[Rings], tuple[str, ...]]:
    """Polygons without repeated points and collapsed rings, all closed, and a note for each thing changed or wrong.

    Crossing rings are kept (`repaired` resolves them in the plane) and noted here.

    Args:
        polygons_lat_lon_deg: polygons of rings of [latitude, longitude], the outer ring first.

    Returns:
        The polygons that are left; the notes.

    Raises:
        ValueError: a point that is not on the Earth, or no list of points.

    """
    kept: list[Rings] = []
    notes: list[str] = []
    for number, polygon in enumerate(polygons_lat_lon_deg, 1):
        rings = [_cleaned(_ring(ring), _ring_words(k, number), notes) for k, ring in enumerate(polygon, 1)]
        if rings and rings[0] is not None:
            kept.append([ring for ring in rings if ring is not None])
            notes.extend([*_crossing_notes(kept[-1], number), *_turn_notes(kept[-1], number)])
        elif len(rings) > 1:
            lost = marked("polygon {number} has lost its outer ring: its holes are left out too")
            notes.append(Note(lost, number=number))
    return kept, tuple(notes)


def repaired(polygon: Any) -> Any:
    """A planar polygon, made valid by its rings: crossing rings become the union of what they enclose."""
    return polygon if polygon.is_valid else shapely.make_valid(polygon, method="structure", keep_collapsed=False)


def closed_up(area: Any) -> Any:
    """An area whose slits are closed: what the data cut at 180 degrees or at tile edges is whole again."""
    return _grown(_grown(area, GAP_M), -GAP_M)


def without_spurs(area: Any) -> Any:
    """An area without necks and spurs of no width."""
    return _grown(_grown(area, -SPUR_M), SPUR_M)


def spurs_of(before: Any, after: Any, least_m: float = 0.1) -> list[tuple[float, float, float]]:
    """The pieces that opening took away and that are longer than `least_m`: (east, north, length), metres."""
    pieces = shapely.get_parts(shapely.difference(before, _grown(after, GAP_M)))
    boxes = [(piece.centroid, *piece.bounds) for piece in pieces if not piece.is_empty]
    found = [(at.x, at.y, float(np.hypot(right - left, top - low))) for at, left, low, right, top in boxes]
    return [each for each in found if each[2] > least_m]


def polygon_parts(geometry: Any) -> list[Any]:
    """The polygons of any geometry; `shapely.get_rings` says nothing of a MultiPolygon, so take these first."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return [part for part in parts if part.geom_type == "Polygon" and not part.is_empty]


def _grown(area: Any, by_m: float) -> Any:
    return shapely.buffer(area, by_m, join_style="mitre", mitre_limit=_MITRE)


def _ring(ring_lat_lon_deg: ArrayLike) -> Floats:
    ring = np.asarray(ring_lat_lon_deg, float)
    if ring.size == 0:
        return np.zeros((0, 2))
    if ring.ndim != 2 or ring.shape[1] < 2:
        raise ValueError("a ring is a list of [latitude, longitude]")
    if not np.isfinite(ring[:, :2]).all() or (np.abs(ring[:, 0]) > 90).any():
        raise ValueError("a ring's point is not on the Earth: latitudes lie within -90 to 90 degrees")
    return ring[:, :2]


def _ring_words(ring: int, polygon: int) -> Note:
    return Note(marked("ring {ring} of polygon {polygon}"), ring=ring, polygon=polygon)


def _cleaned(ring: Floats, name: Note, notes: list[str]) -> Floats | None:
    """A closed ring without repeated points, or None if it encloses nothing."""
    left: Floats = ring[_differs(ring)]
    if len(left) > 1 and not _same(left[0], left[-1]):
        left = np.concatenate([left, left[:1]])
        notes.append(Note(marked("{ring} is not closed: its last point is joined to its first"), ring=name))
    if len(left) < 4:
        few = marked("{ring} has {count} points and encloses nothing: left out")
        notes.append(Note(few, ring=name, count=len(ring)))
        return None
    if repeated := int((ring[1:] == ring[:-1]).all(axis=1).sum()):
        notes.append(Note(marked("{ring} repeats {count} of its points: left out"), ring=name, count=repeated))
    return left


def _differs(ring: Floats) -> Any:
    """Whether each point differs from the one before it."""
    if len(ring) == 0:
        return np.zeros(0, bool)
    step = np.diff(ring, axis=0)
    step[:, 1] = (step[:, 1] + 180) % 360 - 180
    return np.concatenate([[True], (step != 0).any(axis=1)])


def _same(one: Floats, other: Floats) -> bool:
    return bool(one[0] == other[0] and (one[1] - other[1]) % 360 == 0)


def _crossing_notes(rings: Rings, number: int) -> list[str]:
    """A note if the rings of a polygon cross or touch along a line, as drawn in degrees."""
    unrolled = [_unrolled(ring) for ring in rings]
    if any(ring[-1, 0] != ring[0, 0] for ring in unrolled):  # around a pole: no closed ring in degrees
        return []
    reason = shapely.is_valid_reason(shapely.Polygon(unrolled[0], unrolled[1:]))
    if reason == "Valid Geometry":
        return []
    return [Note(marked("polygon {number} is not simple ({why}): repaired"), number=number, why=_in_words(reason))]


def _turn_notes(rings: Rings, number: int) -> list[str]:
    """A note if an edge could be meant the long way round the Earth; at a pole it makes no difference."""
    for ring in rings:
        turn = np.abs(np.diff(ring[:, 1]))
        if ((turn >= 180) & (np.abs(ring[:-1, 0]) < 90) & (np.abs(ring[1:, 0]) < 90)).any():
            long = marked(
                "polygon {number} has an edge across 180 degrees of longitude or more: taken the short way round"
            )
            return [Note(long, number=number)]
    return []


def _unrolled(ring: Floats) -> Floats:
    """(longitude, latitude) with longitudes that do not jump."""
    step = (np.diff(ring[:, 1]) + 180) % 360 - 180
    unrolled = np.column_stack([ring[0, 1] + np.concatenate([[0.0], np.cumsum(step)]), ring[:, 0]])
    if abs(unrolled[-1, 0] - unrolled[0, 0]) < 1:  # but for rounding, closed again
        unrolled[-1] = unrolled[0]
    return unrolled


def _why_invalid(ring: Floats) -> str:
    if len(ring) < 4:
        return f"{len(ring)} points enclose nothing"
    if not _same(ring[0], ring[-1]):
        return "not closed"
    east, north = plane_at(ring[0, 0], ring[0, 1]).to_plane(ring[:, 0], ring[:, 1])
    points = np.column_stack([east, north])
    points[-1] = points[0]
    if not lengths(points).any():
        return "all points are the same"
    polygon = shapely.Polygon(points)
    return "" if polygon.is_valid else _in_words(shapely.is_valid_reason(polygon)).split(" at ")[0]


def _in_words(reason: str) -> str:
    """GEOS's reason, its place as latitude and longitude."""
    found = re.fullmatch(r"(.*)\[(\S+) (\S+)\]", reason)
    if found is None:
        return reason.lower()
    what, east, north = found.groups()
    return f"{what.lower()} at {float(north):.6f}, {(float(east) + 180) % 360 - 180:.6f}"
