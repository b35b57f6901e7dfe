"""What is found near a position, as JSON by schemas/near.json: distances with what makes them uncertain."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from math import atan2, degrees, hypot
from typing import Any

from afield.core.api import frozen, marked
from afield.plugins.geometry.catalogue.asked import Asked
from afield.plugins.geometry.catalogue.looking import Found, references_near
from afield.plugins.geometry.catalogue.stored import stored_layers
from afield.plugins.geometry.computations.doubt import guaranteed_half_width_m, sigma_m

SCHEMA = "urn:afield:schema:near:1"
WORDS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
PLANE_PER_M2 = 1.15e-3 / 6.37e6**2
"""A distance d in the plane of a place is off by up to this times d^3: 4 mm at 50 km, 4 m at 500 km (own derivation:
the sphere's radius stands for radii that differ from it by up to 0.34 %)."""
NO_MAP_ACCURACY = marked("the accuracy of the map is not stated")
NO_DATUM_ACCURACY = marked("the step from the map's datum to WGS 84 has no stated accuracy")


@frozen(slots=False)
class Doubt:
    """What a distance is uncertain by.

    Attributes:
        half_width_m: 95 %; None where it cannot be told, and why then.

    """

    half_width_m: float | None
    why: str | None = None


def findings(
    connection: sqlite3.Connection, shown: str, asked: Asked, within_m: float, reach_m: float | None
) -> dict[str, Any]:
    """All that is found, ready to be printed."""
    form = asked.form
    found = references_near(connection, form.lat_deg, form.lon_deg, within_m)
    layers = stored_layers(connection, sorted({each.layer for each in found}))
    references = [_reference(each, asked, layers[each.layer], reach_m) for each in found]
    return {
        "schema": SCHEMA,
        "position": _position(asked),
        "catalogue": {"file": shown, "references": _count(connection)},
        "within_m": within_m,
        "reach_m": reach_m,
        "layers": [{"number": number, **layer} for number, layer in layers.items()],
        "references": references,
        "whole_inside": None if reach_m is None else [number for number, each in enumerate(references) if _holds(each)],
        "trip": None,
    }


def _holds(reference: Mapping[str, Any]) -> bool:
    return bool(reference["reach"] and reference["reach"]["finding"] == "inside")


def _count(connection: sqlite3.Connection) -> int:
    return int(connection.execute("SELECT coalesce(max(id), 0) FROM reference").fetchone()[0])


def _position(asked: Asked) -> dict[str, Any]:
    form = asked.form
    return {
        "lat": form.lat_deg, "lon": form.lon_deg, "form": form.form,
        "bound_m": [round(side, 3) for side in form.resolution_m],
        "accuracy_m": asked.accuracy_m, "level": asked.level, "notes": list(form.notes),
    }  # fmt: skip


def _reference(found: Found, asked: Asked, layer: Mapping[str, Any], reach_m: float | None) -> dict[str, Any]:
    doubt = doubt_of(found, asked, layer)
    distance, half = found.nearest.distance_m, doubt.half_width_m
    bearing = degrees(atan2(found.nearest.east_m, found.nearest.north_m)) % 360
    return {
        "program": found.program or None, "name": found.name, "kind": found.kind, "layer": found.layer,
        "inside": found.inside,
        "sure": None if found.inside is None else half is not None and distance >= half,
        "distance_m": round(distance, 3), "uncertainty_m": None if half is None else round(half, 3),
        "unknown_because": doubt.why, "edge_doubt_m": round(found.nearest.doubt_m, 3),
        "bearing_deg": round(bearing, 1) % 360, "towards": WORDS[round(bearing / 45) % 8],
        "reach": None if reach_m is None else reach_finding(found, half, reach_m),
    }  # fmt: skip


def doubt_of(found: Found, asked: Asked, layer: Mapping[str, Any]) -> Doubt:
    """What the distance is uncertain by, at 95 %: a bound that holds whatever the shapes.

    Formula: 2.448 times the sigma of position and map together, plus the edges' doubt; with it, by root sum of squares,
    the box that the position's digits or locator leave open, the datum's step, and what the plane is off by.
    Source: as `computations.doubt.guaranteed_half_width_m`.
    """
    if layer["map_accuracy_m"] is None:
        return Doubt(None, NO_MAP_ACCURACY)
    if layer["datum_accuracy_m"] is None:
        return Doubt(None, NO_DATUM_ACCURACY)
    map_sigma = sigma_m(layer["map_accuracy_m"], layer["level"] or 68)
    width = guaranteed_half_width_m(asked.sigma_m, {"map": map_sigma}, found.nearest.doubt_m)
    plane = PLANE_PER_M2 * found.nearest.distance_m**3
    return Doubt(hypot(width, *asked.form.resolution_m, layer["datum_accuracy_m"], plane))


def reach_finding(found: Found, half_width_m: float | None, reach_m: float) -> dict[str, Any]:
    """Where a station lies that reaches so far from the position, at any bearing.

    Of an area: "inside", "outside", "by bearing" (the position is inside, but nearer to the boundary than the station
    reaches) or "cannot tell". Of a line or point there is a distance only, which none of its parts exceeds.
    """
    distance = found.nearest.distance_m
    if found.inside is None:
        return {"finding": None, "farthest_m": round(distance + reach_m, 3)}
    return {"finding": _side(distance if found.inside else -distance, half_width_m, reach_m), "farthest_m": None}


def _side(signed_m: float, half_width_m: float | None, reach_m: float) -> str:
    if half_width_m is None:
        return "cannot tell"
    if signed_m - half_width_m >= reach_m:
        return "inside"
    if signed_m + half_width_m < -reach_m:
        return "outside"
    if signed_m >= half_width_m and signed_m + half_width_m < reach_m:
        return "by bearing"
    return "cannot tell"
