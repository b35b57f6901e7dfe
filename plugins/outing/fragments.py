"""Schema of the plan's neutral sections."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import Fragment, marked
from afield.plugins.outing.bands import BANDS
from afield.plugins.outing.means import ACCESS, IN_VEHICLE, SUPPLY

ROLES = (
    marked("operating position"), marked("antenna"), marked("feed line"), marked("counterpoise"), marked("mast"),
    marked("guy"), marked("supply"), marked("vehicle"),
)  # fmt: skip
LINE = r"^(?=.*\S)[^\n\r\x85\u2028\u2029]*$"
"""One line of text that is not blank: a break in it could pass for a line of the report."""
FARTHEST = {"x-least": "-100 km", "x-most": "100 km"}
LENGTH = {"x-least": "0 m", "x-most": "100 km"}
"""Bounds that tell a slip of the pen from a station."""


SHARE_AROUND_PERCENT = 5.0
"""95 %, of the time: how well a planned share of transmitting is kept (common practice, no source)."""

TURN = {"x-least": "-360 deg", "x-most": "360 deg"}


def quantity(title: str, dimension: str, example: str, **more: Any) -> dict[str, Any]:
    """Schema of a leaf that holds a quantity."""
    return {"type": "string", "title": title, "x-dimension": dimension, "x-example": example, **more}


def text(title: str, example: str, **more: Any) -> dict[str, Any]:
    """Schema of a leaf that holds one line of text."""
    shape = {"minLength": 1, "pattern": LINE, "x-form": "one line of text"}
    return {"type": "string", **shape, "title": title, "x-example": example, **more}


def structure(title: str, properties: Mapping[str, Any], **more: Any) -> dict[str, Any]:
    """Schema of an object."""
    return {"type": "object", "title": title, "properties": dict(properties), **more}


def degrees(title: str, most: int, example: float) -> dict[str, Any]:
    """Schema of a latitude or longitude: degrees as a number, or text in degrees, minutes and seconds."""
    return {"type": ["number", "string"], "title": title, "minimum": -most, "maximum": most, "x-example": example}


POSITION = structure(
    "position",
    {
        "lat": degrees("latitude", 90, 39.90412),
        "lon": degrees("longitude", 180, -117.30288),
        "utm": text("UTM coordinates", "11S 473915 4417214"),
        "mgrs": text("MGRS reference", "11SMD7391517214"),
        "locator": text("grid locator", "DM09hv"),
        "file": text("file with the point", "points.gpx"),
        "layer": text("layer of the file", "waypoints"),
        "point": text("name of the point", "table"),
        "accuracy": quantity("accuracy of the position", "length", "5 m", **{"x-above": "0 m", "x-most": "1000 km"}),
        "level": quantity("level of the accuracy", "ratio", "68 %"),
    },
    **{"x-fact": "station.at", "x-example": {"lat": 39.90412, "lon": -117.30288, "accuracy": "5 m"}},
    minProperties=1,
    dependentRequired={"lat": ["lon"], "lon": ["lat"], "level": ["accuracy"], "point": ["file"], "layer": ["file"]},
)

OFFSET = {
    "title": "place of the part",
    "x-example": {"bearing": "40 deg", "distance": "21 m"},
    "oneOf": [
        {
            "type": "array",
            "title": "metres east and north",
            "minItems": 2,
            "maxItems": 2,
            "items": quantity("offset", "length", "3 m", **FARTHEST),
        },
        structure(
            "bearing and distance",
            {
                "bearing": quantity("bearing from the operating position", "angle", "40 deg", **TURN),
                "distance": quantity("distance from the operating position", "length", "21 m", **LENGTH),
            },
            required=["distance"],
        ),
    ],
}

RADIALS = structure(
    "radials",
    {
        "count": {"type": "integer", "minimum": 1, "maximum": 360, "title": "number of radials", "x-example": 4},
        "length": quantity("length of a radial", "length", "5 m", **LENGTH),
        "bearing": quantity("bearing of the first radial", "angle", "0 deg", **TURN),
    },
    required=["count", "length"],
)

PART = structure(
    "part of the station",
    {
        "name": text("name of the part", "wire"),
        "role": {
            "type": "string",
            "enum": list(ROLES),
            "title": "role of the part",
            "x-fact": "part.role",
            "x-example": "antenna",
        },
        "at": {**OFFSET, "x-fact": "part.at", "x-type": "opaque"},
        "from": {**OFFSET, "x-fact": "part.from", "x-type": "opaque"},
        "to": {**OFFSET, "x-fact": "part.to", "x-type": "opaque"},
        "length": quantity(
            "length of the part", "length", "20 m",
            **{"x-fact": "part.length", "x-default-uncertainty": 0.1, "x-settle": "station.parts[].length", **LENGTH},
        ),
        "height": quantity(
            "height of the part", "length", "6 m", **{"x-fact": "part.height", "x-default-uncertainty": 0.5, **LENGTH}
        ),
        "radials": {**RADIALS, "x-fact": "part.radials", "x-type": "opaque"},
    },
    required=["name", "role"],
)  # fmt: skip

STATION = structure(
    "station",
    {
        "at": POSITION,
        "in_vehicle": IN_VEHICLE,
        "call_used_of": text("operator whose call is used", "first", **{"x-fact": "station.call_used_of"}),
        "bearings": {
            "type": "string",
            "enum": ["true", "magnetic"],
            "title": "north of the bearings",
            "x-fact": "station.bearings",
            "x-example": "true",
        },
        "parts": {
            "type": "array",
            "title": "parts of the station",
            "items": PART,
            "x-kind": "part",
            "x-key": "name",
        },
    },
)

OPERATORS = {
    "type": "array",
    "title": "operators",
    "x-kind": "operator",
    "x-key": "name",
    "items": structure(
        "operator",
        {
            "name": text("name of the operator", "first"),
            "class": text("licence class", "general", **{"x-fact": "operator.class"}),
            "call": text("call sign of the operator", "Q0TEST", **{"x-fact": "operator.call"}),
        },
        required=["name"],
    ),
}


def time_of_day(title: str, fact: str) -> dict[str, Any]:
    """Schema of a time of day: local, or UTC with a Z at its end."""
    return {
        "type": "string",
        "format": "clock",
        "title": title,
        "x-fact": fact,
        "x-example": "14:45",
    }


def transmit_share(fact: str) -> dict[str, Any]:
    """Schema of the share of the time on the air in which the station transmits."""
    bounds = {"x-least": "0 %", "x-most": "100 %", "x-default-uncertainty": SHARE_AROUND_PERCENT}
    return quantity("share of the time spent transmitting", "ratio", "30 %", **{"x-fact": fact}, **bounds)


def band(title: str, fact: str) -> dict[str, Any]:
    """Schema of a band by its wavelength."""
    return {"type": "string", "enum": list(BANDS), "title": title, "x-example": "40m", "x-fact": fact}


SLOT = structure(
    "slot",
    {
        "name": text("name of the slot", "evening"),
        "from": time_of_day("start of the slot", "slot.start"),
        "to": time_of_day("end of the slot", "slot.end"),
        "band": band("band", "slot.band"),
        "frequency": quantity(
            "frequency", "frequency", "7.032 MHz",
            **{"x-fact": "slot.frequency", "x-exact": True, "x-above": "0 MHz", "x-most": "3000 GHz"},
        ),
        "mode": text("mode", "CW", **{"x-fact": "slot.mode"}),
        "power": quantity(
            "transmitter power", "power", "10 W",
            **{"x-fact": "slot.power", "x-exact": True, "x-least": "0 W", "x-most": "1000 kW"},
        ),
        "transmit_share": transmit_share("slot.transmit_share"),
        "operator": text("control operator", "first", **{"x-fact": "slot.operator"}),
    },
    required=["name"],
)  # fmt: skip

SCHEDULE = structure(
    "schedule",
    {
        "arrive": time_of_day("arrival", "schedule.arrive"),
        "on_air": {
            "type": "array",
            "minItems": 2,
            "maxItems": 2,
            "title": "time on the air",
            "items": {"type": "string", "format": "clock", "title": "time of day", "x-example": "15:30"},
            "x-fact": "schedule.on_air",
        },
        "leave": time_of_day("departure", "schedule.leave"),
        "mode": text("mode of the outing", "CW", **{"x-fact": "schedule.mode"}),
        "band": band("band of the outing", "schedule.band"),
        "frequency": quantity(
            "frequency of the outing", "frequency", "7.032 MHz",
            **{"x-fact": "schedule.frequency", "x-exact": True, "x-above": "0 MHz", "x-most": "3000 GHz"},
        ),
        "power": quantity(
            "transmitter power of the outing", "power", "10 W",
            **{"x-fact": "schedule.power", "x-exact": True, "x-least": "0 W", "x-most": "1000 kW"},
        ),
        "transmit_share": transmit_share("schedule.transmit_share"),
        "slots": {"type": "array", "title": "slots", "items": SLOT, "x-kind": "slot", "x-key": "name"},
    },
)  # fmt: skip

CONDITIONS = structure(
    "conditions",
    {
        "temperature": quantity(
            "air temperature", "temperature", "31 degC",
            **{"x-fact": "conditions.temperature", "x-default-uncertainty": 3.0},
            **{"x-least": "-100 degC", "x-most": "100 degC"},
        ),
        "wind": quantity(
            "wind speed", "speed", "6 m/s",
            **{"x-fact": "conditions.wind", "x-default-uncertainty": 3.0, "x-least": "0 m/s", "x-most": "200 m/s"},
        ),
        "issued": text("when the forecast was issued", "2026-06-26T18:00Z", **{"x-fact": "conditions.issued"}),
    },
)  # fmt: skip

TRAVEL = structure(
    "travel",
    {
        "by": text("means of travel", "car", **{"x-fact": "travel.by"}),
        "country": text("country of the position", "US", **{"x-fact": "travel.country"}),
    },
)


def fragments() -> list[Fragment]:
    """The sections, all at the plan's top."""
    sections = {
        "operators": OPERATORS,
        "station": STATION,
        "schedule": SCHEDULE,
        "conditions": CONDITIONS,
        "travel": TRAVEL,
        "access": ACCESS,
        "supply": SUPPLY,
    }
    return [Fragment("plan", "/", sections)]
