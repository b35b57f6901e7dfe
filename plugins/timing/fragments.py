"""What the plugin adds to a plan: the zone of its clock times, and how long getting there and setting up take.

And to the references of packs: opening hours and permits.
"""

from __future__ import annotations

from typing import Any

from afield.core.api import Fragment

REPEATED = ("first", "second")


def _duration(title: str, example: str, fact: str) -> dict[str, Any]:
    # A planned duration is a decision, not a measurement: it has no uncertainty, and the margins show what is left.
    bounds = {"x-least": "0 min", "x-most": "24 h"}
    stated = {"x-fact": fact, "x-exact": True, "x-example": example}
    return {"type": "string", "title": title, "x-dimension": "duration", **stated, **bounds}


SCHEDULE: dict[str, Any] = {
    "zone": {
        "type": "string",
        "minLength": 1,
        "title": "time zone of the place",
        "x-fact": "schedule.zone",
        "x-example": "America/Los_Angeles",
    },
    "repeated_hour": {
        "type": "string",
        "enum": list(REPEATED),
        "title": "pass of the repeated hour",
        "x-fact": "schedule.repeated_hour",
        "x-example": "first",
    },
    "set_up": _duration("time to set up", "30 min", "schedule.set_up"),
    "pack_up": _duration("time to pack up", "20 min", "schedule.pack_up"),
}

TRAVEL: dict[str, Any] = {
    "drive": _duration("time of the drive, one way", "50 min", "travel.drive"),
    "walk": _duration("time of the walk, one way", "25 min", "travel.walk"),
    "turn_back": {
        "type": "string",
        "format": "clock",
        "title": "time to turn back",
        "x-fact": "travel.turn_back",
        "x-example": "20:00",
    },
}


def _edge(title: str, example: str) -> dict[str, Any]:
    form = 'a local time from "00:00" to "23:59", sunrise or sunset'
    shape = {"pattern": r"^(([01][0-9]|2[0-3]):[0-5][0-9]|sunrise|sunset)$", "x-form": form}
    return {"type": "string", "title": title, **shape, "x-example": example}


REFERENCE: dict[str, Any] = {
    "open": {
        "type": "object",
        "title": "opening hours",
        "description": "When the place may be entered, in local time; an end before the start is after midnight.",
        "x-fact": "reference.open",
        "x-example": {"from": "06:30", "until": "sunset"},
        "properties": {"from": _edge("start of the hours", "06:30"), "until": _edge("end of the hours", "sunset")},
        "required": ["from", "until"],
    },
    "permit": {
        "type": "string",
        "minLength": 1,
        "pattern": r"^(?=.*\S)[^\n\r\x85\u2028\u2029]*$",
        "x-form": "one line of text",
        "title": "permit",
        "description": "What permit the place asks for, and where it is had.",
        "x-fact": "reference.permit",
        "x-example": "A day permit from the wardens' hut.",
    },
}


def fragments() -> list[Fragment]:
    """At `schedule`, at `travel`, and at the references of packs."""
    return [
        Fragment("plan", "schedule", SCHEDULE),
        Fragment("plan", "travel", TRAVEL),
        Fragment("references", "/", REFERENCE),
    ]
