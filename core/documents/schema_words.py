"""Values, and what is due in their place, in words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from afield.core.documents.marks import Path
from afield.core.quantities import DIMENSIONS, example_of, phrase_of

_TYPES = {
    "object": "a mapping",
    "array": "a list",
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
    "null": "nothing",
}
_LONGEST_VALUE = 40


def name_of(path: Path) -> str:
    """The value at the path, named by its key or its number in the list."""
    if not path:
        return "the document"
    last = path[-1]
    return f'"{last}"' if isinstance(last, str) else f"item {last + 1} of {name_of(path[:-1])}"


def shown(value: Any) -> str:
    """A value as in flow YAML, cut where it is long."""
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    cut = text if len(text) <= _LONGEST_VALUE else f"{text[:_LONGEST_VALUE]}..."
    return f'"{cut}"' if isinstance(value, str) else cut


def kind_of(value: Any) -> str:
    """What the value is, in words."""
    if value is None:
        return "empty"
    if isinstance(value, bool):
        return shown(value)
    if isinstance(value, int | float):
        return f"the number {shown(value)}"
    return (
        "a mapping" if isinstance(value, dict) else "a list" if isinstance(value, list) else f"the text {shown(value)}"
    )


def due_of(words: Mapping[str, Any], types: list[str]) -> str:
    """What is due, in words: a length, text, a list or a mapping."""
    if words.get("x-dimension") in DIMENSIONS:
        return phrase_of(words["x-dimension"])
    return " or ".join(_TYPES[name] for name in types)


def example_in(words: Mapping[str, Any]) -> str | None:
    """An example of the value as it is written, None if the schema gives none."""
    if "x-example" in words:
        example = words["x-example"]
        return example if isinstance(example, str) else json.dumps(example, ensure_ascii=False)
    return example_of(words["x-dimension"]) if words.get("x-dimension") in DIMENSIONS else None
