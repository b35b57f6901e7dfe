"""Finding one's way in the records that a section is given."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import _

Record = Mapping[str, Any]
Facts = Mapping[str, Mapping[str, Record]]


def known(facts: Facts, name: str) -> dict[str, Record]:
    """The records of a fact that have a value, by subject key."""
    return {key: record for key, record in facts.get(name, {}).items() if record.get("value") is not None}


def only(facts: Facts, name: str) -> Record | None:
    """The one record of a fact of the trip, if it has a value."""
    return next(iter(known(facts, name).values()), None)


def declination_deg(facts: Facts) -> float | None:
    """Declination of the compass needle at the position, east positive; None if it is not known."""
    record = only(facts, "station.declination")
    return None if record is None else round(float(record["value"]), 2)


def claim_words(key: str) -> str:
    """A claim's key as the reader would say it: "cinder-crossing of freight-road"."""
    program, _slash, reference = key.partition(":")[2].partition("/")
    return _("{reference} of {program}").format(reference=reference, program=program) if reference else key
