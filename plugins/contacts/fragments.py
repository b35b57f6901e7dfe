"""What the plugin adds to a plan: the operator's own earlier counts, and what a claim has of this year."""

from __future__ import annotations

from typing import Any

from afield.core.api import Fragment

OUTING: dict[str, Any] = {
    "type": "object",
    "title": "earlier outing",
    "properties": {
        "contacts": {
            "type": "integer",
            "minimum": 0,
            "maximum": 100_000,
            "title": "contacts of an earlier outing",
            "x-example": 23,
        },
        "time": {
            "type": "string",
            "title": "time on the air of an earlier outing",
            "x-dimension": "duration",
            "x-example": "2 h",
            "x-least": "1 min",
            "x-most": "1000 h",
        },
        "log": {
            "type": "string",
            "minLength": 1,
            "title": "log of earlier outings",
            "description": "An ADI file (ADIF 3.1.x), relative to the plan's folder; its runs of contacts are counts.",
            "x-example": "logs/june.adi",
        },
        "mode": {
            "type": "string",
            "title": "mode of the records that count",
            "description": "Left out, the modes that the schedule states; all modes if it states none.",
            "x-example": "SSB",
        },
    },
    "anyOf": [{"required": ["contacts", "time"]}, {"required": ["log"]}],
    "dependentRequired": {"mode": ["log"]},
}
CONTACTS: dict[str, Any] = {
    "type": "object",
    "title": "contacts",
    "properties": {
        "earlier": {
            "type": "array",
            "minItems": 1,
            "title": "own counts of earlier outings",
            "items": OUTING,
            "x-fact": "contacts.earlier",
            "x-type": "opaque",
            "x-example": [{"contacts": 23, "time": "2 h"}],
        },
    },
}


CLAIM: dict[str, Any] = {
    "contacts_this_year": {
        "type": "integer",
        "minimum": 0,
        "maximum": 100_000,
        "title": "contacts of this calendar year for the claim, before the outing",
        "x-fact": "claim.contacts_this_year",
        "x-exact": True,
        "x-example": 9,
    },
}


def fragments() -> list[Fragment]:
    """At the plan's top, and at each claim."""
    return [Fragment("plan", "/", {"contacts": CONTACTS}), Fragment("plan", "claims[]", CLAIM)]
