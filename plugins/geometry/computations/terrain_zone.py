"""The posts of a terrain grid that belong to a summit: connected to it, and not below a level."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from afield.plugins.geometry.computations.terrain_runs import (
    Bools,
    Floats,
    Ints,
    Runs,
    components,
    runs_of,
    saddle_pairs,
    saddles,
    surface_joins,
)

CONNECTIVITY = ("edge", "corner", "surface")
"""When two high posts that lie across a corner are joined: never; always; where the surface between them is high."""


class PostZone(NamedTuple):
    """Posts of a summit's area, counted as cells."""

    cells_connected_4: int
    cells_connected_8: int
    cells_at_or_above_level_anywhere: int
    components_4: int
    area_connected_m2: float
    touches_grid_edge: bool


def dem_zone_below_summit(
    heights_m: ArrayLike,
    summit_row: int,
    summit_column: int,
    drop_m: float,
    summit_m: float | None = None,
    cell_area_m2: float = 1.0,
) -> PostZone:
    """The posts connected to a summit that are not below it by more than a drop.

    Formula: posts of height >= summit - drop, connected to the summit's post over edges (4 neighbours), and for
    comparison over corners too (8). The area counts each post of the first as one cell.
    Source: own construction; counts equal those of scipy.ndimage.label (see the check values).
    Valid: any grid; no-data posts as NaN, never high enough. Posts taken as cells are off by 11 % of the area (median,
    40 x 40 hills): `summit_rings` draws the surface between them.

    Args:
        heights_m: (rows, columns).
        summit_row, summit_column: the post of the summit, from 0.
        drop_m: greatest height below the summit.
        summit_m: the summit's height; left out, that of its post.
        cell_area_m2: ground that one post stands for.

    Raises:
        ValueError: no grid, a summit outside it or on a post without data or below its own area, a negative drop.

    """
    grid = np.asarray(heights_m, float)
    _check(grid, summit_row, summit_column, drop_m)
    level = (grid[summit_row, summit_column] if summit_m is None else summit_m) - drop_m
    high = grid >= level
    if not high[summit_row, summit_column]:
        raise ValueError(f"the summit's post is at {grid[summit_row, summit_column]:g} m, below the level {level:g} m")
    seed = np.array([summit_row]), np.array([summit_column])
    runs = runs_of(high)
    labels = [labelled(runs, high, grid, level, connectivity) for connectivity in ("edge", "corner")]
    kept = [label == label[runs.of_posts(*seed)] for label in labels]
    mask = runs.mask(kept[0])
    counts = [int(runs.lengths()[each].sum()) for each in kept]
    edge = bool(mask[[0, -1]].any() or mask[:, [0, -1]].any())
    parts = len(np.unique(labels[0]))
    return PostZone(counts[0], counts[1], int(high.sum()), parts, counts[0] * cell_area_m2, edge)


def labelled(runs: Runs, high: Bools, heights: Floats, level: float, connectivity: str) -> Ints:
    """The number of each run's connected part."""
    one, other = runs.touching()
    rows, columns, down = joined_saddles(high, heights, level, connectivity)
    more_one, more_other = saddle_pairs(runs, rows, columns, down)
    return components(len(runs.start), np.concatenate([one, more_one]), np.concatenate([other, more_other]))


def joined_saddles(high: Bools, heights: Floats, level: float, connectivity: str) -> tuple[Ints, Ints, Bools]:
    """Those saddle cells whose two high corners are joined: row, column, which two.

    Raises:
        ValueError: an unknown connectivity.

    """
    if connectivity not in CONNECTIVITY:
        raise ValueError(f'connectivity "{connectivity}" is not known; known are {", ".join(CONNECTIVITY)}')
    rows, columns, down = saddles(high)
    if connectivity == "surface":
        joined = surface_joins(heights, level, rows, columns, down)
    else:
        joined = np.full(len(rows), connectivity == "corner")
    return rows[joined], columns[joined], down[joined]


def _check(grid: Floats, row: int, column: int, drop_m: float) -> None:
    if grid.ndim != 2 or not grid.size:
        raise ValueError(f"a grid has rows and columns, not the shape {grid.shape}")
    if not (0 <= row < grid.shape[0] and 0 <= column < grid.shape[1]):
        raise ValueError(
            f"the summit's post {row}, {column} lies outside the grid of {grid.shape[0]} x {grid.shape[1]}"
        )
    if np.isnan(grid[row, column]):
        raise ValueError(f"the grid has no data at the summit's post {row}, {column}")
    if not drop_m >= 0:
        raise ValueError(f"a drop is 0 m or more, not {drop_m:g} m")
