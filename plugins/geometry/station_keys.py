"""Keys for summits and boats: of a reference's geometry, and of the plan's station."""

from __future__ import annotations

from typing import Any

LAND = {"x-least": "-500 m", "x-most": "9000 m"}
HEIGHTS_IN = ("m", "ft", "US survey ft")
BOAT = {"x-least": "0 m", "x-most": "10 km"}
LEVELS = "68 %"
HECTOPASCALS = r"^[0-9]{1,2}(\.[0-9]+)? ?hPa$"


def _length(title: str, example: str, **more: Any) -> dict[str, Any]:
    return {"type": "string", "title": title, "x-dimension": "length", "x-example": example, **more}


def _accuracy(title: str, example: str) -> dict[str, Any]:
    return _length(title, example, **{"x-above": "0 m", "x-most": "1000 m"})


def _level(title: str) -> dict[str, Any]:
    return {"type": "string", "title": title, "x-dimension": "ratio", "x-example": LEVELS}


def _degrees(title: str, most: int, example: float) -> dict[str, Any]:
    return {"type": "number", "title": title, "minimum": -most, "maximum": most, "x-example": example}


def _closed(title: str, properties: dict[str, Any], required: list[str], **more: Any) -> dict[str, Any]:
    return {"type": "object", "title": title, "properties": properties, "required": required, **more}


def summit_keys() -> dict[str, Any]:
    """What the geometry of a summit has beside the keys of all: where it is, how high, and how good the heights are."""
    place = {
        "lat": _degrees("latitude", 90, 39.91),
        "lon": _degrees("longitude", 180, -117.3),
        "within": _accuracy("greatest distance of the top from there", "30 m"),
    }
    return {
        "summit": _closed("place of the summit", place, ["lat", "lon"]),
        "elevation": _length("elevation of the summit", "1893 m", **LAND),
        "elevation_accuracy": _accuracy("accuracy of the summit's elevation", "1 m"),
        "elevation_level": _level("level of the elevation's accuracy"),
        "heights_in": {
            "type": "string",
            "enum": list(HEIGHTS_IN),
            "title": "unit of the grid's heights",
            "x-example": "m",
        },
        "height_accuracy": _accuracy("vertical accuracy of the terrain grid", "2 m"),
        "height_level": _level("level of the vertical accuracy"),
    }


HEIGHT = _closed(
    "height of the station",
    {
        "value": _length("height above mean sea level", "1885 m", **LAND),
        "by": {
            "type": "string",
            "enum": ["satellite receiver", "altimeter", "map"],
            "title": "how the height was found",
            "x-example": "altimeter",
        },
        "accuracy": _accuracy("accuracy of the height", "8 m"),
        "level": _level("level of the height's accuracy"),
        "pressure_error": {
            "type": "string",
            "pattern": HECTOPASCALS,
            "title": "change of the air pressure since the altimeter was set, 95 %",
            "x-form": "hectopascals",
            "x-example": "1 hPa",
        },
    },
    ["value", "by"],
    **{"x-fact": "station.height_reading", "x-example": {"value": "1885 m", "by": "map", "accuracy": "5 m"}},
    dependentRequired={"level": ["accuracy"]},
)

ANCHORED = _closed(
    "station at anchor",
    {
        "rode": _length("length of the rode let out", "30 m", **BOAT),
        "depth": {
            "type": "array",
            "minItems": 2,
            "maxItems": 2,
            "title": "least and greatest depth of the stay",
            "items": _length("depth", "5 m", **BOAT),
            "x-example": ["4 m", "6 m"],
        },
        "bow_height": _length("height of the bow above the water", "1.2 m", **BOAT),
        "bow_to_farthest": _length("distance from the bow to the farthest part of the station", "9 m", **BOAT),
    },
    ["rode", "depth", "bow_height", "bow_to_farthest"],
    **{
        "x-fact": "station.anchored",
        "x-example": {"rode": "30 m", "depth": ["4 m", "6 m"], "bow_height": "1.2 m", "bow_to_farthest": "9 m"},
    },
)

TRACK = _closed(
    "track of the station",
    {
        "file": {"type": "string", "minLength": 1, "title": "file with the track", "x-example": "drift.gpx"},
        "reach": _length("distance from the receiver to the farthest part of the station", "4 m", **BOAT),
        "turn_radius": _length("radius of the tightest turn", "30 m", **{"x-above": "0 m", "x-most": "100 km"}),
    },
    ["file", "reach"],
    **{"x-fact": "station.track", "x-example": {"file": "drift.gpx", "reach": "4 m"}},
)


def _states(key: str, around_m: float) -> dict[str, Any]:
    """A height of the boat or over it, taken as good to so much (95 %, common practice, no source) if nobody says."""
    return {"x-fact": f"afloat.{key}", "x-settle": f"station.afloat.{key}", "x-default-uncertainty": around_m}


AFLOAT = {
    "type": "object",
    "title": "station afloat",
    "properties": {
        "anchored": ANCHORED,
        "track": TRACK,
        "mast_height": _length(
            "height of the highest thing on board above the water", "8.5 m",
            **_states("mast_height", 0.3), **BOAT,
        ),
        "line_clearance": _length(
            "stated clearance of the lowest line over the water", "12 m",
            **_states("line_clearance", 1.0), **BOAT,
        ),
    },
    "anyOf": [{"required": ["anchored"]}, {"required": ["track"]}],
}  # fmt: skip

STATION: dict[str, Any] = {"height": HEIGHT, "afloat": AFLOAT}
