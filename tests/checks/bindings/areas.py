"""Cases of geometry_time.yaml about lines and areas, adapted to the computations, with readers of their data sets."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from afield.plugins.geometry.computations.accuracy import three_way_decision
from afield.plugins.geometry.computations.lines import point_to_polyline_distance
from afield.plugins.geometry.computations.membership import point_in_polygon, point_in_polygon_class, point_in_polygons
from afield.plugins.geometry.computations.repair import polygon_validity

CHECK_FILE = "geometry_time.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]
Rings = list[list[tuple[float, float]]]
Areas = dict[Any, list[Rings]]

IGNORED: dict[str, set[str]] = {
    # The field that the reader of coutwildrnp.shp takes the ids from.
    "point_in_polygons": {"key_field"},
}

DATA = Path(__file__).parents[2] / "data"
TRAIL = "pypi gpxpy==1.6.2 sdist, test_files/Mojstrovka.gpx"
GPX = "{http://www.topografix.com/GPX/1/0}"


def _ring(ring: Any) -> list[tuple[float, float]]:
    return [(float(lat), float(lon)) for lon, lat in ring]


def _polygons(geometry: Mapping[str, Any]) -> list[Rings]:
    polygons = [geometry["coordinates"]] if geometry["type"] == "Polygon" else geometry["coordinates"]
    return [[_ring(ring) for ring in polygon] for polygon in polygons]


def _geojson(name: str) -> Areas:
    features = json.loads((DATA / name).read_text(encoding="utf-8"))["features"]
    return {feature.get("id"): _polygons(feature["geometry"]) for feature in features}


def _shapefile(name: str, key: str) -> Areas:
    import shapely
    from pyogrio.raw import read
    from pyproj import CRS, Transformer

    meta, _, geometries, columns = read(DATA / name, columns=[key])
    # Only out of the plane into degrees of the same datum: the data are taken as WGS 84.
    projected = CRS.from_user_input(meta["crs"])
    degrees = Transformer.from_crs(projected, projected.geodetic_crs, always_xy=True)
    shapes = shapely.transform(shapely.from_wkb(geometries), degrees.transform, interleaved=False)
    found = [json.loads(text) for text in shapely.to_geojson(shapes)]
    return {identity: _polygons(shape) for identity, shape in zip(columns[0].tolist(), found, strict=True)}


READERS: dict[str, Callable[[], Areas]] = {
    "coutwildrnp.shp": lambda: _shapefile("us_wilderness/coutwildrnp.shp", "WILDRNP020"),
    "rmnp.geojson": lambda: _geojson("rocky_mountain_park/rmnp.geojson"),
    "nybb.shp": lambda: _shapefile("nyc_boroughs/nybb.shp", "BoroName"),
    "counties-10m.json objects.counties": lambda: _geojson("us_counties/counties.geojson"),
    "countries-10m.json objects.countries": lambda: _geojson("world_countries/countries.geojson"),
}


@lru_cache
def _areas(dataset: str) -> Areas:
    return READERS[dataset]()


def _trail(dataset: str) -> list[list[tuple[float, float]]]:
    if dataset != TRAIL:
        raise ValueError(f"no reader for {dataset}")
    segments = ElementTree.parse(DATA / "trail_mojstrovka/Mojstrovka.gpx").iter(f"{GPX}trkseg")
    return [[(float(point.attrib["lat"]), float(point.attrib["lon"])) for point in segment] for segment in segments]


def _within(distance_m: float, half_width_m: float) -> bool:
    return three_way_decision(distance_m, half_width_m, 0.0) == "inside"


def _point(inputs: Inputs) -> tuple[float, float]:
    return inputs["point"]["lat"], inputs["point"]["lon"]


def _point_to_polyline_distance(inputs: Inputs) -> Answer:
    widths = inputs.get("corridor_half_width_m", [])
    if "dataset" in inputs:
        distance = point_to_polyline_distance(*_point(inputs), _trail(inputs["dataset"]))
        return {"distance_m": distance, "within_corridor": all(_within(distance, width) for width in widths)}
    found = {
        model: point_to_polyline_distance(*_point(inputs), [inputs["line_lat_lon"]], model)
        for model in ("geodesic", "lonlat")
    }
    within = {model: {str(width): _within(one, width) for width in widths} for model, one in found.items()}
    return {f"distance_m_{model}_edges": one for model, one in found.items()} | {"within_corridor": within}


def _park_and_wilderness(inputs: Inputs) -> Answer:
    wilderness, park = (_areas(name) for name in inputs["datasets"])
    in_wilderness = point_in_polygons(*_point(inputs), wilderness)
    [polygons] = park.values()
    in_park = point_in_polygon(*_point(inputs), polygons)
    return {
        "wilderness_ids": in_wilderness.containing_ids,
        "in_rmnp": in_park.inside,
        "distance_to_rmnp_boundary_m": in_park.distance_to_boundary_m,
    }


def _point_in_polygons(inputs: Inputs) -> Answer:
    if "datasets" in inputs:
        return _park_and_wilderness(inputs)
    areas = _areas(inputs["dataset"])
    candidates = inputs.get("candidate_ids", list(areas))
    found = point_in_polygons(*_point(inputs), {identity: areas[identity] for identity in candidates})
    own = found.containing_ids[0] if found.containing_ids else found.nearest_boundary_id
    return {
        **found._asdict(),
        "boroughs": found.containing_ids,
        "distance_to_own_or_nearest_boundary_m": found.distance_to_boundary_m[own],
    }


def _point_in_polygon(inputs: Inputs) -> Answer:
    if "dataset" in inputs:
        [polygons] = _areas(inputs["dataset"]).values()
        return point_in_polygon(*_point(inputs), polygons)._asdict()
    polygons = [[_ring(ring)] for ring in inputs["multipolygon_lon_lat"]]
    found = [point_in_polygon(lat, lon, polygons) for lat, lon in inputs["points_lat_lon"]]
    return {"inside_or_boundary": [one.inside_or_boundary for one in found]}


def _point_in_polygon_class(inputs: Inputs) -> Answer:
    rings = [_ring(inputs["polygon"][name]) for name in ("outer_lon_lat", "hole_lon_lat")]
    return {"class": point_in_polygon_class(inputs["points_lat_lon"], [rings])}


def _polygon_validity(inputs: Inputs) -> Answer:
    [[ring]] = _areas(inputs["dataset"])[inputs["id"]]
    return polygon_validity(ring)._asdict()


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {
    "point_to_polyline_distance": _point_to_polyline_distance,
    "point_in_polygons": _point_in_polygons,
    "point_in_polygon": _point_in_polygon,
    "point_in_polygon_class": _point_in_polygon_class,
    "polygon_validity": _polygon_validity,
}
