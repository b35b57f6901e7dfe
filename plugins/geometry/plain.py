"""The map and the coordinates as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import _


def map_text(data: Mapping[str, Any]) -> str:
    """Where each part lies, in words, and what is around."""
    return "\n".join(_map_lines(data))


def _map_lines(data: Mapping[str, Any]) -> Iterator[str]:
    for part in data["parts"]:
        yield f"{part['name']}{_described(part)}: {part['where']}"
    for reference in data["references"]:
        yield f"{reference['title']}: {reference['words']}"
    yield from (worst["words"] for worst in data["worst"])
    if data["position"]:
        yield data["position"]["words"]
    yield from data["notes"]


def _described(part: Mapping[str, Any]) -> str:
    """Role and height in brackets; nothing for what is called by its role."""
    role, height = _(part["role"]), part["height"]
    if role == part["name"] and not height:
        return ""
    return f" ({', '.join([role, *([_('{height} high').format(height=height)] if height else [])])})"


def coordinates_text(data: Mapping[str, Any]) -> str:
    """Each form on its own line, then datum and accuracy."""
    widest = max(len(row["name"]) for row in data["rows"])
    rows = [f"{row['name']:<{widest}}  {row['value']}" for row in data["rows"]]
    datum = _("Datum {datum}.").format(datum=data["datum"])
    more = [datum, data["accuracy"], *([data["declination"]] if data["declination"] else [])]
    return "\n".join([*rows, *more])
