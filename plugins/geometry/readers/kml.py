"""KML 2.2 placemarks: points, lines and polygons with holes, WGS 84; edges are geodesics between the drawn points.

Network links, overlays and models are not followed; the notes count what was left out.
"""

from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

from afield.core.api import WrittenFloat, marked
from afield.plugins.geometry.notes import Note
from afield.plugins.geometry.readers.coordinates import wgs84_lat_lons
from afield.plugins.geometry.readers.layer import GeoFileError, Layer
from afield.plugins.geometry.readers.shapes import RawFeature, Shape, made_features
from afield.plugins.geometry.readers.words import counted
from afield.plugins.geometry.readers.xml_tree import child_text

LEFT_OUT = ("NetworkLink", "Model", "Track", "MultiTrack", "GroundOverlay")


def positions_of(text: str | None, shown: str) -> list[tuple[float, float]]:
    """The (longitude, latitude) pairs of "lon,lat[,height]" words between blanks. Raises GeoFileError."""
    words = (text or "").split()
    try:
        return [(WrittenFloat(word.split(",")[0]), WrittenFloat(word.split(",")[1])) for word in words]
    except (ValueError, IndexError):
        advice = 'Write each position "longitude,latitude" without blanks in it: "-117.3,39.9 -117.2,39.9".'
        what = f'{shown}: coordinates "{" ".join(words)[:40]}" are not pairs of numbers'
        raise GeoFileError(what, advice) from None


def ring_strings(polygon: Element, shown: str) -> list[list[tuple[float, float]]]:
    """The rings of a Polygon, the outer boundary first."""
    paths = ("outerBoundaryIs/LinearRing/coordinates", "innerBoundaryIs/LinearRing/coordinates")
    return [positions_of(ring.text, shown) for path in paths for ring in polygon.iterfind(path)]


def shapes_in(element: Element, shown: str) -> Iterator[Shape]:
    """The shapes of a Placemark or MultiGeometry, whatever its depth."""
    for child in element:
        if child.tag == "Point" and (positions := positions_of(child.findtext("coordinates"), shown)):
            yield Shape("point", [positions[:1]])
        elif child.tag in ("LineString", "LinearRing"):
            yield Shape("line", [positions_of(child.findtext("coordinates"), shown)])
        elif child.tag == "Polygon":
            yield Shape("area", list(ring_strings(child, shown)))
        elif child.tag == "MultiGeometry":
            yield from shapes_in(child, shown)


def extended_data(placemark: Element) -> dict[str, str]:
    """The Data and SimpleData of a placemark by their names, and its description."""
    made = {data.get("name", ""): child_text(data, "value") or "" for data in placemark.iterfind("ExtendedData/Data")}
    simple = placemark.iterfind("ExtendedData/SchemaData/SimpleData")
    made.update({data.get("name", ""): (data.text or "").strip() for data in simple})
    description = child_text(placemark, "description")
    return {**made, "description": description} if description else made


def left_out_note(root: Element, shown: str) -> list[str]:
    """The note on elements that are not read."""
    counts = {tag: sum(1 for _ in root.iter(tag)) for tag in LEFT_OUT}
    listed = ", ".join(counted(count, tag, f"{tag}s") for tag, count in counts.items() if count)
    return [Note(marked("{file}: not read: {elements}."), file=shown, elements=listed)] if listed else []


def read_kml(root: Element, shown: str, sha256: str) -> Layer:
    """The layer of all placemarks of a KML file. Raises GeoFileError."""
    raws = [
        RawFeature(mark.get("id"), child_text(mark, "name"), list(shapes_in(mark, shown)), extended_data(mark))
        for mark in root.iter("Placemark")
    ]
    features, notes = made_features(raws, wgs84_lat_lons, shown)
    document = root.find("Document")
    name = (child_text(document, "name") if document is not None else None) or Path(shown).stem
    notes = [*notes, *left_out_note(root, shown)]
    return Layer(name, shown, sha256, "geodesic", "WGS 84 (OGC:CRS84)", 0.0, features, notes)
