"""Kit lists as CSV (RFC 4180, a row a line): read into the same document as a kit file, each cell with its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from afield.core.api import Document, InputError, Marks, Place, Problem, did_you_mean, quoted_list

COLUMNS = ("name", "is", "class", "mass", "price", "bag", "spare_of")
LARGEST = 1 << 20
_QUOTED = re.compile(r'\s*"((?:[^"]|"")*)"\s*')
Cell = tuple[str, int]
"""Text, and the column (from 1) where it begins."""


class BadRow(ValueError):
    """A row that cannot be cut into cells.

    Attributes:
        what, advice: as in a Problem.
        column: where, from 1.

    """

    def __init__(self, what: str, advice: str, column: int) -> None:
        super().__init__(what)
        self.what, self.advice, self.column = what, advice, column


def csv_document(path: Path, shown: str) -> Document:
    """The items of a CSV file.

    Raises:
        InputError: the file cannot be read, or some row is bad; every bad row is listed.

    """
    text = _text(path, shown)
    return _Reader(shown, text.replace("\r\n", "\n").replace("\r", "\n").split("\n")).document(text, path.parent)


def _text(path: Path, shown: str) -> str:
    try:
        content = path.read_bytes()
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        what = f"line {line} is not UTF-8: byte 0x{content[error.start]:02x}"
        raise InputError([Problem(Place(shown, line, 1), what, "Save the list as CSV in UTF-8.")]) from None
    except OSError as error:
        what = f"the file cannot be read: {error.strerror}"
        raise InputError([Problem(Place(shown), what, "Check its name and your rights to it.")]) from None
    if len(content) > LARGEST:
        raise InputError([Problem(Place(shown), "the file is larger than 1 MiB", "Split the list.")])
    return text


def cells_of(line: str, separator: str = ",") -> list[Cell]:
    """The cells of a row.

    Raises:
        BadRow: a quote that is not closed, or something behind a closed one.

    """
    cells: list[Cell] = []
    at = 0
    while True:
        text, column, at = _cell(line, at, separator)
        cells.append((text, column))
        if at >= len(line):
            return cells
        at += 1
        if at == len(line):
            return [*cells, ("", at + 1)]


def _cell(line: str, at: int, separator: str) -> tuple[str, int, int]:
    """One cell, the column where it begins, and the index behind it."""
    if line[at:].lstrip().startswith('"'):
        return _quoted_cell(line, at, separator)
    end = line.find(separator, at)
    end = len(line) if end < 0 else end
    raw = line[at:end]
    return raw.strip(), at + 1 + len(raw) - len(raw.lstrip()), end


def _quoted_cell(line: str, at: int, separator: str) -> tuple[str, int, int]:
    column = line.index('"', at) + 1
    found = _QUOTED.match(line, at)
    if found is None:
        raise BadRow("the quote that opens here is not closed on this line", 'Close it with ".', column)
    if found.end() < len(line) and line[found.end()] != separator:
        what = "something follows the closing quote"
        raise BadRow(what, f'Write {separator} there, or double the quotes inside: "".', found.end() + 1)
    return found[1].replace('""', '"').strip(), column, found.end()


@dataclass
class _Reader:
    shown: str
    lines: list[str]
    problems: list[Problem] = field(default_factory=list)
    separator: str = ","

    def document(self, text: str, folder: Path) -> Document:
        rows = self.rows()
        header = next(rows, None)
        if header is None:
            raise InputError([Problem(Place(self.shown), "nothing is written here", self.example)])
        columns = self.columns(*header)
        if self.problems:
            raise InputError(self.problems)
        items = [made for number, cells in rows if (made := self.item(number, cells, columns))]
        if self.problems or not items:
            raise InputError(self.problems or [Problem(Place(self.shown), "the list has no rows", self.example)])
        marks = Marks(Place(self.shown, 1, 1), parts={index: item for index, (_, item) in enumerate(items)})
        whole = Marks(Place(self.shown, 1, 1), parts={"items": marks})
        return Document(self.shown, {"items": [data for data, _ in items]}, whole, text, folder)

    @property
    def example(self) -> str:
        return f"Begin with a row of column names, such as {','.join(COLUMNS)}."

    def rows(self) -> Iterator[tuple[int, list[Cell]]]:
        first = next((line for line in self.lines if line.strip()), "")
        self.separator = ";" if ";" in first and "," not in first else ","
        for number, line in enumerate(self.lines, 1):
            if not line.strip():
                continue
            try:
                yield number, cells_of(line, self.separator)
            except BadRow as bad:
                self.add(number, bad.column, bad.what, bad.advice)

    def add(self, number: int, column: int, what: str, advice: str) -> None:
        self.problems.append(Problem(Place(self.shown, number, column), what, advice, self.lines[number - 1]))

    def columns(self, number: int, cells: list[Cell]) -> list[str]:
        names = [text.lower().replace(" ", "_").replace("-", "_") for text, _ in cells]
        for name, (text, column) in zip(names, cells, strict=True):
            if name not in COLUMNS:
                guess = did_you_mean(name, COLUMNS)
                advice = f'Did you mean "{guess}"?' if guess else f"Columns are {quoted_list(COLUMNS)}."
                self.add(number, column, f'"{text}" is no column of a kit list', advice)
            elif names.index(name) < [pair[1] for pair in cells].index(column):
                self.add(number, column, f"the column {text} stands there twice", "Remove one of the two.")
        if "name" not in names and not self.problems:
            self.add(number, 1, 'the list has no column "name"', self.example)
        return names

    def item(self, number: int, cells: list[Cell], columns: list[str]) -> tuple[dict[str, str], Marks] | None:
        if len(cells) != len(columns):
            counted = "1 cell" if len(cells) == 1 else f"{len(cells)} cells"
            what = f"the row has {counted}; the list has {len(columns)} columns"
            advice = f"Write every cell, an empty one too; put a cell with a {self.separator} in quotes."
            self.add(number, cells[min(len(cells), len(columns) + 1) - 1][1], what, advice)
            return None
        filled = {name: cell for name, cell in zip(columns, cells, strict=True) if cell[0]}
        if "name" not in filled:
            self.add(number, cells[columns.index("name")][1], "the row has no name", "Name the item.")
            return None
        places = {name: Place(self.shown, number, column) for name, (_, column) in filled.items()}
        marks = Marks(places["name"], dict(places), {name: Marks(place) for name, place in places.items()})
        return {name: text for name, (text, _) in filled.items()}, marks
