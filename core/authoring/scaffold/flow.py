"""Values as YAML on one line, with quotes only where YAML would read them otherwise."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from typing import Any

_PLAIN = re.compile(r"[A-Za-z](?:[A-Za-z0-9 .;/'_()-]|,(?= ))*[A-Za-z0-9.)]|[A-Za-z]")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_QUANTITY = re.compile(r"-?\d+(?:\.\d+)? [A-Za-z%°][A-Za-z0-9%°/]*")
_OTHERWISE = ("true", "false", "null", "yes", "no", "on", "off", "nan", "inf")


def flow(value: Any, inside: bool = True) -> str:
    """The value on one line.

    Args:
        value: of JSON's types.
        inside: whether it stands inside brackets, where a comma would end it.

    """
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(flow(inner) for inner in value) + "]"
    if not isinstance(value, str):
        return json.dumps(value)
    return value if _is_plain(value) and not (inside and "," in value) else json.dumps(value, ensure_ascii=False)


def _is_plain(text: str) -> bool:
    if _DATE.fullmatch(text) or _QUANTITY.fullmatch(text):
        return True
    return bool(_PLAIN.fullmatch(text)) and text.lower() not in _OTHERWISE


def block(data: Mapping[str, Any], indent: str) -> Iterator[str]:
    """A mapping in lines; mappings directly inside it in lines of their own, all else on one."""
    for key, value in data.items():
        if isinstance(value, Mapping) and len(value) > 2:
            yield f"{indent}{key}:"
            yield from (f"{indent}  {name}: {flow(inner, False)}" for name, inner in value.items())
        else:
            yield f"{indent}{key}: {flow(value, False)}"
