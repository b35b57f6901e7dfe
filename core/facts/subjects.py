"""Subjects: what rules ask facts of."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import field
from pathlib import Path
from typing import Any

from afield.core.documents import Document, InputError, OutsideFolder, Place, Problem, inside_folder
from afield.core.frozen import frozen


@frozen
class Origin:
    """A piece of a document that a subject was made from.

    Attributes:
        document: where it was written.
        path: the piece's path inside the document.
        folder: where file names in it are looked up.
        closed: whether file names may not leave the folder (a pack's).

    """

    document: Document
    path: tuple[str | int, ...]
    folder: Path | None = None
    closed: bool = False

    def place(self, *more: str | int) -> Place:
        """Where the piece, or something inside it, was written."""
        return self.document.place(self.path + more)


@frozen(eq=False)
class Subject:
    """One thing that rules are judged for.

    Attributes:
        key: unique readable slug, `kind:parent/name`.
        kind: name of its kind.
        label: as shown to the reader.
        parents: kind -> key of every enclosing subject.
        data: what the plan says of it, plain.
        origin: where that was written.
        extra: further pieces that state facts of it (the pack's reference entry, a kit's item), by name.
        program: the award program that it belongs to, if any.

    """

    key: str
    kind: str
    label: str
    parents: Mapping[str, str] = field(default_factory=dict)
    data: Mapping[str, Any] = field(default_factory=dict)
    origin: Origin | None = None
    extra: Mapping[str, Origin] = field(default_factory=dict)
    program: str | None = None

    def within(self, kind: str) -> str | None:
        """Key of the enclosing subject of that kind (itself included), None if there is none."""
        return self.key if kind == self.kind else self.parents.get(kind)


@frozen
class Piece:
    """A structured value that a plan or a pack states, with where it was written.

    Attributes:
        data: plain.
        origin: where it was written and where its file names are looked up.

    """

    data: Any
    origin: Origin

    def problem(self, what: str, advice: str, *path: str | int) -> InputError:
        """An input error that points at the piece, or at something inside it."""
        place = self.origin.place(*path)
        return InputError([Problem(place, what, advice, self.origin.document.line(place))])

    def file(self, *path: str | int) -> Path:
        """The file that the text at the path names; one that a plan names is noted for the report.

        Raises:
            InputError: the name leaves a pack's folder.

        """
        name = str(self._at(path))
        folder = self.origin.folder or Path()
        if not self.origin.closed:
            return self.origin.document.opened.setdefault(name, folder / name)
        try:
            return inside_folder(folder, name)
        except OutsideFolder as error:
            raise self.problem(
                f"{name} lies outside the pack's folder", "Keep the file inside the pack.", *path
            ) from error

    def _at(self, path: tuple[str | int, ...]) -> Any:
        found = self.data
        for step in path:
            found = found[step]
        return found


def slug(text: str) -> str:
    """A readable key made from a name: lower case, words joined by hyphens."""
    words = re.sub(r"[^\w]+", "-", text.strip().lower(), flags=re.UNICODE).strip("-")
    return words or "unnamed"


def share_ancestors(one: Subject, other: Subject) -> bool:
    """Whether two subjects have the same parent in every kind that both have.

    A subject counts as the parent of its own kind for the other: a claim gathers its own contacts, not those of others.
    """
    shared = all(other.parents.get(kind, key) == key for kind, key in one.parents.items())
    return shared and _may_enclose(one, other) and _may_enclose(other, one)


def _may_enclose(outer: Subject, inner: Subject) -> bool:
    return inner.parents.get(outer.kind, outer.key) == outer.key


def of_kind(subjects: Iterable[Subject], kind: str) -> list[Subject]:
    """The subjects of one kind, in their order."""
    return [subject for subject in subjects if subject.kind == kind]
