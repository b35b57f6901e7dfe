"""Connected parts of a grid: runs of posts along the rows, joined where they touch."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from afield.core.api import frozen

Floats = NDArray[np.floating[Any]]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]


@frozen(slots=False, eq=False)
class Runs:
    """The posts of a mask, as runs along its rows.

    Attributes:
        shape: rows and columns of the mask.
        start, end: (n,) first post and the one after the last, counted along the rows of a mask that is two columns
            wider, so that no run goes from one row to the next.

    """

    shape: tuple[int, int]
    start: Ints
    end: Ints

    @property
    def width(self) -> int:
        """Posts from one row to the next in the count of `start` and `end`."""
        return self.shape[1] + 2

    def of_posts(self, rows: Ints, columns: Ints) -> Ints:
        """The number of the run that holds each post, all of which must be in the mask."""
        return np.searchsorted(self.start, rows * self.width + columns + 1, side="right") - 1

    def lengths(self) -> Ints:
        """Posts of each run."""
        return self.end - self.start

    def touching(self) -> tuple[Ints, Ints]:
        """Pairs of runs of neighbouring rows that share a column."""
        first = np.searchsorted(self.end, self.start + self.width, side="right")
        counts = np.maximum(np.searchsorted(self.start, self.end + self.width, side="left") - first, 0)
        upper = np.repeat(np.arange(len(self.start)), counts)
        within = np.arange(len(upper)) - np.repeat(np.cumsum(counts) - counts, counts)
        return upper, np.repeat(first, counts) + within

    def mask(self, kept: Bools) -> Bools:
        """The posts of those runs that are kept."""
        change = np.zeros(self.shape[0] * self.width + 1, np.int8)
        change[self.start[kept]] += 1
        change[self.end[kept]] -= 1
        painted = np.cumsum(change[:-1], dtype=np.int8).reshape(self.shape[0], self.width)
        return painted[:, 1:-1].astype(bool)


def runs_of(mask: Bools) -> Runs:
    """The runs of a mask (rows, columns)."""
    flat = np.pad(mask, ((0, 0), (1, 1))).ravel().view(np.int8)
    change = np.diff(flat, prepend=np.int8(0))
    return Runs((mask.shape[0], mask.shape[1]), np.flatnonzero(change == 1), np.flatnonzero(change == -1))


def components(count: int, one: Ints, other: Ints) -> Ints:
    """A number for each of `count` things, the same for all that the pairs join, directly or not.

    Formula: every pair takes the smaller number of its two; numbers are then followed to where they lead; both until
    nothing changes.
    Source: Y. Shiloach, U. Vishkin (1982), An O(log n) parallel connectivity algorithm; own variant.
    """
    label = np.arange(count)
    while True:
        least = np.minimum(label[one], label[other])
        hooked = label.copy()
        np.minimum.at(hooked, label[one], least)
        np.minimum.at(hooked, label[other], least)
        while not np.array_equal(hooked, hooked[hooked]):
            hooked = hooked[hooked]
        if np.array_equal(hooked, label):
            return label
        label = hooked


def saddles(high: Bools) -> tuple[Ints, Ints, Bools]:
    """Cells of which only two opposite corners are high: row and column of the upper left post, and which two.

    True = upper left and lower right, False = the other two.
    """
    a, b, c, d = high[:-1, :-1], high[:-1, 1:], high[1:, :-1], high[1:, 1:]
    down, up = a & d & ~b & ~c, b & c & ~a & ~d
    rows, columns = np.nonzero(down | up)
    return rows, columns, down[rows, columns]


def saddle_pairs(runs: Runs, rows: Ints, columns: Ints, down: Bools) -> tuple[Ints, Ints]:
    """The runs of the two high corners of each such cell."""
    upper = runs.of_posts(rows, np.where(down, columns, columns + 1))
    lower = runs.of_posts(rows + 1, np.where(down, columns + 1, columns))
    return upper, lower


def surface_joins(heights: Floats, level: float, rows: Ints, columns: Ints, down: Bools) -> Bools:
    """Whether the bilinear surface over each saddle cell joins its two high corners at the level.

    Formula: the surface through a b / c d has its saddle at (a d - b c) / (a + d - b - c); a and d are joined if that
    is not below the level. The same turned round for b and c.
    Source: own derivation from the bilinear interpolation.
    Valid: finite heights; where one is not, the answer is False.
    """
    a, b = heights[rows, columns].astype(float), heights[rows, columns + 1].astype(float)
    c, d = heights[rows + 1, columns].astype(float), heights[rows + 1, columns + 1].astype(float)
    with np.errstate(invalid="ignore", divide="ignore"):
        # Both kinds of saddle have the same value there: numerator and denominator only change sign.
        return np.asarray((a * d - b * c) / (a + d - b - c) >= level)
