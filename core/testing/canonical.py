"""A value as text that is the same in every process, and whether a NaN hides in it."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator, Mapping, Set
from dataclasses import fields, is_dataclass
from functools import cached_property
from typing import Any

from afield.core.facts.subjects import Piece, Subject

ADDRESS = re.compile(r" at 0x[0-9a-fA-F]+")
DEEPEST = 40


def canonical(value: Any, depth: int = 0) -> str:
    """The value as text: sets in order, addresses left out, objects by what is in them.

    The order of a mapping counts: it is the order in which a report prints it.
    """
    if depth > DEEPEST:
        return "..."
    if isinstance(value, Subject):
        return f"Subject({value.key}, {canonical(value.data, depth + 1)})"
    if isinstance(value, Piece):
        return f"Piece({canonical(value.data, depth + 1)})"
    if isinstance(value, dict | list | tuple) and (plain := _as_json(value)) is not None:
        return plain
    if isinstance(value, Set):
        return f"{{{', '.join(sorted(canonical(one, depth + 1) for one in value))}}}"
    parts = list(_parts(value))
    if parts or isinstance(value, Mapping | list | tuple):
        inner = ", ".join(f"{name}{canonical(one, depth + 1)}" for name, one in parts)
        return f"{type(value).__name__}({inner})"
    return _leaf(value)


def holds_nan(value: Any, depth: int = 0) -> bool:
    """Whether a NaN stands anywhere in the value."""
    if isinstance(value, float):
        return math.isnan(value)
    return depth <= DEEPEST and any(holds_nan(one, depth + 1) for _, one in _parts(value))


def _as_json(value: Any) -> str | None:
    """A plain value at once, which is most of what there is; None where something else is in it."""
    try:
        return json.dumps(value, ensure_ascii=False)
    except (TypeError, ValueError, RecursionError):
        return None


def _leaf(value: Any) -> str:
    geometry = getattr(value, "wkb_hex", None)
    if isinstance(geometry, str):
        return f"{type(value).__name__}({geometry})"
    return ADDRESS.sub("", repr(value))


def _parts(value: Any) -> Iterator[tuple[str, Any]]:
    """What is in a value, each with its name; nothing for a plain one."""
    if isinstance(value, Mapping):
        yield from ((f"{key!r}: ", one) for key, one in value.items())
    elif isinstance(value, list | tuple | Set):
        yield from (("", one) for one in value)
    elif hasattr(value, "tolist") and hasattr(value, "dtype"):
        listed = value.tolist()
        yield from (("", one) for one in (listed if isinstance(listed, list) else [listed]))
    elif is_dataclass(value) and not isinstance(value, type):
        public = [one.name for one in fields(value) if not _is_own(type(value), one.name)]
        yield from ((f"{name}=", getattr(value, name)) for name in public)
    elif getattr(type(value), "__repr__", None) is object.__repr__ and hasattr(value, "__dict__"):
        yield from ((f"{name}=", one) for name, one in vars(value).items() if not _is_own(type(value), name))


def _is_own(kind: type, name: str) -> bool:
    """Whether an attribute is the object's own business: a memo, say, that changes no answer."""
    return name.startswith("_") or isinstance(getattr(kind, name, None), cached_property)
