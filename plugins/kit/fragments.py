"""What the plugin adds to a plan: the kit files, and what joins the items of several of them."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any

from afield.core.api import Fragment


@cache
def kit_schema(name: str = "kit") -> dict[str, Any]:
    """The schema of a kit file, or of the catalogue."""
    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath(f"{name}.json").read_text(encoding="utf-8"))
    return schema


def _inlined(schema: Any, definitions: dict[str, Any]) -> Any:
    """The schema with its references to the kit's definitions replaced by these."""
    if isinstance(schema, list):
        return [_inlined(inner, definitions) for inner in schema]
    if not isinstance(schema, dict):
        return schema
    if "$ref" in schema:
        return _inlined(definitions[schema["$ref"].rpartition("/")[2]], definitions)
    return {key: _inlined(inner, definitions) for key, inner in schema.items()}


def _stated(name: str) -> dict[str, Any]:
    definitions = kit_schema()["$defs"]
    return {**_inlined(definitions[name], definitions), "x-fact": f"kit.stated_{name}", "x-type": "opaque"}


FILES: dict[str, Any] = {
    "type": "array",
    "title": "kit files",
    "description": "Files beside the plan that list what is in the bag: .yaml, .json or .csv.",
    "x-fact": "kit.files",
    "x-type": "opaque",
    "x-settle": "kit",
    "x-example": ["kit/low-power.yaml"],
    "minItems": 1,
    "uniqueItems": True,
    "items": {"type": "string", "minLength": 1, "title": "kit file", "x-example": "kit/low-power.yaml"},
}


def fragments() -> list[Fragment]:
    """`kit:`, and `connections:` and `chains:` as in a kit file."""
    properties = {"kit": FILES, "connections": _stated("connections"), "chains": _stated("chains")}
    return [Fragment("plan", "/", properties)]
