"""Every key of every schema, with what it takes and what it means."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.host.bundling import SCHEMAS, bundled_schema
from afield.core.host.composition import shipped_schema
from afield.core.host.registry import Registry

Schema = Mapping[str, Any]
COMBINING = ("anyOf", "oneOf", "allOf")
DEEPEST = 12
MOST_CHOICES = 12


def keys_of_schemas(registry: Registry) -> Iterator[str]:
    """The chapter on schema keys: a table for each schema that ships."""
    yield "## Keys of the schemas"
    for name in SCHEMAS:
        schema = bundled_schema(name, registry)
        yield f"\n### `{name}`: {schema.get('title', name)}\n"
        yield "| key | takes | what it is |\n| --- | --- | --- |"
        yield from dict.fromkeys(_Walk(schema).rows(schema, "", ()))


class _Walk:
    """Walks one schema; a reference to another place in it is followed once on each way down."""

    def __init__(self, schema: Schema) -> None:
        self.whole = schema

    def rows(self, schema: Schema, path: str, followed: tuple[str, ...]) -> Iterator[str]:
        reference = schema.get("$ref")
        if isinstance(reference, str) and reference not in followed and len(followed) < DEEPEST:
            yield from self.rows(self.target(reference), path, (*followed, reference))
        for name, inner in schema.get("properties", {}).items():
            yield from self.property(inner, f"{path}.{name}" if path else name, followed)
        for word in COMBINING:
            for choice in schema.get(word, ()):
                yield from self.rows(choice, path, followed)
        for word, sign in (("items", "[]"), ("additionalProperties", ".*")):
            if isinstance(schema.get(word), dict):
                yield from self.rows(schema[word], f"{path}{sign}".lstrip("."), followed)

    def property(self, schema: Schema | bool, path: str, followed: tuple[str, ...]) -> Iterator[str]:
        if isinstance(schema, bool):
            return
        yield f"| `{path}` | {_plain(self.takes(schema))} | {_plain(self.meaning(schema))} |"
        yield from self.rows(schema, path, followed)

    def takes(self, schema: Schema) -> str:
        shown = {**self.resolved(schema), **schema}
        if "enum" in shown:
            return _choices([str(choice) for choice in shown["enum"]])
        if "x-dimension" in shown:
            return f"quantity: {shown['x-dimension']}"
        found = shown.get("x-form") or shown.get("format") or shown.get("type")
        return ", ".join(found) if isinstance(found, list) else str(found or "one of several forms")

    def meaning(self, schema: Schema) -> str:
        shown = {**self.resolved(schema), **schema}
        fact = f" (fact `{shown['x-fact']}`)" if "x-fact" in shown else ""
        return f"{shown.get('description') or shown.get('title') or ''}{fact}"

    def resolved(self, schema: Schema) -> Schema:
        reference = schema.get("$ref")
        return self.target(reference) if isinstance(reference, str) else {}

    def target(self, reference: str) -> Schema:
        base, _, pointer = reference.partition("#")
        found: Any = self.whole if not base or base == self.whole.get("$id") else _other(base, self.whole)
        for step in pointer.strip("/").split("/") if pointer.strip("/") else []:
            found = found.get(step, {})
        return found if isinstance(found, Mapping) else {}


def _other(identifier: str, whole: Schema) -> Schema:
    inside: Schema = whole.get("$defs", {}).get(identifier, {})
    return inside or next((one for one in map(shipped_schema, SCHEMAS) if one.get("$id") == identifier), {})


def _choices(choices: list[str]) -> str:
    more = f", and {len(choices) - MOST_CHOICES} more" if len(choices) > MOST_CHOICES else ""
    return f"{', '.join(choices[:MOST_CHOICES])}{more}"


def _plain(text: str) -> str:
    return " ".join(text.replace("|", "\\|").split())
