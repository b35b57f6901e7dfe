"""GeoJSON (RFC 7946): WGS 84, longitude before latitude, edges straight in longitude and latitude (section 3.1.1).

The `crs` member of the 2008 format, which RFC 7946 dropped, is still honoured.
"""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from afield.plugins.geometry.readers.coordinates import CoordinateError, wgs84_lat_lons
from afield.plugins.geometry.readers.layer import GeoFileError, Layer
from afield.plugins.geometry.readers.naming import id_in, name_in
from afield.plugins.geometry.readers.shapes import RawFeature, Shape, ToLatLon, made_features

GEOMETRIES = ("Point", "MultiPoint", "LineString", "MultiLineString", "Polygon", "MultiPolygon", "GeometryCollection")
WGS84_NAMES = {"crs84", "epsg:4326", "epsg::4326", "wgs84", "wgs 84"}
NOT_JSON = "Save it again as GeoJSON from the program that made it."


def json_document(data: bytes, shown: str) -> Any:
    """The JSON value. Raises GeoFileError with line and column where the text breaks off or is not JSON."""
    try:
        return json.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise GeoFileError(f"{shown}: the text is not UTF-8", NOT_JSON) from None
    except RecursionError:
        raise GeoFileError(f"{shown}: the JSON is nested too deeply", NOT_JSON) from None
    except json.JSONDecodeError as error:
        raise broken_json(error, shown) from None
    except ValueError:
        raise GeoFileError(f"{shown}: a number has too many digits", NOT_JSON) from None


def broken_json(error: json.JSONDecodeError, shown: str) -> GeoFileError:
    """The message for text that ends too early, or that is not JSON at a line and column."""
    rest = error.doc[error.pos :].strip()
    if not rest or error.msg.startswith("Unterminated string"):
        last = error.doc.rstrip().count("\n") + 1
        return GeoFileError(
            f"{shown}: the file breaks off in line {last}: it is cut short", "Copy or download it again."
        )
    return GeoFileError(f"{shown}:{error.lineno}:{error.colno}: this is not JSON ({error.msg.lower()})", NOT_JSON)


def feature_objects(document: Any, shown: str) -> list[Any]:
    """The GeoJSON features of the document; a bare geometry becomes one. Raises GeoFileError where it is neither."""
    kind = document.get("type") if isinstance(document, dict) else None
    if kind == "FeatureCollection" and isinstance(document.get("features"), list):
        return list(document["features"])
    if kind == "Feature":
        return [document]
    if kind in GEOMETRIES:
        return [{"type": "Feature", "geometry": document, "properties": {}}]
    if kind == "Topology":
        raise GeoFileError(f"{shown}: this is TopoJSON", "Convert it to GeoJSON.")
    advice = 'A GeoJSON file says "type": "FeatureCollection" and has a list of "features".'
    raise GeoFileError(f"{shown}: this is JSON but not GeoJSON", advice)


def listed(value: Any) -> list[Any]:
    """The value if it is a list. Raises CoordinateError otherwise."""
    if not isinstance(value, list):
        raise CoordinateError('"coordinates" is not a list', "Compare it with RFC 7946, section 3.1.")
    return value


def shapes_of(geometry: Any) -> Iterator[Shape]:
    """The simple shapes of a GeoJSON geometry; none for null and for empty coordinates. Raises CoordinateError."""
    if geometry is None:
        return
    kind = geometry.get("type") if isinstance(geometry, dict) else None
    if kind not in GEOMETRIES:
        raise CoordinateError(
            f"{str(kind)[:40]!r} is no GeoJSON geometry type", f"The types are {', '.join(GEOMETRIES)}."
        )
    if kind == "GeometryCollection":
        for member in listed(geometry.get("geometries")):
            yield from shapes_of(member)
        return
    coordinates = listed(geometry.get("coordinates"))
    parts = coordinates if kind.startswith("Multi") else [coordinates]
    yield from (simple_shape(kind.removeprefix("Multi"), listed(part)) for part in parts if part)


def simple_shape(kind: str, coordinates: list[Any]) -> Shape:
    """The shape of a Point, LineString or Polygon."""
    if kind == "Point":
        return Shape("point", [[coordinates]])
    if kind == "LineString":
        return Shape("line", [coordinates])
    return Shape("area", [listed(ring) for ring in coordinates])


def raw_feature(item: Any, number: int, shown: str) -> RawFeature:
    """One feature of the file in its own coordinates. Raises GeoFileError where it is not a GeoJSON feature."""
    if not isinstance(item, dict) or item.get("type") != "Feature":
        advice = 'Each member of "features" says "type": "Feature" and has a "geometry".'
        raise GeoFileError(f"{shown}: feature {number} is not a GeoJSON feature", advice)
    members = item.get("properties")
    properties: dict[str, Any] = members if isinstance(members, dict) else {}
    geometry = item.get("geometry")
    try:
        shapes = list(shapes_of(geometry))
    except CoordinateError as error:
        raise GeoFileError(f"{shown}: feature {number}: {error.what}", error.advice) from None
    except RecursionError:
        raise GeoFileError(f"{shown}: feature {number}: collections are nested too deeply", NOT_JSON) from None
    is_collection = isinstance(geometry, dict) and geometry.get("type") == "GeometryCollection"
    return RawFeature(id_in(item) or id_in(properties), name_in(properties), shapes, properties, is_collection)


def named_crs(document: Any, shown: str) -> str | None:
    """The name in an old `crs` member; None if absent or WGS 84. Raises GeoFileError for other forms."""
    if "crs" not in document:
        return None
    crs = document["crs"]
    name = crs.get("properties", {}).get("name") if isinstance(crs, dict) and crs.get("type") == "name" else None
    if not isinstance(name, str):
        advice = 'Remove the member "crs" if the coordinates are WGS 84, or save the file in WGS 84 (EPSG:4326).'
        raise GeoFileError(f'{shown}: the member "crs" names no coordinate reference system', advice)
    folded = name.casefold()
    return None if folded in WGS84_NAMES or folded.endswith((":crs84", ":epsg::4326")) else name


def bounds_of(raws: list[RawFeature]) -> tuple[float, float, float, float] | None:
    """The box of all positions that are numbers; None where there are none. Wrong ones are reported later."""
    strings = [string for raw in raws for shape in raw.shapes for string in shape.strings]
    points = [point for string in strings for point in string if isinstance(point, list) and len(point) > 1]
    try:
        xs, ys = [float(point[0]) for point in points], [float(point[1]) for point in points]
        return (min(xs), min(ys), max(xs), max(ys))
    except (TypeError, ValueError, OverflowError):
        return None


def read_geojson(data: bytes, shown: str, sha256: str) -> Layer:
    """The layer of a GeoJSON file. Raises GeoFileError."""
    document = json_document(data, shown)
    items = feature_objects(document, shown)
    raws = [raw_feature(item, number, shown) for number, item in enumerate(items, start=1)]
    title = document.get("name")
    name = title if isinstance(title, str) and title else Path(shown).stem
    foreign = named_crs(document, shown)
    if foreign is None:
        features, notes = made_features(raws, wgs84_lat_lons, shown)
        return Layer(name, shown, sha256, "lonlat", "WGS 84 (OGC:CRS84)", 0.0, features, notes)
    return foreign_layer(name, shown, sha256, foreign, raws)


def foreign_layer(name: str, shown: str, sha256: str, crs: str, raws: list[RawFeature]) -> Layer:
    """The layer of a file in another system than WGS 84, taken to WGS 84 by PROJ."""
    from afield.plugins.geometry.readers.datums import step_to_wgs84

    step = step_to_wgs84(crs, bounds_of(raws), shown)
    to_lat_lon: ToLatLon = step.to_lat_lon
    features, notes = made_features(raws, to_lat_lon, shown)
    return Layer(name, shown, sha256, step.edge_model, step.crs, step.accuracy_m, features, [*notes, *step.notes])
