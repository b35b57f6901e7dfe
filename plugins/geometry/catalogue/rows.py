"""Writes layers, references, shapes and boxes into the tables of a new catalogue."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import NamedTuple

from afield.core.api import frozen
from afield.plugins.geometry.catalogue.drawing import Drawn, drawn_shapes
from afield.plugins.geometry.catalogue.layout import CatalogueError
from afield.plugins.geometry.catalogue.naming import Named, Naming
from afield.plugins.geometry.catalogue.soundness import plain_areas
from afield.plugins.geometry.catalogue.sources import Source
from afield.plugins.geometry.readers import Feature, GeoFileError

BATCH = 500


@frozen(slots=False)
class Provenance:
    """What the maker of the catalogue states of a file; None where nothing is stated.

    Attributes:
        map_accuracy: as written ("5 m"), map_accuracy_m: the same in metres, level: of it, percent.

    """

    source: str | None = None
    licence: str | None = None
    dated: str | None = None
    map_accuracy: str | None = None
    map_accuracy_m: float | None = None
    level: int | None = None


@dataclass
class Counts:
    """What went into a catalogue."""

    layers: int = 0
    kinds: dict[str, int] = field(default_factory=dict)
    unnamed: int = 0
    notes: list[str] = field(default_factory=list)


class _Entry(NamedTuple):
    """A feature with its number in the layer and the reference that it is."""

    number: int
    named: Named
    feature: Feature


@dataclass
class Writer:
    """Adds sources to a catalogue that is being built."""

    connection: sqlite3.Connection
    naming: Naming
    join: bool
    progress: Callable[[str, int, float], None]
    counts: Counts = field(default_factory=Counts)
    _known: dict[Named, tuple[int, int, str]] = field(default_factory=dict)
    _files: list[str] = field(default_factory=list)
    _shapes: int = 0
    _boxes: int = 0

    def add(self, source: Source, provenance: Provenance) -> None:
        """Add all features of a layer.

        Raises:
            GeoFileError: it cannot be read, has no features, or one cannot be named.
            CatalogueError: a second reference of one name in one program.

        """
        self._files.append(source.shown)
        layer = len(self._files)
        entries, count = self._entries(source), 0
        while batch := list(islice(entries, BATCH)):
            self._write(batch, layer, source.edge_model)
            count += len(batch)
            self.progress(source.shown, count, source.share_of(batch[-1].number))
        if not count:
            raise _nothing_in(source.shown, self.naming.skip_unnamed)
        self._write_layer(layer, source, provenance)

    def _entries(self, source: Source) -> Iterator[_Entry]:
        for number, feature in source.features():
            named = self.naming.of(feature, number, source.shown)
            if named is None:
                self.counts.unnamed += 1
            else:
                yield _Entry(number, named, feature)

    def _write(self, batch: list[_Entry], layer: int, edge_model: str) -> None:
        features = [entry.feature for entry in batch]
        shapes = drawn_shapes(features, edge_model)
        for entry, its, plain in zip(batch, shapes, _plain(features, shapes), strict=True):
            doubt_m = max(drawn.doubt_m for drawn in its)
            self._write_shapes(self._reference(entry, layer, plain, doubt_m), its)

    def _reference(self, entry: _Entry, layer: int, plain: bool, doubt_m: float) -> int:
        """The number of the reference that the entry is, or is a part of."""
        known = self._known.get(entry.named)
        if known is None:
            number = len(self._known) + 1
            self._known[entry.named] = number, layer, entry.feature.kind
            self.counts.kinds[entry.feature.kind] = self.counts.kinds.get(entry.feature.kind, 0) + 1
            row = (number, layer, *entry.named, entry.feature.kind, plain, doubt_m)
            self.connection.execute("INSERT INTO reference VALUES (?, ?, ?, ?, ?, ?, ?)", row)
            return number
        number, its_layer, kind = known
        if not self.join or (its_layer, kind) != (layer, entry.feature.kind):
            raise self._twice(entry, layer, its_layer)
        # Whether parts of an area touch is not looked into here: the full method will see.
        is_plain = plain and kind != "area"
        change = "UPDATE reference SET plain = min(plain, ?), doubt_m = max(doubt_m, ?) WHERE id = ?"
        self.connection.execute(change, (is_plain, doubt_m, number))
        return number

    def _twice(self, entry: _Entry, layer: int, its_layer: int) -> CatalogueError:
        program, name = entry.named
        where = f" in the program {program}" if program else ""
        first = "" if its_layer == layer else f"; the first is in {self._files[its_layer - 1]}"
        what = f'feature {entry.number} is a second reference of the name "{name}"{where}{first}'
        advice = "Give each a name of its own, or another field that tells them apart with --name-field. "
        joined = "Parts of one reference, of one kind and in one layer, are put together with --join."
        return CatalogueError(self._files[layer - 1], what, advice + joined)

    def _write_shapes(self, reference: int, shapes: Iterable[Drawn]) -> None:
        # Parts that are put together keep their own lines apart: a piece goes on only from the one right before it.
        offset = self._shapes
        for drawn in shapes:
            self._shapes += 1
            row = (self._shapes, reference, offset + drawn.part, *drawn.columns())
            self.connection.execute("INSERT INTO shape VALUES (?, ?, ?, ?, ?)", row)
            for box in drawn.boxes():
                self._boxes += 1
                self.connection.execute(
                    "INSERT INTO box VALUES (?, ?, ?, ?, ?, ?, ?)", (self._boxes, *box, self._shapes, reference)
                )

    def _write_layer(self, number: int, source: Source, stated: Provenance) -> None:
        notes = source.layer.notes
        row = (
            number, source.shown, source.name, source.layer.sha256, source.crs, source.edge_model,
            source.datum_accuracy_m, stated.source, stated.licence, stated.dated, stated.map_accuracy,
            stated.map_accuracy_m, stated.level, json.dumps(notes, ensure_ascii=False),
        )  # fmt: skip
        self.connection.execute(f"INSERT INTO layer VALUES ({', '.join('?' * len(row))})", row)
        self.counts.layers += 1
        self.counts.notes.extend(notes)


def _nothing_in(shown: str, skipped: bool) -> GeoFileError:
    if skipped:
        what, advice = "no feature has a name in it", "Name the field that holds the names with --name-field."
    else:
        what, advice = "there are no features in it", "Save the file again with the points, lines or areas in it."
    return GeoFileError(f"{shown}: {what}", advice)


def _plain(features: list[Feature], shapes: list[list[Drawn]]) -> list[bool]:
    """Whether the quick measures are right for each feature."""
    kinds = [feature.kind for feature in features]
    areas = iter(plain_areas([its for its, kind in zip(shapes, kinds, strict=True) if kind == "area"]))
    pairs = zip(shapes, kinds, strict=True)
    return [next(areas) if kind == "area" else all(drawn.plain for drawn in its) for its, kind in pairs]
