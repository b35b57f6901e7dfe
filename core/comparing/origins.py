"""Which errors two reports share: only those cancel in a difference between them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

Json = Mapping[str, Any]
Source = tuple[str, str, str, float]
"""Where an error enters: subject, fact, value (as JSON), contribution at 95 %."""


def origins(report: Json) -> dict[str, set[Source]]:
    """Origin of error -> the records by which it enters the report: those that have it, and none of whose inputs has.

    An origin's name alone does not tell: "mass of radio" is another error where the variant packs another radio.
    """
    records = {(record["subject"], record["fact"]): record for record in report["facts"]}
    found: dict[str, set[Source]] = {}
    for record in records.values():
        inherited = _inherited(record, records)
        for part in record["parts"]:
            if part["origin"] not in inherited:
                found.setdefault(part["origin"], set()).add(_source(record, part))
    return found


def _inherited(record: Json, records: Mapping[tuple[str, str], Json]) -> set[str]:
    inputs = [records.get((one["subject"], one["fact"])) for one in record["inputs"]]
    return {part["origin"] for one in inputs if one is not None for part in one["parts"]}


def _source(record: Json, part: Json) -> Source:
    value = json.dumps(record["value"], sort_keys=True)
    return record["subject"], record["fact"], value, part["contribution"]


def shared_origins(base: Json, other: Json) -> set[str]:
    """Origins that enter both reports by the same records with the same values: one reading, one error."""
    mine, others = origins(base), origins(other)
    return {origin for origin in mine.keys() & others.keys() if mine[origin] == others[origin]}
