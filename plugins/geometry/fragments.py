"""What the geometry plugin adds to a plan's claims and to a pack's references."""

from __future__ import annotations

from typing import Any

from afield.core.api import Fragment
from afield.plugins.geometry.station_keys import STATION, summit_keys

KINDS = ("line", "area", "point", "summit")


def _text(title: str, example: str) -> dict[str, Any]:
    return {"type": "string", "minLength": 1, "title": title, "x-example": example}


def _length(title: str, example: str) -> dict[str, Any]:
    return {"type": "string", "title": title, "x-dimension": "length", "x-example": example}


def geometry(fact: str) -> dict[str, Any]:
    """Schema of the place of a reference on the map; states the fact."""
    return {
        "type": "object",
        "title": "geometry of the reference",
        "x-fact": fact,
        "x-example": {"file": "geometry/trail.geojson", "source": "county survey 2021", "map_accuracy": "5 m"},
        "properties": {
            "kind": {"type": "string", "enum": list(KINDS), "title": "kind of reference", "x-example": "line"},
            "file": _text("file with the geometry", "geometry/trail.geojson"),
            "layer": _text("layer of the file", "trails"),
            "name": _text("name of the feature", "Cinder Crossing"),
            "id": {"type": ["string", "integer"], "title": "id of the feature", "x-example": "358"},
            "id_field": _text("field that holds the id", "UNIT_ID"),
            "source": _text("source of the geometry", "county survey 2021"),
            "map_accuracy": {
                **_length("accuracy of the map", "5 m"),
                "x-form": "never exact: what the map's maker states",
                "x-most": "1000 km",
            },
            "level": {
                "type": "string",
                "title": "level of the map's accuracy",
                "x-dimension": "ratio",
                "x-example": "95 %",
            },
            "edge_model": {
                "type": "string",
                "enum": ["lonlat", "geodesic", "rhumb"],
                "title": "what joins two vertices",
                "x-example": "lonlat",
            },
            **summit_keys(),
        },
        "anyOf": [{"required": ["file"]}, {"required": ["elevation"]}],
    }


def fragments() -> list[Fragment]:
    """A claim may bring its own geometry; a reference has a kind and a geometry; a station a height, or a boat."""
    kind = {
        "type": "string",
        "enum": list(KINDS),
        "title": "kind of reference",
        "x-fact": "reference.listed_kind",
        "x-example": "line",
    }
    return [
        Fragment("plan", "station", STATION),
        Fragment("plan", "claims[]", {"geometry": geometry("claim.geometry")}),
        Fragment("references", "/", {"kind": kind, "geometry": geometry("reference.listed_geometry")}, ("kind",)),
    ]
