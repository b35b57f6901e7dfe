"""A terrain grid as it lies in its file: where its posts are, in which unit its heights, and a way to read them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from afield.core.api import frozen, marked
from afield.plugins.geometry.notes import Note
from afield.plugins.geometry.readers.layer import GeoFileError

Heights = NDArray[np.float32]
ReadBlock = Callable[[int, int, int, int], Heights]
"""(first row, row after the last, first column, column after the last) -> heights as stored, no data as NaN."""

FOOT_M = 0.3048
SURVEY_FOOT_M = 1200 / 3937
"""International foot (1959) and US survey foot (1893; given up at the end of 2022), metres."""
UNITS_M = {"m": 1.0, "ft": FOOT_M, "US survey ft": SURVEY_FOOT_M}
"""What `heights_in` may say."""
_SPELLINGS = {
    "m": ("m", "metre", "meter", "metres", "meters"),
    "ft": ("ft", "foot", "feet", "international foot"),
    "US survey ft": ("us survey ft", "us survey foot", "us survey feet", "us_survey_foot", "foot_us", "us-ft", "ftus"),
}
LEAST_M, MOST_M = -500.0, 9000.0
"""Land lies between these."""
MOST_POSTS = 120_000_000
LEAST_SIDE = 3


@frozen(slots=False, eq=False)
class Grid:
    """A grid of heights.

    Attributes:
        shown: how messages call its file.
        rows, columns: of posts.
        x, y: of the post in the first row and column, in the file's coordinate reference system.
        step_x, step_y: from one post to the next along a row, and from one row to the next (below 0 where the first
            row is the north).
        crs: its coordinate reference system, as WKT or a code.
        unit: of the heights, a key of UNITS_M.
        block: reads heights as stored.
        notes: what the reader must know.

    """

    shown: str
    rows: int
    columns: int
    x: float
    y: float
    step_x: float
    step_y: float
    crs: str
    unit: str
    block: ReadBlock
    notes: tuple[str, ...] = ()

    def heights_m(self, first_row: int, last_row: int, first_column: int, last_column: int) -> Heights:
        """Heights of a part of the grid, metres; the last row and column are those after it.

        What no land has counts as no data: files leave it where they do not say what marks a gap.
        """
        stored = self.block(first_row, last_row, first_column, last_column)
        heights = stored if self.unit == "m" else (stored * np.float32(UNITS_M[self.unit])).astype(np.float32)
        with np.errstate(invalid="ignore"):
            return np.where((heights >= LEAST_M) & (heights <= MOST_M), heights, np.float32(np.nan))

    def positions(self, columns_rows: ArrayLike) -> Any:
        """Coordinates (n, 2) in the file's system of points (n, 2) of [column, row]."""
        return np.array([self.x, self.y]) + np.asarray(columns_rows, float) * (self.step_x, self.step_y)

    def row_column(self, x: float, y: float) -> tuple[float, float]:
        """Row and column, with fractions, of a point in the file's system."""
        return (y - self.y) / self.step_y, (x - self.x) / self.step_x

    def holds(self, row: float, column: float, beside: float = 0.0) -> bool:
        """Whether a place lies among the posts, at least `beside` posts from the outermost."""
        return beside <= row <= self.rows - 1 - beside and beside <= column <= self.columns - 1 - beside

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x and y, greatest x and y of its posts."""
        far_x, far_y = self.x + (self.columns - 1) * self.step_x, self.y + (self.rows - 1) * self.step_y
        return min(self.x, far_x), min(self.y, far_y), max(self.x, far_x), max(self.y, far_y)


def unit_of(told: str | None, asked: str | None, shown: str) -> tuple[str, tuple[str, ...]]:
    """The unit of the heights, and the note that it was turned into metres.

    Args:
        told: by the file.
        asked: by `heights_in` of the geometry.
        shown: how messages call the file.

    Raises:
        GeoFileError: neither says it, they disagree, or the file names a unit that is not known.

    """
    found = None if not told else _known_unit(told, shown)
    if found is None and asked is None:
        what = f"{shown}: the grid does not say the unit of its heights"
        raise GeoFileError(what, "Write it in the geometry: `heights_in: m` (or ft, or US survey ft).")
    if found is not None and asked is not None and found != asked:
        what = f"{shown}: its heights are in {found}, `heights_in` says {asked}"
        raise GeoFileError(what, "Leave `heights_in` out, or correct the file.")
    unit = found or asked or ""
    taken = Note(marked("{file}: heights were taken from {unit} to metres."), file=shown, unit=unit)
    return unit, () if unit == "m" else (taken,)


def _known_unit(told: str, shown: str) -> str:
    for unit, spellings in _SPELLINGS.items():
        if told.strip().casefold() in spellings:
            return unit
    what = f'{shown}: its heights are in "{told.strip()[:40]}", which is not known'
    raise GeoFileError(what, "Save the grid with its heights in metres.")


def checked_size(rows: int, columns: int, shown: str) -> None:
    """Raise GeoFileError for a grid that is too small to hold a summit, or too large to look through."""
    if min(rows, columns) < LEAST_SIDE:
        what = f"{shown}: the grid has {rows} x {columns} posts"
        raise GeoFileError(what, f"At least {LEAST_SIDE} x {LEAST_SIDE} are needed; export the terrain around it too.")
    if rows * columns > MOST_POSTS:
        what = f"{shown}: {rows * columns:,} posts are more than the {MOST_POSTS:,} that are read"
        raise GeoFileError(what, "Cut out a few kilometres around the summit.")
