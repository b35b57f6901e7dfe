"""Reads a GIS file of any kind that is known: told apart by what is in it, not by its name."""

from hashlib import sha256
from pathlib import Path

from afield.plugins.geometry.readers.contents import file_bytes
from afield.plugins.geometry.readers.layer import GeoFileError, Layer
from afield.plugins.geometry.readers.words import quoted_list

BYTE_ORDER_MARKS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")
KINDS = "GeoJSON, GPX, KML, shapefile (.shp), GeoPackage and FlatGeobuf files are read."
ZIP = b"PK\x03\x04"


def first_mark(data: bytes) -> bytes:
    """The first byte that is neither a byte order mark nor blank; the zero bytes of UTF-16 are passed over."""
    head = data[:1000]
    for mark in BYTE_ORDER_MARKS:
        head = head.removeprefix(mark)
    return head.lstrip(b" \t\r\n\x00")[:1]


def refuse_kind(data: bytes, shown: str) -> GeoFileError:
    """The error for a file that is no GIS file that is known."""
    if data.startswith(ZIP):
        return GeoFileError(
            f"{shown}: this is a zip archive", "Unpack it and name the file inside (a .kmz holds a .kml)."
        )
    return GeoFileError(f"{shown}: this is not a GIS file", KINDS)


def layer_of_xml(data: bytes, shown: str, digest: str, layer: str | None) -> Layer:
    """The layer of a GPX or KML file. Raises GeoFileError for other XML."""
    from afield.plugins.geometry.readers.gpx import read_gpx
    from afield.plugins.geometry.readers.kml import read_kml
    from afield.plugins.geometry.readers.xml_tree import xml_root

    root = xml_root(data, shown)
    if root.tag == "gpx":
        return read_gpx(root, shown, digest, layer)
    if root.tag == "kml":
        return only_layer(read_kml(root, shown, digest), layer)
    raise GeoFileError(f"{shown}: this is XML ({root.tag}), but neither GPX nor KML", KINDS)


def only_layer(read: Layer, layer: str | None) -> Layer:
    """The layer of a format that has but one. Raises GeoFileError where another is asked for."""
    if layer in (None, read.name):
        return read
    advice = f"It has one layer, {quoted_list([read.name])}: leave the layer out."
    raise GeoFileError(f'{read.file}: there is no layer "{layer}" in it', advice)


def read_layer(path: Path, shown: str, layer: str | None = None) -> Layer:
    """The layer of the file at `path`, in WGS 84; messages and the layer call the file `shown`.

    `layer` chooses where a file has several: a table of a GeoPackage; `tracks`, `routes` or `waypoints` of a GPX file.
    Raises GeoFileError, never half-reads. Nothing is fetched from the network, and no other file is opened but the
    companions of a shapefile.
    """
    data = file_bytes(path, shown)
    digest = sha256(data).hexdigest()
    mark = first_mark(data)
    if mark in (b"{", b"["):
        from afield.plugins.geometry.readers.geojson import read_geojson

        return only_layer(read_geojson(data, shown, digest), layer)
    if mark == b"<":
        return layer_of_xml(data, shown, digest, layer)
    from afield.plugins.geometry.readers.gis import is_gis, read_gis

    if is_gis(data):
        return read_gis(path, data, shown, digest, layer)
    raise refuse_kind(data, shown)
