"""What a catalogue holds of its layers and references, checked as it is read: the file may be a stranger's."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any

from afield.plugins.geometry.catalogue.packing import Damaged

LAYER_COLUMNS = (
    "file", "name", "sha256", "crs", "edge_model", "datum_accuracy_m", "source", "licence", "dated", "map_accuracy",
    "map_accuracy_m", "level", "notes",
)  # fmt: skip
KINDS = ("line", "area", "point")
EDGE_MODELS = ("lonlat", "geodesic")
_TEXTS = ("file", "name", "sha256", "crs")
_TEXTS_OR_NOTHING = ("source", "licence", "dated", "map_accuracy")


def stored_layers(connection: sqlite3.Connection, numbers: Sequence[int] | None = None) -> dict[int, dict[str, Any]]:
    """The layers of these numbers, or all, by number; `notes` is a list. Raises Damaged."""
    columns = ", ".join(LAYER_COLUMNS)
    rows = connection.execute(f"SELECT id, {columns} FROM layer ORDER BY id").fetchall()
    wanted = [row for row in rows if numbers is None or row[0] in numbers]
    if numbers is not None and len(wanted) != len(set(numbers)):
        raise Damaged("a layer is missing")
    return {row[0]: _checked_layer(dict(zip(LAYER_COLUMNS, row[1:], strict=True))) for row in wanted}


def checked_reference(program: Any, name: Any, kind: Any, edge_model: Any, doubt_m: Any) -> None:
    """Refuse what no build writes of a reference. Raises Damaged."""
    texts = isinstance(program, str) and isinstance(name, str)
    if not texts or kind not in KINDS or edge_model not in EDGE_MODELS or not _is_length(doubt_m):
        raise Damaged("a reference is not described as it ought to be")


def _checked_layer(layer: dict[str, Any]) -> dict[str, Any]:
    texts = all(isinstance(layer[key], str) for key in _TEXTS)
    others = all(isinstance(layer[key], str | None) for key in _TEXTS_OR_NOTHING)
    if not (texts and others and _measures_fit(layer)):
        raise Damaged("a layer is not described as it ought to be")
    return {**layer, "notes": _notes(layer["notes"])}


def _measures_fit(layer: Mapping[str, Any]) -> bool:
    map_m, datum_m = layer["map_accuracy_m"], layer["datum_accuracy_m"]
    lengths = (map_m is None or (_is_length(map_m) and map_m > 0)) and (datum_m is None or _is_length(datum_m))
    return lengths and layer["edge_model"] in EDGE_MODELS and layer["level"] in (68, 95, None)


def _is_length(value: Any) -> bool:
    # Not a number fails both comparisons.
    return isinstance(value, float) and 0 <= value < 1e9


def _notes(text: Any) -> list[str]:
    try:
        notes = json.loads(text)
    except (TypeError, ValueError, RecursionError):
        notes = None
    if not isinstance(notes, list) or not all(isinstance(note, str) for note in notes):
        raise Damaged("the notes of a layer cannot be read")
    return notes
