"""Reads the geometry that a claim or a pack names, and what its map leaves open."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from afield.core.api import CannotTell, Piece, _, marked
from afield.plugins.geometry.computations.doubt import sigma_m
from afield.plugins.geometry.notes import said
from afield.plugins.geometry.readers import Feature, GeoFileError, Layer, choose_feature, read_layer
from afield.plugins.geometry.reference_facts import SUPPLY_GEOMETRY, Place
from afield.plugins.geometry.stated_position import level_of
from afield.plugins.geometry.station_facts import metres

NO_LEVEL = marked("The map's accuracy is stated without a level; it is taken as 68 %.")
DATUM_UNKNOWN = marked("the step from the file's datum to WGS 84 has no stated accuracy")


def place_of(piece: Piece, kind: str) -> Place:
    """The place that the piece describes.

    Raises:
        InputError: its file cannot be used; the message points at where it is named.
        CannotTell: the map's accuracy is not stated.

    """
    if kind == "summit":
        from afield.plugins.geometry.terrain.stating import summit_point

        return summit_point(piece)
    layer, features, stored = _read(piece, kind)
    sigma, notes = map_sigma(piece, stored)
    source = piece.data.get("source") or stored.get("source") or _("source not stated")
    if layer.datum_accuracy_m is None:
        raise CannotTell(_(DATUM_UNKNOWN), f"{SUPPLY_GEOMETRY}.file", "no uncertainty stated")
    return Place(
        kind, [line for feature in features for line in feature.lines],
        [area for feature in features for area in feature.areas],
        [point for feature in features for point in feature.points],
        layer=f"{layer.file}#{layer.name}", edge_model=piece.data.get("edge_model", layer.edge_model),
        map_sigma_m=sigma, datum_m=layer.datum_accuracy_m, source=source,
        notes=(*said(layer.notes), *notes),
    )  # fmt: skip


def _read(piece: Piece, kind: str) -> tuple[Layer, list[Feature], Mapping[str, Any]]:
    """The layer, the features that are meant, and what a catalogue states of their map."""
    data, path = piece.data, _file(piece)
    id_ = None if "id" not in data else str(data["id"])
    try:
        if _is_catalogue(path):
            return _from_catalogue(path, data, id_, kind)
        layer = _layer(path, str(data["file"]), data.get("layer"))
        return layer, choose_feature(layer, data.get("name"), id_, data.get("id_field"), _due(kind)), {}
    except GeoFileError as error:
        raise piece.problem(error.what, error.advice, "file") from error


def _file(piece: Piece) -> Path:
    if "file" not in piece.data:
        raise piece.problem("the geometry names no file", "Only a summit can do without: write `file: ...`.")
    return piece.file("file")


def _is_catalogue(path: Path) -> bool:
    from afield.plugins.geometry.catalogue.opening import is_catalogue

    try:
        with path.open("rb") as stream:
            return is_catalogue(stream.read(100))
    except OSError:
        return False  # the reader of other files says what is wrong with it


def _from_catalogue(
    path: Path, data: Mapping[str, Any], id_: str | None, kind: str
) -> tuple[Layer, list[Feature], Mapping[str, Any]]:
    from afield.plugins.geometry.catalogue.reading import catalogue_layer

    shown = str(data["file"])
    if id_ is not None:
        raise GeoFileError(f"{shown}: a catalogue has no ids", "Write the reference's name: `name: ...`.")
    layer, stored = catalogue_layer(path, shown, data.get("name"), data.get("layer"))
    return layer, choose_feature(layer, data.get("name"), None, None, _due(kind)), stored


def _due(kind: str) -> Any:
    return kind


@lru_cache(maxsize=16)
def _layer(path: Path, shown: str, layer: str | None) -> Layer:
    # Two references of one file are read once.
    return read_layer(path, shown, layer)


def map_sigma(piece: Piece, stored: Mapping[str, Any]) -> tuple[float, list[str]]:
    """Standard deviation of each axis, metres, as the plan or pack states it, else as the catalogue does; and notes.

    Raises:
        InputError: an accuracy of 0.
        CannotTell: none is stated.

    """
    if "map_accuracy" not in piece.data:
        if stored.get("map_accuracy_m") is not None:
            return sigma_m(stored["map_accuracy_m"], stored["level"] or 68), [] if stored["level"] else [_(NO_LEVEL)]
        raise CannotTell(
            _("the accuracy of the map is not stated: add `map_accuracy:` to the geometry"),
            f"{SUPPLY_GEOMETRY}.map_accuracy", "no uncertainty stated",
        )  # fmt: skip
    accuracy = metres(piece.data["map_accuracy"])
    if accuracy <= 0:
        advice = "A map is never exact; write what its maker states, such as `map_accuracy: 5 m`."
        raise piece.problem(f"a map accuracy of {piece.data['map_accuracy']} is not above 0", advice, "map_accuracy")
    return sigma_m(accuracy, int(level_of(piece))), [] if "level" in piece.data else [_(NO_LEVEL)]
