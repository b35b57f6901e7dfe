"""Reads the geometry that a claim or a pack names, and what its map leaves open."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

from afield.core.api import CannotTell, Piece
from afield.plugins.geometry.computations.doubt import sigma_m
from afield.plugins.geometry.readers import Feature, GeoFileError, Layer, choose_feature, read_layer
from afield.plugins.geometry.reference_facts import SUPPLY_GEOMETRY, Place
from afield.plugins.geometry.stated_position import level_of
from afield.plugins.geometry.station_facts import metres

DATUM_UNKNOWN = "the step from the file's datum to WGS 84 has no stated accuracy"


def place_of(piece: Piece, kind: str) -> Place:
    """The place that the piece describes.

    Raises:
        InputError: its file cannot be used; the message points at where it is named.
        CannotTell: the map's accuracy is not stated.

    """
    layer, features = _read(piece, kind)
    sigma, notes = _map_sigma(piece)
    if layer.datum_accuracy_m is None:
        raise CannotTell(DATUM_UNKNOWN, f"{SUPPLY_GEOMETRY}.file", "no uncertainty stated")
    return Place(
        kind, [line for feature in features for line in feature.lines],
        [area for feature in features for area in feature.areas],
        [point for feature in features for point in feature.points],
        layer=f"{layer.file}#{layer.name}", edge_model=piece.data.get("edge_model", layer.edge_model),
        map_sigma_m=sigma, datum_m=layer.datum_accuracy_m, source=piece.data.get("source", "source not stated"),
        notes=(*layer.notes, *notes),
    )  # fmt: skip


def _read(piece: Piece, kind: str) -> tuple[Layer, list[Feature]]:
    data = piece.data
    try:
        layer = _layer(piece.file("file"), str(data["file"]), data.get("layer"))
        id_ = None if "id" not in data else str(data["id"])
        return layer, choose_feature(layer, data.get("name"), id_, data.get("id_field"), _due(kind))
    except GeoFileError as error:
        raise piece.problem(error.what, error.advice, "file") from error


def _due(kind: str) -> Any:
    return kind


@lru_cache(maxsize=16)
def _layer(path: Path, shown: str, layer: str | None) -> Layer:
    # Two references of one file are read once.
    return read_layer(path, shown, layer)


def _map_sigma(piece: Piece) -> tuple[float, list[str]]:
    if "map_accuracy" not in piece.data:
        raise CannotTell(
            "the accuracy of the map is not stated: add `map_accuracy:` to the geometry",
            f"{SUPPLY_GEOMETRY}.map_accuracy", "no uncertainty stated",
        )  # fmt: skip
    accuracy = metres(piece.data["map_accuracy"])
    if accuracy <= 0:
        advice = "A map is never exact; write what its maker states, such as `map_accuracy: 5 m`."
        raise piece.problem(f"a map accuracy of {piece.data['map_accuracy']} is not above 0", advice, "map_accuracy")
    notes = [] if "level" in piece.data else ["The map's accuracy is stated without a level; it is taken as 68 %."]
    return sigma_m(accuracy, int(level_of(piece))), notes
