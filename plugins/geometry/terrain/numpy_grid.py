"""A grid of heights in a NumPy archive (.npz), with its georeference beside it in the archive."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from zipfile import BadZipFile, ZipFile

import numpy as np

from afield.plugins.geometry.readers.layer import GeoFileError
from afield.plugins.geometry.readers.words import quoted_list
from afield.plugins.geometry.terrain.grid import MOST_POSTS, Grid, Heights, checked_size, unit_of

KEYS = ("heights", "x", "y", "step_x", "step_y", "crs")
FORM = (
    "A NumPy archive holds `heights` (rows, columns; no data as NaN), `x` and `y` of the first post, `step_x` and "
    "`step_y` to the next (step_y below 0 where the first row is the north), `crs` as text and, if it is known, `unit`."
)
_MOST_BYTES = 8 * MOST_POSTS


def read_npz(path: Path, shown: str, heights_in: str | None) -> Grid:
    """The grid of a NumPy archive. Raises GeoFileError for an archive that does not hold it."""
    held = _arrays(path, shown)
    missing = [key for key in KEYS if key not in held]
    if missing:
        raise GeoFileError(f"{shown}: the archive has no {quoted_list(missing)}", FORM)
    heights = _heights(held["heights"], shown)
    rows, columns = heights.shape
    checked_size(rows, columns, shown)
    x, y, step_x, step_y = (_number(held[key], key, shown) for key in ("x", "y", "step_x", "step_y"))
    if step_x == 0 or step_y == 0:
        raise GeoFileError(f"{shown}: a step of 0 puts all posts in one place", FORM)
    unit, notes = unit_of(str(held["unit"]) if "unit" in held else None, heights_in, shown)
    return Grid(
        shown, rows, columns, x, y, step_x, step_y, str(held["crs"]), unit,
        lambda row, last_row, column, last_column: heights[row:last_row, column:last_column], notes,
    )  # fmt: skip


def _arrays(path: Path, shown: str) -> dict[str, Any]:
    try:
        with ZipFile(path) as archive:
            if sum(entry.file_size for entry in archive.infolist()) > _MOST_BYTES:
                raise GeoFileError(f"{shown}: the archive is too large", "Cut out a few kilometres around the summit.")
        with np.load(path, allow_pickle=False) as held:
            return {key: held[key] for key in held.files}
    except (BadZipFile, OSError, ValueError) as error:
        raise GeoFileError(f"{shown}: this NumPy archive cannot be read", FORM) from error


def _heights(array: Any, shown: str) -> Heights:
    if array.ndim != 2 or array.dtype.kind not in "iuf":
        raise GeoFileError(f"{shown}: `heights` is {array.ndim}-dimensional {array.dtype}, not rows of numbers", FORM)
    return np.asarray(array, np.float32)


def _number(array: Any, key: str, shown: str) -> float:
    if array.ndim or array.dtype.kind not in "iuf" or not np.isfinite(array):
        raise GeoFileError(f"{shown}: `{key}` is not one number", FORM)
    return float(array)
