"""A document that a person wrote: plain values, each with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from functools import cached_property
from pathlib import Path as FilePath
from typing import Any

from afield.core.documents.marks import Marks, Path, key_place_at, place_at
from afield.core.documents.places import Place, Problem
from afield.core.frozen import frozen


@frozen(slots=False, eq=False)
class Document:
    """A YAML or JSON document. Its data are shared and must not be changed.

    Attributes:
        name: the file's name as shown to the reader.
        data: plain dict, list, str, int, float, bool, None; dates are the text as written, and a float that was
            written otherwise than Python writes it (39.9040) is a WrittenFloat.
        marks: where each value was written.
        source: the text as read.
        folder: where the file lies; None if it was read from text.
        others: name -> text of further files that values were merged from.
        opened: name as written -> path of each file named in the document that was asked for; grows while facts are
            found, and is the only thing here that does.

    """

    name: str
    data: Any
    marks: Marks
    source: str
    folder: FilePath | None = None
    others: Mapping[str, str] | None = None
    opened: dict[str, FilePath] = field(default_factory=dict)

    def place(self, path: Path = ()) -> Place:
        """Where the value at the path was written; for a value that is not there, its nearest ancestor."""
        return place_at(self.marks, path)

    def key_place(self, path: Path) -> Place:
        """Where the key that ends the path was written; for a list's item, the item."""
        return key_place_at(self.marks, path)

    def value(self, path: Path = (), default: Any = None) -> Any:
        """The value at the path, `default` if there is none."""
        found = self.data
        for step in path:
            try:
                found = found[step]
            except (KeyError, IndexError, TypeError):
                return default
        return found

    def line(self, place: Place) -> str:
        """The source line of a place, "" if the place is not in this document."""
        lines = self._lines.get(place.file, [])
        return lines[place.line - 1] if 0 < place.line <= len(lines) else ""

    def problem(self, path: Path, what: str, advice: str, at_key: bool = False) -> Problem:
        """A problem with the value at the path (with the key itself, if `at_key`), its source line included."""
        place = self.key_place(path) if at_key else self.place(path)
        return Problem(place, what, advice, self.line(place))

    @cached_property
    def sha256(self) -> str:
        """Hash of the text as UTF-8, in hexadecimal."""
        import hashlib

        return hashlib.sha256(self.source.encode()).hexdigest()

    @cached_property
    def _lines(self) -> dict[str, list[str]]:
        return {name: source_lines(text) for name, text in {**(self.others or {}), self.name: self.source}.items()}


def source_lines(text: str) -> list[str]:
    """The lines as YAML counts them: after LF, CR LF or CR, and after nothing else."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
