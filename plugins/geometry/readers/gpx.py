"""GPX 1.0 and 1.1: tracks, routes and waypoints, WGS 84; edges are geodesics between the recorded points.

The segments of a track are never joined: between them the receiver was off, and an edge across would be invented.
"""

from collections.abc import Iterable
from pathlib import Path
from xml.etree.ElementTree import Element

from afield.core.api import WrittenFloat
from afield.plugins.geometry.readers.coordinates import wgs84_lat_lons
from afield.plugins.geometry.readers.layer import GeoFileError, Layer
from afield.plugins.geometry.readers.shapes import RawFeature, Shape, made_features
from afield.plugins.geometry.readers.words import near_name, quoted_list
from afield.plugins.geometry.readers.xml_tree import child_text

LAYERS = {"tracks": "trk", "routes": "rte", "waypoints": "wpt"}
TEXTS = ("cmt", "desc", "type", "sym", "ele", "time", "number")


def position_of(point: Element, shown: str) -> tuple[float, float]:
    """(longitude, latitude) of a point element. Raises GeoFileError where the attributes are absent or no numbers."""
    try:
        return (WrittenFloat(point.attrib["lon"]), WrittenFloat(point.attrib["lat"]))
    except (KeyError, ValueError):
        lat, lon = point.get("lat"), point.get("lon")
        what = f"{shown}: a {point.tag} has lat={lat!r} and lon={lon!r}: not two numbers"
        raise GeoFileError(what, 'A point is written <trkpt lat="39.9" lon="-117.3">, in degrees.') from None


def shapes_in(element: Element, shown: str) -> list[Shape]:
    """The shapes of a trk (one line a segment), rte (one line) or wpt (one point)."""
    if element.tag == "wpt":
        return [Shape("point", [[position_of(element, shown)]])]
    if element.tag == "rte":
        return [Shape("line", [[position_of(point, shown) for point in element.iterfind("rtept")]])]
    segments = element.iterfind("trkseg")
    return [Shape("line", [[position_of(point, shown) for point in segment.iterfind("trkpt")]]) for segment in segments]


def raw_features(elements: Iterable[Element], shown: str) -> list[RawFeature]:
    """The tracks, routes and waypoints as raw features."""
    made = []
    for element in elements:
        properties = {tag: text for tag in TEXTS if (text := child_text(element, tag))}
        made.append(RawFeature(None, child_text(element, "name"), shapes_in(element, shown), properties))
    return made


def tags_of(layer: str | None, shown: str) -> list[str]:
    """The elements that the layer means; all of them where none is named. Raises GeoFileError."""
    if layer is None:
        return list(LAYERS.values())
    if layer not in LAYERS:
        advice = f"{near_name(layer, list(LAYERS))}Its layers are {quoted_list(LAYERS)}."
        raise GeoFileError(f'{shown}: there is no layer "{layer}" in it', advice)
    return [LAYERS[layer]]


def read_gpx(root: Element, shown: str, sha256: str, layer: str | None) -> Layer:
    """The layer of a GPX file, or of its tracks, routes or waypoints alone. Raises GeoFileError."""
    tags = tags_of(layer, shown)
    elements = [element for element in root if element.tag in tags]
    features, notes = made_features(raw_features(elements, shown), wgs84_lat_lons, shown)
    metadata = root.find("metadata")
    name = child_text(metadata if metadata is not None else root, "name") or Path(shown).stem
    return Layer(layer or name, shown, sha256, "geodesic", "WGS 84 (OGC:CRS84)", 0.0, features, notes)
