"""References near a place: the boxes that come near it by the R*Tree, then each shape measured."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from math import asin, cos, degrees, hypot, radians, sin
from typing import Any

from afield.core.api import frozen
from afield.plugins.geometry.catalogue.measuring import LEAST_RADIUS_M, Nearest, Place, is_inside, nearest_of
from afield.plugins.geometry.catalogue.packing import Chain, unpacked
from afield.plugins.geometry.catalogue.stored import checked_reference

FARTHEST_M = 50_000.0
"""Distances are right to a centimetre within this."""

_NEAR = """
SELECT reference.id, reference.program, reference.name, reference.kind, reference.plain, reference.doubt_m,
       layer.id, layer.edge_model, shape.id, shape.rings, shape.degrees
FROM box JOIN shape ON shape.id = box.shape
JOIN reference ON reference.id = box.reference JOIN layer ON layer.id = reference.layer
WHERE box.west <= ? AND box.east >= ? AND box.south <= ? AND box.north >= ?
"""
_ROUNDING_DEG = 1e-5
"""The R*Tree keeps 32-bit floats, rounded outward: a query needs no room for it, but costs nothing either."""


@frozen
class Found:
    """A reference that holds a place or comes near it.

    Attributes:
        program: "" where the catalogue names none.
        layer: its number in the catalogue.
        inside: for an area, whether the place is inside it as drawn; None for lines and points.
        nearest: of its boundary, line or point.

    """

    program: str
    name: str
    kind: str
    layer: int
    inside: bool | None
    nearest: Nearest


@dataclass(slots=True)
class _Candidate:
    """What the catalogue holds of a reference near the place."""

    program: str
    name: str
    kind: str
    plain: bool
    doubt_m: float
    layer: int
    edge_model: str
    shapes: dict[int, list[Chain]]


def references_near(connection: sqlite3.Connection, lat_deg: float, lon_deg: float, within_m: float) -> list[Found]:
    """The references that hold the place (deepest first), then those within a distance (nearest first)."""
    place = Place(lat_deg, lon_deg)
    measured = [_measured(connection, number, each, place) for number, each in _candidates(connection, place, within_m)]
    kept = [found for found in measured if found.inside or found.nearest.distance_m <= within_m]
    return sorted(kept, key=_order)


def _order(found: Found) -> tuple[bool, float, str, str]:
    distance = found.nearest.distance_m
    return not found.inside, -distance if found.inside else distance, found.program, found.name


def _candidates(connection: sqlite3.Connection, place: Place, within_m: float) -> Iterator[tuple[int, _Candidate]]:
    found: dict[int, _Candidate] = {}
    for west, east, south, north in _search_boxes(place, within_m):
        for row in connection.execute(_NEAR, (east, west, north, south)):
            candidate = found.setdefault(row[0], _candidate(row))
            candidate.shapes[row[8]] = unpacked(row[9], row[10])
    yield from found.items()


def _candidate(row: tuple[Any, ...]) -> _Candidate:
    _, program, name, kind, plain, doubt_m, layer, edge_model, *_ = row
    checked_reference(program, name, kind, edge_model, doubt_m)
    return _Candidate(program, name, kind, bool(plain), doubt_m, layer, edge_model, {})


def _search_boxes(place: Place, within_m: float) -> Iterator[tuple[float, float, float, float]]:
    """Boxes of longitude and latitude that hold all that is within a distance."""
    angle = within_m / LEAST_RADIUS_M
    high = degrees(angle) + _ROUNDING_DEG
    south, north = place.lat - high, place.lat + high
    widest = sin(angle) / max(cos(radians(place.lat)), 1e-12)
    if widest >= 1 or south < -90 or north > 90:
        yield -180.0, 180.0, south, north
        return
    wide = degrees(asin(widest)) + _ROUNDING_DEG
    yield place.lon - wide, place.lon + wide, south, north
    if place.lon - wide < -180:
        yield place.lon - wide + 360, 180.0, south, north
    if place.lon + wide > 180:
        yield -180.0, place.lon + wide - 360, south, north


def _measured(connection: sqlite3.Connection, number: int, found: _Candidate, place: Place) -> Found:
    if found.plain:
        inside, nearest = _quickly(found, place)
    else:
        from afield.plugins.geometry.catalogue.exact import measured_exactly

        inside, nearest = measured_exactly(connection, number, found.kind, found.edge_model, place)
    return Found(found.program, found.name, found.kind, found.layer, inside, nearest)


def _quickly(found: _Candidate, place: Place) -> tuple[bool | None, Nearest]:
    shapes = found.shapes.values()
    if found.kind == "point":
        offsets = [place.offset_m(chain.lats[0], chain.lons[0]) for chains in shapes for chain in chains]
        return None, min((Nearest(hypot(*offset), *offset) for offset in offsets), key=lambda each: each.distance_m)
    inside = None
    if found.kind == "area":
        inside = any(is_inside(rings, place, found.edge_model) for rings in shapes)
    chains = [chain for each in shapes for chain in each]
    return inside, nearest_of(chains, place, found.edge_model, found.doubt_m)
