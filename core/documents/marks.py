"""The positions of a tree of values, kept beside the plain values."""

from __future__ import annotations

from dataclasses import dataclass, field

from afield.core.documents.places import Place

Path = tuple[str | int, ...]
"""The keys and list indexes that lead from the top of a document to a value."""


@dataclass(slots=True)
class Marks:
    """Where a value, its keys and its parts were written. Shared between documents, so never changed once read."""

    place: Place
    keys: dict[str, Place] = field(default_factory=dict)
    parts: dict[str | int, Marks] = field(default_factory=dict)


def place_at(marks: Marks, path: Path) -> Place:
    """The place of the value at the path, or of its nearest ancestor."""
    for step in path:
        if step not in marks.parts:
            break
        marks = marks.parts[step]
    return marks.place


def key_place_at(marks: Marks, path: Path) -> Place:
    """The place of the key that ends the path; of the value where it is a list's item; else of the nearest ancestor."""
    for step in path[:-1]:
        if step not in marks.parts:
            return marks.place
        marks = marks.parts[step]
    last = path[-1] if path else ""
    if isinstance(last, str) and last in marks.keys:
        return marks.keys[last]
    return marks.parts[last].place if last in marks.parts else marks.place
