"""What is in a catalogue, in words."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from typing import Any

from afield.plugins.geometry.catalogue.saying import printable
from afield.plugins.geometry.catalogue.stored import stored_layers

_COUNTS = "SELECT kind, count(*) FROM reference WHERE layer = ? GROUP BY kind ORDER BY kind"


def shown_lines(connection: sqlite3.Connection) -> Iterator[str]:
    """Every layer: what is in it, where it came from, and what is stated of it."""
    for number, layer in stored_layers(connection).items():
        counts = ", ".join(f"{kind} {count:,}" for kind, count in connection.execute(_COUNTS, (number,)))
        yield from map(printable, _lines(layer, counts))


def _lines(layer: Mapping[str, Any], counts: str) -> Iterator[str]:
    datum_m, accuracy, level = layer["datum_accuracy_m"], layer["map_accuracy"], layer["level"]
    step = "no stated accuracy" if datum_m is None else f"{datum_m:g} m"
    of_level = "" if accuracy is None else f" ({level or 68} %{'' if level else ', taken so'})"
    stated = {key: layer[key] or "not stated" for key in ("source", "licence", "dated")}
    yield f"{layer['file']}#{layer['name']}: {counts}"
    yield f"  {layer['crs']}, {layer['edge_model']} edges; step to WGS 84: {step}"
    yield f"  accuracy of the map: {accuracy or 'not stated'}{of_level}"
    yield f"  source: {stated['source']}; licence: {stated['licence']}; date: {stated['dated']}"
    yield f"  sha256 {layer['sha256']}"
    yield from (f"  note: {note}" for note in layer["notes"])
