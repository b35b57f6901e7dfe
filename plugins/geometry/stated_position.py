"""Makes the plan's `station.at` into a Position: which form, how accurate, at which level."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, Piece, _, marked
from afield.plugins.geometry.station_facts import DEFAULT_LEVEL, Position, metres, percent

LEVELS = (68.0, 95.0)
COARSE_BOX_M = 400.0
"""Half side of a box from which its edges, and not the fix, are the position's uncertainty (a judgement): a locator of
six characters, an MGRS square of 1 km."""


def position_of(at: Piece) -> Position:
    """The position that the plan states.

    Raises:
        InputError: it cannot be read; the message points at the plan.
        CannotTell: its accuracy is not stated, and its form does not bound it.

    """
    from afield.plugins.geometry.computations.doubt import sigma_m
    from afield.plugins.geometry.position_form import PositionError
    from afield.plugins.geometry.positions import read_position
    from afield.plugins.geometry.readers import GeoFileError

    try:
        form = read_position(at.data, lambda file, layer: _layer(at, layer))
    except (PositionError, GeoFileError) as error:
        raise at.problem(error.what, error.advice, *_blamed(at, error.what)) from error
    accuracy, level, level_stated = _accuracy(at)
    # A coarse grid square says where the station is; a fine one is what a receiver prints, whatever its error.
    bounded = form.form in ("locator", "mgrs") and min(form.resolution_m) >= COARSE_BOX_M
    if accuracy is None and not bounded:
        raise CannotTell(_("the accuracy of the position is not stated"), "station.at.accuracy", "not stated", "trip")
    sigma = None if accuracy is None else sigma_m(accuracy, int(level))
    notes = [*form.notes, *_level_notes(accuracy, level_stated)]
    return Position(
        form.lat_deg, form.lon_deg, form.form, accuracy, level if accuracy is not None else None, level_stated,
        sigma, form.resolution_m, tuple(notes),
    )  # fmt: skip


def _blamed(at: Piece, what: str) -> list[str]:
    """The key that the complaint is about; none where it is about the keys together."""
    forms = [key for key in ("utm", "mgrs", "locator", "file") if key in at.data]
    if forms:
        return forms if len(forms) == 1 and "lat" not in at.data else []
    axes = {"latitude": "lat", "longitude": "lon"}
    return [key for word, key in axes.items() if what.startswith(word)]


def _layer(at: Piece, layer: str | None) -> Any:
    from afield.plugins.geometry.readers import read_layer

    return read_layer(at.file("file"), str(at.data["file"]), layer)


def _accuracy(at: Piece) -> tuple[float | None, float, bool]:
    if "accuracy" not in at.data:
        return None, DEFAULT_LEVEL, False
    return metres(at.data["accuracy"]), level_of(at), "level" in at.data


def level_of(piece: Piece) -> float:
    """The level of an accuracy, 68 where the plan or pack leaves it out.

    Raises:
        InputError: a level that is neither 68 % nor 95 %.

    """
    if "level" not in piece.data:
        return DEFAULT_LEVEL
    level = percent(piece.data["level"])
    if level not in LEVELS:
        raise piece.problem(f"the level {piece.data['level']} is not known", "Write 68 % or 95 %.", "level")
    return level


def _level_notes(accuracy: float | None, stated: bool) -> list[str]:
    if accuracy is None or stated:
        return []
    return [_("The accuracy is stated without a level; it is taken as a 68 % circle, which is what phones state.")]


def declination_on(position: Position, day: str) -> Estimate:
    """Declination at the position on the day.

    Raises:
        CannotTell: outside the model's years, or where a compass is of no use.

    """
    from afield.plugins.geometry.computations.magnetic import decimal_year, magnetic_declination

    try:
        found = magnetic_declination(position.lat_deg, position.lon_deg, decimal_year(day))
    except ValueError as error:
        raise CannotTell(str(error), "station.bearings", "outside validity") from error
    notes = (_("The compass is doubtful here: the horizontal field is weak."),) if found.zone != "normal" else ()
    return Estimate(
        found.declination_deg, parts={marked("magnetic model"): found.declination_error_95pct_deg},
        method="World Magnetic Model 2025", notes=notes,
    )  # fmt: skip
