"""Schemas for editors: in one piece, with references that each of them can follow, and all names to choose from."""

from __future__ import annotations

from typing import Any

from afield.core.host.bundling import bundled_schema
from afield.core.host.registry import Registry

Schema = dict[str, Any]


def editor_schema(name: str, registry: Registry) -> Schema:
    """The schema of that name, as every editor understands it.

    Not all of them follow a reference to an identifier within the same file, so that each becomes a path in it.
    """
    schema = bundled_schema(name, registry)
    inner: Schema = schema.pop("$defs")
    identified = {key: value for key, value in inner.items() if value.get("$id") == key}
    own = {key: value for key, value in inner.items() if key not in identified}
    own |= {
        f"{key.split(':')[3]}-{part}": _relinked(value, key.split(":")[3])
        for key, value in identified.items()
        for part, value in value.get("$defs", {}).items()
    }
    found: Schema = _relinked({**schema, "$defs": own}, "")
    return found


def _relinked(part: Any, home: str) -> Any:
    """The part with each reference to a definition of another schema, or of its own, by its new name."""
    if isinstance(part, list):
        return [_relinked(inner, home) for inner in part]
    if not isinstance(part, dict):
        return part
    return {key: _link(value, home) if key == "$ref" else _relinked(value, home) for key, value in part.items()}


def _link(reference: Any, home: str) -> Any:
    outer, _, path = str(reference).partition("#")
    name = path.removeprefix("/$defs/")
    if outer.startswith("urn:"):
        return f"#/$defs/{outer.split(':')[3]}-{name}"
    return f"#/$defs/{home}-{name}" if home and not name.startswith(f"{home}-") else f"#{path}"
