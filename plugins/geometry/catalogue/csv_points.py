"""Points from a table of text: a heading, then a row a point, with latitude and longitude in degrees of WGS 84."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from hashlib import sha256
from io import StringIO
from pathlib import Path

from afield.plugins.geometry.position_form import PositionError
from afield.plugins.geometry.positions import Axis, angle_of, refuse_off_earth
from afield.plugins.geometry.readers import Feature, GeoFileError, Layer
from afield.plugins.geometry.readers.contents import file_bytes
from afield.plugins.geometry.readers.naming import id_in, name_in
from afield.plugins.geometry.readers.words import quoted_list

SUFFIXES = (".csv", ".tsv")
COLUMNS: dict[Axis, tuple[str, ...]] = {
    "lat": ("lat", "latitude", "lat_deg", "latitude_deg"),
    "lon": ("lon", "longitude", "lon_deg", "longitude_deg", "lng", "long"),
}
"""What the heading may call them, in any case."""


def read_csv_points(path: Path, shown: str) -> Layer:
    """The layer of points. Raises GeoFileError, with the line, for whatever cannot be read."""
    data = file_bytes(path, shown)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise GeoFileError(f"{shown}: the text is not UTF-8", "Save it again as UTF-8.") from None
    features = list(_features(text, shown))
    if not features:
        raise GeoFileError(f"{shown}: there are no rows below the heading", "Write a row for each point.")
    digest = sha256(data).hexdigest()
    return Layer(Path(shown).stem, shown, digest, "geodesic", "WGS 84 (OGC:CRS84)", 0.0, features, [])


def _features(text: str, shown: str) -> Iterator[Feature]:
    first = text.partition("\n")[0]
    rows = csv.reader(StringIO(text), delimiter=max(",;\t", key=first.count), strict=True)
    heading = [word.strip() for word in next(rows, [])]
    columns = {axis: _column(axis, heading, shown) for axis in COLUMNS}
    try:
        for row in rows:
            if any(cell.strip() for cell in row):
                yield _feature(row, heading, columns, f"{shown}:{rows.line_num}:1")
    except csv.Error as error:
        raise GeoFileError(f"{shown}:{rows.line_num}:1: {error}", "Mend the quotation marks of that line.") from None


def _column(axis: Axis, heading: Sequence[str], shown: str) -> str:
    found = [word for word in heading if word.casefold() in COLUMNS[axis]]
    if len(found) == 1:
        return found[0]
    due = f"Call one column {COLUMNS[axis][0]}. The heading has {quoted_list(heading)}."
    how_many = f"are {len(found)} columns" if found else "is no column"
    raise GeoFileError(f"{shown}:1:1: there {how_many} for the {COLUMNS[axis][1]}", due)


def _feature(row: Sequence[str], heading: Sequence[str], columns: dict[Axis, str], place: str) -> Feature:
    if len(row) != len(heading):
        advice = "Give every row as many cells as the heading; put text with the separator in it in double quotes."
        raise GeoFileError(f"{place}: there are {len(row)} cells under a heading of {len(heading)}", advice)
    values = dict(zip(heading, row, strict=True))
    try:
        lat, lon = (_angle(values[columns[axis]], axis) for axis in COLUMNS)
        refuse_off_earth(lat, lon)
    except PositionError as error:
        raise GeoFileError(f"{place}: {error.what}", error.advice) from None
    properties = {key: value.strip() for key, value in values.items()}
    return Feature(id_in(properties), name_in(properties), "point", points=[(lat, lon)], properties=properties)


def _angle(text: str, axis: Axis) -> float:
    try:
        return float(text)
    except ValueError:
        return angle_of(text.strip(), axis)
