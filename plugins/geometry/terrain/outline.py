"""The connected ground around a summit's post that is not below a level, as rings on the grid."""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely

from afield.core.api import frozen
from afield.plugins.geometry.computations.terrain_contour import Ring, summit_rings
from afield.plugins.geometry.computations.terrain_runs import Bools, Ints, Runs, runs_of
from afield.plugins.geometry.computations.terrain_zone import labelled
from afield.plugins.geometry.terrain.grid import Grid, Heights

FIRST_HALF = 256
"""Posts to each side of the summit that are looked at first; the square doubles until it holds the whole area."""
_PAD = 2


@frozen(slots=False, eq=False)
class Outlined:
    """Ground around a summit.

    Attributes:
        rings: closed, of [column, row] of the whole grid.
        posts: number of posts in it.
        on_level: of these, how many lie exactly at the level.
        cut_off: it reaches the edge of the grid, or posts without data.

    """

    rings: list[Ring]
    posts: int
    on_level: int
    cut_off: bool


def outlined(grid: Grid, row: int, column: int, level_m: float, connectivity: str, unknown_high: bool) -> Outlined:
    """The ground connected to a post, not below a level.

    Args:
        grid, row, column: the post.
        level_m: the level.
        connectivity: see `terrain_zone.CONNECTIVITY`.
        unknown_high: whether posts without data, and all beyond the grid, count as high: then the result holds all
            ground that may belong to the summit. Otherwise they count as low.

    """
    half = FIRST_HALF
    while True:
        found = _within(grid, row, column, level_m, connectivity, unknown_high, half)
        if found is not None:
            return found
        half *= 2


def _within(
    grid: Grid, row: int, column: int, level_m: float, connectivity: str, unknown_high: bool, half: int
) -> Outlined | None:
    """The same, looked for in a square; None if it goes on beyond it."""
    rows = max(row - half, 0), min(row + half + 1, grid.rows)
    columns = max(column - half, 0), min(column + half + 1, grid.columns)
    sides = (rows[0] == 0, rows[1] == grid.rows, columns[0] == 0, columns[1] == grid.columns)
    heights = _padded(grid.heights_m(*rows, *columns), sides)
    unknown = np.isnan(heights)
    if unknown_high:
        heights = np.where(unknown, np.float32(np.inf), heights)
        connectivity = "corner" if connectivity == "surface" and unknown.any() else connectivity
    level = np.float32(level_m)
    high = heights >= level
    seed = np.array([row - rows[0] + _PAD]), np.array([column - columns[0] + _PAD])
    if not high[seed][0]:
        return Outlined([], 0, 0, False)
    runs = runs_of(high)
    inside = _connected(runs, labelled(runs, high, heights, float(level), connectivity), seed)
    if _goes_on(inside, sides):
        return None
    rings = summit_rings(inside, heights, float(level), connectivity)
    origin = np.array([columns[0] - _PAD, rows[0] - _PAD])
    known = inside & ~unknown
    return Outlined(
        [ring + origin for ring in rings], int(known.sum()), int((known & (heights == level)).sum()),
        bool((_widened(unknown) & inside).any()),
    )  # fmt: skip


def _padded(heights: Heights, sides: tuple[bool, bool, bool, bool]) -> Heights:
    """With a row of unknown posts where the grid ends, and one of low posts around all."""
    top, bottom, left, right = sides
    wider = np.pad(heights, 1, constant_values=-np.inf)
    for ends, line in ((top, wider[0]), (bottom, wider[-1]), (left, wider[:, 0]), (right, wider[:, -1])):
        if ends:
            line[:] = np.nan
    return np.pad(wider, 1, constant_values=-np.inf)


def _connected(runs: Runs, labels: Ints, seed: tuple[Ints, Ints]) -> Bools:
    return runs.mask(labels == labels[runs.of_posts(*seed)])


def _goes_on(inside: Bools, sides: tuple[bool, bool, bool, bool]) -> bool:
    """Whether it reaches a side of the square at which the grid does not end."""
    edges = (inside[_PAD], inside[-1 - _PAD], inside[:, _PAD], inside[:, -1 - _PAD])
    return any(edge.any() for edge, ends in zip(edges, sides, strict=True) if not ends)


def _widened(mask: Bools) -> Bools:
    """The mask with its eight neighbours."""
    wider = mask.copy()
    for axis in (0, 1):
        here = wider.copy()
        for step in (1, -1):
            wider |= np.roll(here, step, axis)
    return wider


def assembled(rings: list[Ring]) -> list[list[Any]]:
    """Polygons of rings, the outer ring first: holes turn the other way, and go to the smallest ring around them."""
    areas = np.array([_signed_area(ring) for ring in rings])
    turn = np.sign(areas[np.argmax(np.abs(areas))]) if rings else 1.0
    outer = [number for number in np.argsort(np.abs(areas)) if areas[number] * turn > 0]
    polygons: dict[int, list[Any]] = {number: [rings[number]] for number in outer}
    solid = [shapely.Polygon(rings[number]) for number in outer]
    shapely.prepare(solid)
    for number in np.flatnonzero(areas * turn < 0):
        larger = (k for k, one in enumerate(outer) if abs(areas[number]) < abs(areas[one]))
        point = shapely.Point(rings[number][0])
        polygons[outer[next(k for k in larger if len(outer) == 1 or solid[k].covers(point))]].append(rings[number])
    return [polygons[number] for number in outer]


def _signed_area(ring: Ring) -> float:
    x, y = (ring - ring[0]).T
    return float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])) / 2
