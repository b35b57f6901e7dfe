"""Schemas in one piece: composed from the plugins' parts, with every schema that they refer to inside."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

from afield.core.host.composition import plan_schema, references_schema, shipped_schema
from afield.core.host.registry import Registry

COMMON = "common"
FIRST = ("plan", "pack", "rules", "cases", "references", "report")


def _shipped() -> Iterator[str]:
    names = (entry.name for entry in files("afield.schemas").iterdir())
    return (name.removesuffix(".json") for name in sorted(names) if name.endswith(".json"))


SCHEMAS = (*FIRST, *(name for name in _shipped() if name not in (*FIRST, COMMON)))
"""Every schema that ships: those that most people write by first."""


def bundled_schema(name: str, registry: Registry) -> dict[str, Any]:
    """The schema of that name with those that it refers to inside, as JSON Schema 2020-12, 9.3 has it."""
    if name == "plan":
        schema = plan_schema(registry.fragments)
    elif name == "references":
        schema = references_schema(registry.fragments)
    else:
        schema = shipped_schema(name)
    inside = {other["$id"]: _with_names(other, registry) for other in _referred(schema, schema["$id"])}
    return {**schema, "$defs": {**schema.get("$defs", {}), **inside}}


def _with_names(schema: dict[str, Any], registry: Registry) -> dict[str, Any]:
    """The common definitions with the names to choose from: every fact that a rule can ask for, and every kind."""
    if schema["$id"] != shipped_schema(COMMON)["$id"]:
        return schema
    facts = {fact.name: fact.title for fact in registry.facts.values() if fact.type != "opaque"}
    kinds = {kind.name: kind.title for kind in registry.kinds.values()}
    named = {"fact": facts, "kind": kinds}
    return {**schema, "$defs": {name: _listing(part, named.get(name)) for name, part in schema["$defs"].items()}}


def _listing(part: dict[str, Any], names: dict[str, str] | None) -> dict[str, Any]:
    if names is None:
        return part
    # `enumDescriptions` is what editors show beside each name.
    return {**part, "enum": sorted(names), "enumDescriptions": [names[name] for name in sorted(names)]}


def _referred(schema: dict[str, Any], own: str) -> Iterator[dict[str, Any]]:
    """The common definitions, and shipped schemas that the schema refers to by their identifiers."""
    text = json.dumps(schema)
    for name in (COMMON, *SCHEMAS):
        other = shipped_schema(name)
        if other["$id"] != own and (name == COMMON or f'"$ref": "{other["$id"]}#' in text):
            yield other
