"""Where a grid lies on the earth, and where on the grid the summit is."""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import Any

import numpy as np

from afield.core.api import frozen
from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.readers.datums import DatumStep, area_of, crs_of, operations_to_wgs84, step_to_wgs84
from afield.plugins.geometry.readers.layer import GeoFileError
from afield.plugins.geometry.terrain.grid import Grid, Heights

NEAR_M = 100.0
"""The grid's own top is sought this far around the stated summit where nothing else is said (a judgement: maps and
lists give summits to a few tens of metres)."""

LatLon = tuple[float, float]


@frozen(slots=False, eq=False)
class Footing:
    """The grid's own top near the summit.

    Attributes:
        row, column: of the post.
        top_m: its height.
        doubt_m: how much higher the ground between the posts may be.
        spacing_m: east-west and north-south distance of two posts.
        near_m: how far around the stated summit the top was sought.
        near_posts: (n, 3) column, row and height of all posts so near.
        step: what the step from the grid's coordinates to WGS 84 is good for.
        lat_lons: coordinates (n, 2) in the grid's system -> (n, 2) latitude and longitude.
        to_grid: latitude and longitude -> row and column, with fractions.

    """

    row: int
    column: int
    top_m: float
    doubt_m: float
    spacing_m: tuple[float, float]
    near_m: float
    near_posts: Any
    step: DatumStep
    lat_lons: Callable[[Any], Any]
    to_grid: Callable[[float, float], tuple[float, float]]


def footing_of(grid: Grid, summit: LatLon, within_m: float = NEAR_M) -> Footing:
    """Find the summit on the grid: its highest post within so far of the stated place, or within two posts.

    Raises:
        GeoFileError: it is not in the grid, or the grid has no data there.

    """
    step = step_to_wgs84(grid.crs, grid.bounds, grid.shown)
    lat_lons, to_grid = _ways(grid)
    row, column = to_grid(*summit)
    if not grid.holds(row, column):
        raise _outside(grid, lat_lons, summit)
    spacing = _spacing(grid, lat_lons, round(row), round(column))
    near = max(within_m, 2 * max(spacing))
    part = _part(grid, round(row), round(column), spacing, near)
    if np.isnan(part.heights[part.row, part.column]):
        what = f"{grid.shown}: the grid has no data at the summit {summit[0]:.5f}, {summit[1]:.5f}"
        raise GeoFileError(what, "Name a grid without a gap there, or judge by a measured height.")
    origin = round(column) - part.column, round(row) - part.row
    posts = _near_posts(part, spacing, near) + np.array([*origin, 0])
    highest = int(np.argmax(posts[:, 2]))
    column, row, top = (float(each) for each in posts[highest])
    doubt = _doubt(part.heights, round(row) - origin[1], round(column) - origin[0], top)
    return Footing(round(row), round(column), top, doubt, spacing, near, posts, step, lat_lons, to_grid)


def _ways(grid: Grid) -> tuple[Callable[[Any], Any], Callable[[float, float], tuple[float, float]]]:
    """From the grid's coordinates to latitude and longitude, and from these to row and column."""
    crs = crs_of(grid.crs, grid.shown)
    rough = operations_to_wgs84(crs, None).transformers[0]
    area = area_of(grid.bounds, rough)
    # The same choice as that of `step_to_wgs84`, whose accuracy is told.
    operation = operations_to_wgs84(crs, area).transformers[0] if area else rough
    middle = (grid.bounds[0] + grid.bounds[2]) / 2
    whole_turn = 2 * pi / crs.axis_info[0].unit_conversion_factor

    def lat_lons(positions: Any) -> Any:
        lon, lat = operation.transform(positions[:, 0], positions[:, 1])
        return np.stack([lat, lon - 360 * (lon > 180) + 360 * (lon < -180)], axis=1)

    def to_grid(lat_deg: float, lon_deg: float) -> tuple[float, float]:
        x, y = operation.transform(lon_deg, lat_deg, direction="INVERSE")
        # A grid of degrees may go on beyond 180.
        turns = round((middle - x) / whole_turn) if crs.is_geographic else 0
        return grid.row_column(x + turns * whole_turn, y)

    return lat_lons, to_grid


def _outside(grid: Grid, lat_lons: Callable[[Any], Any], summit: LatLon) -> GeoFileError:
    corners = lat_lons(grid.positions([(0, 0), (grid.columns - 1, grid.rows - 1)]))
    (south, north), (west, east) = (sorted(each) for each in corners.T)
    what = f"{grid.shown}: the summit {summit[0]:.5f}, {summit[1]:.5f} is not in the grid"
    covers = f"The grid covers about {south:.4f} to {north:.4f}, {west:.4f} to {east:.4f}"
    return GeoFileError(what, f"{covers}: name the grid that holds the summit, or correct `summit:`.")


def _spacing(grid: Grid, lat_lons: Callable[[Any], Any], row: int, column: int) -> tuple[float, float]:
    """From a post to its neighbours, on the ground."""
    aside = column + 1 if column + 1 < grid.columns else column - 1
    down = row + 1 if row + 1 < grid.rows else row - 1
    here, beside, below = lat_lons(grid.positions([(column, row), (aside, row), (column, down)]))
    return geodesic_inverse(*here, *beside).distance_m, geodesic_inverse(*here, *below).distance_m


@frozen(slots=False, eq=False)
class _Part:
    """Heights around the stated summit, which is at row and column of them."""

    heights: Heights
    row: int
    column: int


def _part(grid: Grid, row: int, column: int, spacing: tuple[float, float], near: float) -> _Part:
    aside, down = int(near / spacing[0]) + 1, int(near / spacing[1]) + 1
    first_row, first_column = max(row - down, 0), max(column - aside, 0)
    last_row, last_column = min(row + down + 1, grid.rows), min(column + aside + 1, grid.columns)
    heights = grid.heights_m(first_row, last_row, first_column, last_column)
    return _Part(heights, row - first_row, column - first_column)


def _near_posts(part: _Part, spacing: tuple[float, float], near: float) -> Any:
    """Column and row in the part, and height, of the posts near the stated summit."""
    posts: Any = np.indices(part.heights.shape)
    rows, columns = posts
    away = np.hypot((rows - part.row) * spacing[1], (columns - part.column) * spacing[0])
    seen = (away <= near) & ~np.isnan(part.heights)
    return np.stack([columns[seen], rows[seen], part.heights[seen]], axis=1).astype(float)


def _doubt(part: Heights, row: int, column: int, top: float) -> float:
    """Half the mean fall to the posts around: what a cone of that slope may rise between its posts (a judgement)."""
    around = part[max(row - 1, 0) : row + 2, max(column - 1, 0) : column + 2]
    known = around[~np.isnan(around)]
    return float(top - known.mean()) / 2 * len(known) / max(len(known) - 1, 1)
