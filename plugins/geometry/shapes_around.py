"""The reference around the station as plain JSON, for drawing: metres east and north, clipped to a window."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from afield.plugins.geometry.computations.accuracy import HORIZONTAL
from afield.plugins.geometry.reference_facts import Place

if TYPE_CHECKING:
    from afield.plugins.geometry.computations.plane import Plane

WINDOW_M = 2000.0


def shape_around(place: Place, plane: Plane, half_width_m: float) -> dict[str, Any]:
    """Lines, areas and points of the place in the station's plane."""
    return {
        "kind": place.kind,
        "lines": _lines(place, plane) if place.kind == "line" else [],
        "areas": _areas(place, plane) if place.kind == "area" else [],
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


def _lines(place: Place, plane: Plane) -> list[Any]:
    import shapely

    from afield.plugins.geometry.computations.lines import line_around

    edges = line_around(place.lines, plane, WINDOW_M, place.edge_model).edges
    pieces = [shapely.LineString([start, end]) for start, end in zip(edges.start, edges.end, strict=True)]
    joined = shapely.line_merge(shapely.union_all(pieces)) if pieces else shapely.MultiLineString()
    return [_coordinates(line) for line in shapely.get_parts(_clipped(joined)) if line.geom_type == "LineString"]


def _areas(place: Place, plane: Plane) -> list[Any]:
    import shapely

    from afield.plugins.geometry.computations.areas import area_around

    area = area_around(place.areas, plane, WINDOW_M, place.edge_model)
    polygons = [part for part in shapely.get_parts(_clipped(area.geometry)) if part.geom_type == "Polygon"]
    return [[_coordinates(ring) for ring in (polygon.exterior, *polygon.interiors)] for polygon in polygons]


def _clipped(geometry: Any) -> Any:
    import shapely

    return shapely.clip_by_rect(geometry, -WINDOW_M, -WINDOW_M, WINDOW_M, WINDOW_M)


def _coordinates(line: Any) -> list[list[float]]:
    return [[round(east, 2), round(north, 2)] for east, north in line.coords]
