"""What was solved for a section of the briefing, joined with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Json = dict[str, Any]


def found_by_name(solutions: Sequence[Mapping[str, Any]]) -> dict[str, Json]:
    """Section name -> what was found for it; those without an answer are left out."""
    return {entry["name"]: entry["found"] for entry in solutions if entry["found"] is not None}


def drawn_from(section: Mapping[str, Any], report: Mapping[str, Any]) -> Mapping[str, Any]:
    """What a section of the report is drawn from: its data, with what was solved for it under `solution`."""
    data: Mapping[str, Any] = section["data"]
    found = found_by_name(report.get("solutions", ())).get(section["name"])
    return data if found is None else {**data, "solution": found}
