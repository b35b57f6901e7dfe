"""What else stands on the timeline: gates of references with what these ask, and the end of the battery."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any

from afield.core.api import _

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]


def gates_of(facts: Facts) -> list[tuple[str, Mapping[str, Any]]]:
    """The opening hours with the name of the reference."""
    hours = facts["reference.hours"].items()
    return [(_name(facts, claim), record["value"]) for claim, record in hours if record["reason"] is None]


def battery_end_of(facts: Facts, instants: Mapping[str, Any]) -> datetime | None:
    """When the first battery ends, if a plugin knows of batteries: it counts hours from the outing's first time."""
    record = facts["energy.first_end"].get("trip")
    if record is None or record["reason"] is not None:
        return None
    return datetime.fromisoformat(instants["start"]) + timedelta(hours=record["value"])


def _title(facts: Facts, claim: str) -> str:
    record = facts["reference.title"].get(claim)
    return str(record["value"]) if record and record["reason"] is None else claim.split("/", 1)[-1]


def _name(facts: Facts, claim: str) -> str:
    """The reference's title, else its key; with its program where two that are claimed have one title."""
    title = _title(facts, claim)
    alike = [other for other in facts["reference.title"] if _title(facts, other) == title]
    return f"{title} ({claim.split(':', 1)[1].split('/', 1)[0]})" if len(alike) > 1 else title


def _has_hours(facts: Facts, claim: str) -> bool:
    record = facts["reference.has_hours"].get(claim)
    return bool(record and record["reason"] is None and record["value"])


def places_of(facts: Facts) -> Iterator[str]:
    """What the references ask: their hours, why these cannot be told, and their permits."""
    for claim, record in facts["reference.hours"].items():
        if record["reason"] is None:
            text = _("{place} is open from {hours}, local time.")
            yield text.format(place=_name(facts, claim), hours=record["value"]["words"])
        elif _has_hours(facts, claim):
            text = _("{place} has hours that cannot be told: {reason}.")
            yield text.format(place=_name(facts, claim), reason=record["reason"]["text"])
    for claim, record in facts["reference.permit"].items():
        if record["reason"] is None:
            text = _("{place} asks for a permit: {permit}")
            yield text.format(place=_name(facts, claim), permit=record["value"])
