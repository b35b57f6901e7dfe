"""What a function may not do to plain values: change those that it was given, or give one that holds itself."""

from __future__ import annotations

import marshal
from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.facts.measured import Estimate, Measured
from afield.core.facts.subjects import Piece, Subject
from afield.core.facts.uncertainty import Argument

VERSION = 2
"""Of marshal's format; later ones write a value differently after it was looked at."""
DEEPEST = 200
"""Levels of a value inside a value; nothing that a fact tells needs as many."""

_CONTAINERS = (dict, list, tuple)
_HOLDERS = (Piece, Subject)

Prints = dict[str, bytes]


def prints(arguments: Mapping[str, Argument]) -> Prints:
    """Every list and mapping among the arguments as bytes; those of other objects than plain ones are left out."""
    return {name: found for name, values in _containers(arguments) if (found := print_of(values)) is not None}


def refuse_changed(before: Prints, arguments: Mapping[str, Argument]) -> None:
    """Refuse a function that changed what it was given: others are given the same value.

    Raises:
        TypeError: naming the argument.

    """
    after = prints(arguments)
    changed = next((name for name, found in before.items() if after.get(name) != found), None)
    if changed is not None:
        raise TypeError(f"it changed its input {changed}; what it is given belongs to others too")


def refuse_endless(estimate: Estimate) -> None:
    """Refuse a value or detail that holds itself: no report could show it.

    Raises:
        ValueError: it is one, or nested deeper than DEEPEST.

    """
    for what, value in (("value", estimate.value), ("detail", estimate.detail)):
        if isinstance(value, _CONTAINERS) and print_of(value) is None and _is_deep(value, DEEPEST):
            raise ValueError(f"the {what} that it returned holds itself, or is nested deeper than {DEEPEST} levels")


def _containers(arguments: Mapping[str, Argument]) -> Iterator[tuple[str, list[Any]]]:
    for name, argument in arguments.items():
        gathered = argument if isinstance(argument, list) else [(None, argument)]
        found = [_inside(value) for pair in gathered for value in pair]
        if any(value is not None for value in found):
            yield name, found


def _inside(value: Any) -> Any:
    plain = value.value if isinstance(value, Measured) else value
    plain = plain.data if isinstance(plain, _HOLDERS) else plain
    return plain if isinstance(plain, _CONTAINERS) else None


def print_of(value: Any) -> bytes | None:
    """A plain value as bytes, equal for equal values; None where other objects are in it, or it holds itself."""
    try:
        return marshal.dumps(value, VERSION)
    except ValueError:
        return None


def _is_deep(value: Any, left: int) -> bool:
    if not isinstance(value, _CONTAINERS):
        return False
    inner = value.values() if isinstance(value, dict) else value
    return left == 0 or any(_is_deep(one, left - 1) for one in inner)
