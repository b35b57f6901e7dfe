"""Which of a feature's properties is its name, and which its id."""

from collections.abc import Mapping
from typing import Any

NAME_KEYS = ("name", "title", "label")


def text_of(value: Any) -> str | None:
    """The value as the text of a name or an id; None for empty ones, lists and mappings."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return None
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip() or None


def name_in(properties: Mapping[str, Any]) -> str | None:
    """The property called name, title or label in any case, else the first text whose key ends in "name"."""
    folded = {key.casefold(): key for key in reversed(list(properties))}
    for key in NAME_KEYS:
        if key in folded and (text := text_of(properties[folded[key]])):
            return text
    ending = [value for key, value in properties.items() if key.casefold().endswith("name") and isinstance(value, str)]
    return text_of(ending[0]) if ending else None


def id_in(properties: Mapping[str, Any]) -> str | None:
    """The member or property called id in any case, as text."""
    for key, value in properties.items():
        if key.casefold() == "id" and (text := text_of(value)):
            return text
    return None
