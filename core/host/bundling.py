"""Schemas in one piece: composed from the plugins' parts, with every schema that they refer to inside."""

from __future__ import annotations

from typing import Any

from afield.core.host.composition import plan_schema, references_schema, shipped_schema
from afield.core.host.registry import Registry

SCHEMAS = ("plan", "pack", "rules", "cases", "references", "report")
COMMON = "common"


def bundled_schema(name: str, registry: Registry) -> dict[str, Any]:
    """The schema of that name with the common definitions inside, as JSON Schema 2020-12, 9.3 has it."""
    if name == "plan":
        schema = plan_schema(registry.fragments)
    elif name == "references":
        schema = references_schema(registry.fragments)
    else:
        schema = shipped_schema(name)
    common = shipped_schema(COMMON)
    return {**schema, "$defs": {**schema.get("$defs", {}), common["$id"]: common}}
