"""Of the branches of a oneOf or anyOf that all failed, the one that the writer meant."""

from __future__ import annotations

from itertools import groupby
from typing import Any

_KEY_FAULTS = ("required", "additionalProperties", "unevaluatedProperties", "dependentRequired")


def meant_errors(error: Any) -> list[Any]:
    """The errors of the branch that fits the keys present best; the first such branch where several do."""
    branches = branches_of(error)
    return min(branches, key=_distance) if branches else []


def branches_of(error: Any) -> list[list[Any]]:
    """The errors of each branch, in written order."""
    return [list(errors) for _, errors in groupby(error.context, key=lambda found: found.relative_schema_path[0])]


def refused_types(error: Any) -> list[str] | None:
    """The types that the branches ask for, if every one of them asks for another than the value's."""
    wanted: list[str] = []
    for errors in branches_of(error):
        limits = [found.validator_value for found in errors if found.validator == "type" and not found.relative_path]
        if not limits:
            return None
        wanted += [limits[0]] if isinstance(limits[0], str) else limits[0]
    return list(dict.fromkeys(wanted))


def alternatives(error: Any) -> list[list[str]] | None:
    """The groups of keys of which one is due, if all that the branches lack is every one of their required keys.

    Branches for another type than the value's are left out.
    """
    groups = []
    for errors in branches_of(error):
        at_root = [found for found in errors if not found.relative_path]
        if any(found.validator == "type" for found in at_root):
            continue
        missing = [str(found.validator_value[0]) for found in at_root if found.validator == "required"]
        if len(missing) < len(errors) or len(missing) < len(errors[0].schema["required"]):
            return None
        groups.append(missing)
    return groups if len(groups) > 1 else None


def _distance(errors: list[Any]) -> int:
    """How far the value is from a branch: another type, then another constant, then keys, then the rest."""
    return sum(map(_weight, errors))


def _weight(error: Any) -> int:
    depth = len(error.relative_path)
    if depth == 0 and error.validator in ("type", "const", "enum"):
        return 10_000
    if error.validator == "const" and depth == 1:
        return 1_000
    if error.validator in _KEY_FAULTS and depth <= 1:
        return 10
    return 1
