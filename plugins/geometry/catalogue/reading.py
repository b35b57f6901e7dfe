"""References of a catalogue as features, as the readers of GIS files give them, for the full method and for plans."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

from afield.plugins.geometry.catalogue.layout import CatalogueError
from afield.plugins.geometry.catalogue.opening import opened
from afield.plugins.geometry.catalogue.packing import Chain, unpacked
from afield.plugins.geometry.catalogue.stored import checked_reference, stored_layers
from afield.plugins.geometry.readers import Feature, GeoFileError, LatLon, Layer
from afield.plugins.geometry.readers.coordinates import wrapped
from afield.plugins.geometry.readers.words import near_name, quoted_list

_NAMED = """
SELECT reference.id, reference.program, reference.name, reference.kind, reference.layer, reference.doubt_m,
       layer.edge_model
FROM reference JOIN layer ON layer.id = reference.layer WHERE reference.name = ? ORDER BY reference.id
"""


class Named(NamedTuple):
    """A row of the query."""

    id: int
    program: str
    name: str
    kind: str
    layer: int
    doubt_m: float
    edge_model: str


def feature_of(connection: sqlite3.Connection, number: int, name: str, kind: Any) -> Feature:
    """The reference of that number, its lines whole again."""
    rows = connection.execute(
        "SELECT part, rings, degrees FROM shape WHERE reference = ? ORDER BY id", (number,)
    ).fetchall()
    parts = [(part, unpacked(rings, degrees)) for part, rings, degrees in rows]
    if kind == "point":
        return Feature(None, name, kind, points=[_points(chains[0])[0] for _, chains in parts])
    if kind == "area":
        return Feature(None, name, kind, areas=[[_points(ring) for ring in rings] for _, rings in parts])
    lines = groupby(parts, key=lambda each: each[0])
    return Feature(None, name, kind, lines=[_joined([chains[0] for _, chains in pieces]) for _, pieces in lines])


def _joined(pieces: Sequence[Chain]) -> list[LatLon]:
    first, *rest = map(_points, pieces)
    return [*first, *(point for piece in rest for point in piece[1:])]


def _points(chain: Chain) -> list[LatLon]:
    return [(lat, _turned(lon)) for lat, lon in zip(chain.lats, chain.lons, strict=True)]


def _turned(lon: float) -> float:
    """The longitude within -180 to 180; lines around the Earth may run on for several turns."""
    while not -180 <= lon <= 180:
        lon = wrapped(lon)
    return lon


def catalogue_layer(path: Path, shown: str, name: str | None, program: str | None) -> tuple[Layer, dict[str, Any]]:
    """The layer that holds one reference, with that reference alone in it, and what is stated of the layer.

    Args:
        path: the catalogue.
        shown: how messages call it.
        name: the reference's.
        program: its award program, where the catalogue has the name in several.

    Raises:
        GeoFileError: the catalogue cannot be used, or the name is in it not once.

    """
    try:
        with opened(path, shown) as connection:
            found = _row_of(connection, shown, name, program)
            feature = feature_of(connection, found.id, found.name, found.kind)
            stored = stored_layers(connection, [found.layer])[found.layer]
    except CatalogueError as error:
        raise GeoFileError(f"{error.file}: {error.what}", error.advice) from error
    keys = ("name", "file", "sha256", "edge_model", "crs", "datum_accuracy_m")
    return Layer(**{key: stored[key] for key in keys}, features=[feature], notes=stored["notes"]), stored


def _row_of(connection: sqlite3.Connection, shown: str, name: str | None, program: str | None) -> Named:
    """The only reference that is meant."""
    if name is None:
        advice = "Write the reference's name: `name: ...`; `afield near` lists those near a position."
        raise GeoFileError(f"{shown}: this is a catalogue, and no name is given", advice)
    rows = [Named(*row) for row in connection.execute(_NAMED, (name,))]
    for row in rows:
        checked_reference(row.program, row.name, row.kind, row.edge_model, row.doubt_m)
    fitting = [row for row in rows if program in (None, row.program)]
    if len(fitting) == 1:
        return fitting[0]
    if not rows:
        what = f'{shown}: there is no reference of the name "{name}" in it'
        raise GeoFileError(
            what, near_name(name, _alike(connection, name)) + "`afield near` lists those near a position."
        )
    programs = quoted_list(row.program for row in rows if row.program)
    if not fitting:
        raise GeoFileError(
            f'{shown}: "{name}" is not in it for the program "{program}"',
            f"It is there for {programs}." if programs else "It is there for no program.",
        )
    what = f'{shown}: there are {len(fitting)} references of the name "{name}" in it'
    raise GeoFileError(what, f"Write the program that is meant as `layer:`: {programs}.")


def _alike(connection: sqlite3.Connection, name: str) -> list[str]:
    """Some names that begin alike, to guess from."""
    pattern = name[:3].replace("%", "").replace("_", "") + "%"
    return [row[0] for row in connection.execute("SELECT name FROM reference WHERE name LIKE ? LIMIT 2000", (pattern,))]
