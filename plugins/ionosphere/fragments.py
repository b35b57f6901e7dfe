"""What the plugin adds to a plan: how active the sun is, and what lies in front of the antenna."""

from __future__ import annotations

from typing import Any

from afield.core.api import Document, Fragment, InputError
from afield.plugins.ionosphere.ground_facts import GROUNDS

CONDITIONS: dict[str, Any] = {
    "f107": {
        "type": "number",
        "minimum": 63.75,
        "maximum": 250,
        "title": "solar radio flux at 10.7 cm, mean over 81 days",
        "x-fact": "conditions.f107",
        "x-example": 120,
    },
    "sunspot_number": {
        "type": "number",
        "minimum": 0,
        "maximum": 200,
        "title": "sunspot number, mean over 12 months",
        "x-fact": "conditions.sunspot_number",
        "x-example": 70,
    },
}

STATION: dict[str, Any] = {
    "ground": {
        "type": "string",
        "enum": list(GROUNDS),
        "title": "ground in front of the antenna",
        "x-fact": "station.ground",
        "x-example": "average ground",
    },
}


def fragments() -> list[Fragment]:
    """At `conditions` and at `station`."""
    return [Fragment("plan", "conditions", CONDITIONS), Fragment("plan", "station", STATION)]


def refuse_both(plan: Document) -> None:
    """Refuse a plan that states the flux and the sunspot number, which could disagree.

    Raises:
        InputError: both are stated.

    """
    at = ("conditions", "sunspot_number")
    if plan.value(at) is not None and plan.value(("conditions", "f107")) is not None:
        advice = "Keep one of the two; the other is worked out from it."
        raise InputError([plan.problem(at, "f107 and sunspot_number are both stated", advice)])
