"""The reference around the station as plain JSON, for drawing: metres east and north, clipped to a window."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from afield.plugins.geometry.computations.accuracy import HORIZONTAL
from afield.plugins.geometry.reference_facts import Place

if TYPE_CHECKING:
    from afield.plugins.geometry.computations.plane import Plane

WINDOW_M = 2000.0


def shape_around(place: Place, plane: Plane, half_width_m: float, window_m: float = WINDOW_M) -> dict[str, Any]:
    """Lines, areas and points of the place in the station's plane, cut off at `window_m` to each side."""
    return {
        "kind": place.kind,
        "lines": _lines(place, plane, window_m) if place.kind == "line" else [],
        "areas": _areas(place, plane, window_m) if place.kind == "area" else [],
        "points": [_point(plane, point) for point in place.points],
        "layer": place.layer,
        "file": place.layer.split("#", 1)[0],
        "source": place.source,
        "map_uncertainty_m": round(place.map_sigma_m * HORIZONTAL["r95"], 2),
        "edge_model": place.edge_model,
        "half_width_m": half_width_m,
        "notes": list(place.notes),
    }


def _point(plane: Plane, point: tuple[float, float]) -> list[float]:
    east, north = plane.to_plane(*point)
    return [round(float(east), 2), round(float(north), 2)]


def _lines(place: Place, plane: Plane, window_m: float) -> list[Any]:
    import shapely

    from afield.plugins.geometry.computations.lines import line_around

    edges = line_around(place.lines, plane, window_m, place.edge_model).edges
    pieces = [shapely.LineString([start, end]) for start, end in zip(edges.start, edges.end, strict=True)]
    joined = shapely.line_merge(shapely.union_all(pieces)) if pieces else shapely.MultiLineString()
    return [
        _coordinates(line) for line in shapely.get_parts(_clipped(joined, window_m)) if line.geom_type == "LineString"
    ]


def _areas(place: Place, plane: Plane, window_m: float) -> list[Any]:
    import shapely

    from afield.plugins.geometry.computations.areas import area_around

    area = area_around(place.areas, plane, window_m, place.edge_model)
    polygons = [part for part in shapely.get_parts(_clipped(area.geometry, window_m)) if part.geom_type == "Polygon"]
    return [[_coordinates(ring) for ring in (polygon.exterior, *polygon.interiors)] for polygon in polygons]


def _clipped(geometry: Any, window_m: float) -> Any:
    import shapely

    return shapely.clip_by_rect(geometry, -window_m, -window_m, window_m, window_m)


def _coordinates(line: Any) -> list[list[float]]:
    return [[round(east, 2), round(north, 2)] for east, north in line.coords]
