"""How far inside an area a station stays."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import ArrayLike

from afield.core.api import frozen, marked
from afield.plugins.geometry.computations.edges import Edges, planar_edges
from afield.plugins.geometry.computations.footprints import Band, Part, reach_m
from afield.plugins.geometry.computations.lines import doubt_at_m, slack_notes
from afield.plugins.geometry.computations.planar import lengths, segment_distances_m
from afield.plugins.geometry.computations.plane import Floats, Plane
from afield.plugins.geometry.computations.repair import (
    Rings,
    cleaned_polygons,
    closed_up,
    polygon_parts,
    repaired,
    spurs_of,
    without_spurs,
)
from afield.plugins.geometry.computations.worst import Worst, farthest_point, local, nearest_of, unit
from afield.plugins.geometry.notes import Digits, Note

_FRAME_M = 0.02
_EARTH_M = 2.1e7


@frozen
class Area:
    """An area around a station: dissolved, repaired, and clipped far beyond what matters.

    Attributes:
        geometry: shapely geometry of the plane, clipped to a square of half side `window_m`.
        start, end: (n, 2) its boundary; cuts in the data and the clip are no boundary.
        doubts: the boundary again, each piece with the doubt of the edge it comes from.
        reach_m: good for stations that reach no farther than this from the plane's centre.
        window_m: half side of the square.
        notes: what was wrong with its rings.

    """

    geometry: Any
    start: Floats
    end: Floats
    doubts: Edges
    reach_m: float
    window_m: float
    notes: tuple[str, ...]

    def signed_m(self, points: Floats) -> Floats:
        """Distance of points (k, 2) from the boundary, positive inside, metres (k,)."""
        return np.asarray(segment_distances_m(points, self.start, self.end).min(axis=1) * self.side_of(points))

    def side_of(self, points: Floats) -> Floats:
        """+1 for points (k, 2) inside or on the boundary, -1 outside."""
        return np.where(shapely.covers(self.geometry, shapely.points(points)), 1.0, -1.0)


def area_around(
    polygons_lat_lon_deg: Sequence[Sequence[ArrayLike]], plane: Plane, reach_m: float, edge_model: str = "lonlat"
) -> Area:
    """Lay an area of one or several polygons into a station's plane, dissolved and repaired.

    Polygons that overlap or touch become one; slits of up to 4 mm (data cut at 180 degrees or at tile edges) are
    closed; spurs and necks of up to 10 mm are taken off; crossing rings are made valid; collapsed ones are left out.
    All but the slits is told in `notes`.

    Args:
        polygons_lat_lon_deg: polygons of rings of [latitude, longitude], the outer ring first.
        plane: centred on the station.
        reach_m: how far the station reaches from its centre.
        edge_model: a key of `courses.EDGE_MODELS`.

    Raises:
        ValueError: no ring that encloses anything, a point that is not on the Earth, an unknown edge model.

    """
    polygons, notes = cleaned_polygons(polygons_lat_lon_deg)
    if not polygons:
        raise ValueError("the area has no ring that encloses anything")
    window_m = 0.0
    while window_m < _EARTH_M:
        area = _within(polygons, notes, plane, reach_m, edge_model, window_m)
        if len(area.start) and _nearest_m(area) + 2 * reach_m < area.window_m:
            return area
        window_m = 4 * area.window_m
    raise ValueError("the area has no boundary: its rings enclose nothing once repaired")


def least_inside(parts: Sequence[Part], area: Area) -> Worst:
    """How far the station stays inside an area: the least signed distance of its points from the boundary.

    Positive: all of it is inside, by at least this. Negative: the deepest point outside is this far from the area.

    Formula: min over points p of the station of the signed distance of p; exact where a part does not cross the
    boundary, else by branch and bound to 1 mm (the signed distance changes no faster than one moves).
    Source: own derivation.
    Valid: within the reach that the area was laid out for. Planar error below 1 mm for boundaries within 10 km.

    Raises:
        ValueError: no part, or parts that reach farther than the area was laid out for.

    """
    if not parts:
        raise ValueError("the station has no part to measure from")
    if reach_m(parts) > area.reach_m + 1e-6:
        raise ValueError(
            f"the station reaches {reach_m(parts):.3f} m, the reference was laid out for {area.reach_m:.3f} m"
        )
    start, end = local(area.start, area.end, area.reach_m)
    found = [(_least_of(part, area, start, end), part.name) for part in parts]
    (value, point, slack), name = min(found, key=lambda each: each[0][0])
    nearest, number = nearest_of(point, start, end)
    inward = (point - nearest) if value > 0 else (nearest - point)
    return Worst(
        value_m=value,
        part=name,
        point_m=(float(point[0]), float(point[1])),
        nearest_m=(float(nearest[0]), float(nearest[1])),
        direction=_inward(inward, nearest, end[number] - start[number], area),
        edge_doubt_m=doubt_at_m(point, area.doubts),
        notes=(*area.notes, *slack_notes(slack)),
    )


def _least_of(part: Part, area: Area, start: Floats, end: Floats) -> tuple[float, Floats, float]:
    """The least signed distance of one part, where, and how much less another point may have."""
    clear, point = _clearance(part, start, end)
    if clear > 0 and area.side_of(point[None, :])[0] > 0:
        return clear, point, 0.0
    depth, point, slack = farthest_point(part.shape.cells(), start, end, lambda points: -area.side_of(points))
    return -depth, point, slack


def _clearance(part: Part, start: Floats, end: Floats) -> tuple[float, Floats]:
    """Distance between a part and a boundary, exactly, and the part's nearest point; 0 if they meet."""
    if isinstance(part.shape, Band):
        return _band_clearance(part.shape, start, end)
    boundary = shapely.multilinestrings(list(np.stack([start, end], axis=1)))
    shortest = shapely.get_coordinates(shapely.shortest_line(part.shape.outline(), boundary))
    return float(lengths(shortest[1] - shortest[0])), shortest[0]


def _band_clearance(band: Band, start: Floats, end: Floats) -> tuple[float, Floats]:
    centre = np.asarray(band.centre)
    nearest = segment_distances_m(centre[None, :], start, end)[0]
    farthest = np.maximum(lengths(start - centre), lengths(end - centre))
    outside, within = nearest - band.outer_m, band.inner_m - farthest
    clear = np.maximum(outside, within)
    number = int(np.argmin(clear))
    on_rim = band.outer_m if outside[number] >= within[number] else band.inner_m
    target = (
        nearest_of(centre, start[[number]], end[[number]])[0]
        if on_rim == band.outer_m
        else max(start[number], end[number], key=lambda vertex: float(lengths(vertex - centre)))
    )
    return max(float(clear[number]), 0.0), centre + on_rim * np.asarray(unit(target - centre, np.zeros(2)))


def _inward(vector: Floats, nearest: Floats, along: Floats, area: Area) -> tuple[float, float]:
    """The direction in which the margin grows; for a point on the boundary, the normal on whose side the area lies."""
    direction = np.asarray(unit(vector, along))
    if lengths(vector) <= 1e-7 and area.side_of((nearest + 0.01 * direction)[None, :])[0] < 0:
        direction = -direction
    return float(direction[0]), float(direction[1])


def _nearest_m(area: Area) -> float:
    return float(segment_distances_m(np.zeros((1, 2)), area.start, area.end).min())


def _within(
    polygons: list[Rings], notes: tuple[str, ...], plane: Plane, reach_m: float, edge_model: str, window_m: float
) -> Area:
    edges = planar_edges([ring for rings in polygons for ring in rings], plane, reach_m, edge_model, window_m)
    half = max(window_m, edges.precise_m) + 1.0
    square = shapely.box(-half, -half, half, half)
    shapes = [shapely.intersection(repaired(shape), square) for shape in _shapes(polygons, edges)]
    whole = closed_up(shapely.union_all([part for shape in shapes for part in polygon_parts(shape)]))
    opened = without_spurs(whole)
    shapely.prepare(opened)
    start, end = _boundary(opened, half)
    notes = (*notes, *_strip_notes(whole, opened, plane, half))
    return Area(opened, start, end, _doubts(edges.near(half), start, end, half), reach_m, half, notes)


def _shapes(polygons: list[Rings], edges: Edges) -> list[Any]:
    """The planar polygons, rings in the order of the edges' lines."""
    cuts = np.flatnonzero(np.diff(edges.line)) + 1
    rings = [np.concatenate([ring, ring[:1]]) for ring in np.split(edges.start, cuts)]
    shapes, first = [], 0
    for polygon in polygons:
        of_polygon = rings[first : first + len(polygon)]
        shapes.append(shapely.Polygon(of_polygon[0], of_polygon[1:]))
        first += len(polygon)
    return shapes


def _boundary(area: Any, half_m: float) -> tuple[Floats, Floats]:
    """The segments of an area's rings that are not the clip's."""
    rings = [shapely.get_coordinates(ring) for part in polygon_parts(area) for ring in shapely.get_rings(part)]
    if not rings:
        return np.zeros((0, 2)), np.zeros((0, 2))
    start = np.concatenate([ring[:-1] for ring in rings])
    end = np.concatenate([ring[1:] for ring in rings])
    on_frame = [(side * start[:, k] > half_m - _FRAME_M) & (side * end[:, k] > half_m - _FRAME_M)
                for side in (1, -1) for k in (0, 1)]  # fmt: skip
    real = ~np.logical_or.reduce(on_frame)
    return start[real], end[real]


def _strip_notes(before: Any, after: Any, plane: Plane, half_m: float) -> list[str]:
    """What opening took away, but for what the clip left along its frame."""
    found = [each for each in spurs_of(before, after) if max(abs(each[0]), abs(each[1])) < half_m - 1]
    places = [(*plane.to_lat_lon(east, north), length) for east, north, length in found]
    sentence = marked("a strip less than 1 cm wide, {length} m long, near {lat}, {lon}: taken off")
    return [
        Note(sentence, length=Digits(f"{length:.1f}"), lat=f"{float(lat):.5f}", lon=f"{float(lon):.5f}")
        for lat, lon, length in places
    ]


def _doubts(edges: Edges, start: Floats, end: Floats, half_m: float) -> Edges:
    """The pieces that lie on the boundary, or beyond the clip where that is not known."""
    pieces = shapely.linestrings(np.stack([edges.start, edges.end], axis=1))
    clipped = shapely.clip_by_rect(pieces, -half_m, -half_m, half_m, half_m)
    seen = ~shapely.is_empty(clipped)
    kept = ~seen
    if len(start) and seen.any():
        boundary = shapely.multilinestrings(list(np.stack([start, end], axis=1)))
        shapely.prepare(boundary)
        kept[seen] = shapely.dwithin(
            boundary, shapely.line_interpolate_point(clipped[seen], 0.5, normalized=True), 0.01
        )
    return edges.where(kept)
