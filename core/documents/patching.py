"""A document with a part of another, or of itself, laid over it (RFC 7396, JSON Merge Patch)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from afield.core.documents.document import Document
from afield.core.documents.marks import Marks, Path
from afield.core.documents.places import InputError


def patched(document: Document, at: Path) -> Document:
    """The document with the mapping that it holds at `at` merged over its top level.

    A key of the patch replaces the value of the same key, mappings are merged key by key, and null removes the key.
    Values keep the places where they were written, those of the patch included.

    Raises:
        KeyError: the document holds nothing at `at`.
        InputError: what it holds there is no mapping.

    """
    patch: Any = document.data
    marks = document.marks
    for step in at:
        patch, marks = patch[step], marks.parts[step]
    if not isinstance(patch, dict):
        what = f'"{at[-1]}" must say what it changes'
        raise InputError([document.problem(at, what, 'Write the keys that differ, for example "kit: [...]".')])
    data, marks = _merged(document.data, document.marks, patch, marks)
    return replace(document, data=data, marks=marks)


def merged(document: Document, patch: Document) -> Document:
    """The document with the whole of another merged over it; as `patched`, the places naming either file."""
    data, marks = _merged(document.data, document.marks, patch.data, patch.marks)
    others = {**(document.others or {}), **(patch.others or {}), patch.name: patch.source}
    return replace(document, data=data, marks=marks, others=others)


def _merged(target: Any, target_marks: Marks, patch: Any, patch_marks: Marks) -> tuple[Any, Marks]:
    if not isinstance(patch, dict):
        return patch, patch_marks
    was_mapping = isinstance(target, dict)
    base = target_marks if was_mapping else Marks(patch_marks.place)
    values = dict(target) if was_mapping else {}
    marks = Marks(base.place, dict(base.keys), dict(base.parts))
    for key, value in patch.items():
        if value is None:
            _remove(key, values, marks)
        else:
            below = marks.parts.get(key, Marks(patch_marks.parts[key].place))
            values[key], marks.parts[key] = _merged(values.get(key), below, value, patch_marks.parts[key])
            marks.keys[key] = patch_marks.keys[key]
    return values, marks


def _remove(key: str, values: dict[str, Any], marks: Marks) -> None:
    values.pop(key, None)
    marks.parts.pop(key, None)
    marks.keys.pop(key, None)
