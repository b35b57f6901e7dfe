"""The area of a summit by a terrain grid: what is surely in it, what may be, and what the listed height says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from afield.plugins.geometry.computations.terrain_contour import Ring
from afield.plugins.geometry.terrain.footing import Footing, LatLon, footing_of
from afield.plugins.geometry.terrain.grid import Grid
from afield.plugins.geometry.terrain.outline import Outlined, outlined

LEAST_POSTS = 10
"""An area of fewer posts is not drawn: it would be off by 7 % and more (own trials; the bound is a judgement)."""
EDGE_POSTS = 2
"""So near to its outermost posts a grid does not tell what goes on beyond."""
COARSE_SHARE = 5
"""A grid whose top misses the listed height by more than this part of the drop is refused (a judgement)."""

Polygons = list[list[Ring]]


class TooCoarse(Exception):
    """The grid cannot tell this summit's area; says why, with the figure."""


class WrongSummit(Exception):
    """The grid and what is listed of the summit cannot both be right."""


@dataclass(frozen=True, eq=False)
class ZoneAreas:
    """The ground that belongs to a summit, as polygons of rings (n, 2) of [latitude, longitude].

    Attributes:
        likely: not below the listed height less the drop.
        sure, possible: by every, and by any, of listed height and grid's top, with the grid's error on the safe side.
        level_m: of `likely`.
        top_m: the grid's own top near the summit.
        spacing_m: of the posts, east-west and north-south.
        posts: in `likely`.
        cut_off: the ground that may belong to it reaches the edge of the grid, or posts without data.
        footing: the summit on the grid.
        holds: (latitude, longitude) -> whether it lies well within the grid.
        notes: what the reader must know.

    """

    likely: Polygons
    sure: Polygons
    possible: Polygons
    level_m: float
    top_m: float
    spacing_m: tuple[float, float]
    posts: int
    cut_off: bool
    footing: Footing
    holds: Callable[[float, float], bool]
    notes: tuple[str, ...]


def zone_areas(
    grid: Grid, summit: LatLon, elevation_m: float | None, drop_m: float, error_95_m: float, connectivity: str | None
) -> ZoneAreas:
    """The area of a summit.

    Args:
        grid: heights.
        summit: latitude and longitude as listed.
        elevation_m: its height as listed; None = the grid's own top stands for it.
        drop_m: how far below the summit its area goes.
        error_95_m: vertical error of the grid, 95 %.
        connectivity: how the program joins ground; None = unsaid: the narrowest for `sure`, the widest for `possible`.

    Raises:
        GeoFileError: the summit is not in the grid, or the grid has no data there.
        TooCoarse: the grid's top lies too far below the listed height, or too few posts lie in the area.
        WrongSummit: the grid's top lies too far above the listed height.

    """
    footing = footing_of(grid, summit)
    refuse_mismatch(footing, elevation_m, drop_m)
    levels = [height - drop_m for height in (elevation_m, footing.top_m) if height is not None]
    doubt = error_95_m if elevation_m is not None else error_95_m + footing.doubt_m
    likely = _outlined(grid, footing, levels[0], connectivity or "surface", False)
    if likely.posts < LEAST_POSTS:
        raise TooCoarse(_few_posts(footing, likely.posts))
    sure = _outlined(grid, footing, max(levels) + doubt, connectivity or "edge", False)
    possible = _outlined(grid, footing, min(levels) - doubt, connectivity or "corner", True)
    areas = [_polygons(grid, footing, found) for found in (likely, sure, possible)]
    notes = (*grid.notes, *footing.step.notes, *_notes(likely, footing, elevation_m, connectivity))
    return ZoneAreas(
        areas[0], areas[1], areas[2], levels[0], footing.top_m, footing.spacing_m, likely.posts,
        likely.cut_off or possible.cut_off, footing, _holds(grid, footing), notes,
    )  # fmt: skip


def refuse_mismatch(footing: Footing, elevation_m: float | None, drop_m: float) -> None:
    """Raise TooCoarse or WrongSummit where the grid's top and the listed height are too far apart."""
    figure = f"the grid's highest post within {footing.near_m:.0f} m of the summit is at {footing.top_m:.1f} m"
    share = f"more than a fifth of the drop ({drop_m:g} m)"
    if elevation_m is None:
        if footing.doubt_m > drop_m / COARSE_SHARE:
            rise = f"between its posts the ground may rise {footing.doubt_m:.1f} m more"
            raise TooCoarse(f"the terrain grid is too coarse: {figure}, and {rise}, {share}")
    elif elevation_m - footing.top_m > drop_m / COARSE_SHARE:
        lack = f"{elevation_m - footing.top_m:.1f} m below the listed {elevation_m:g} m"
        raise TooCoarse(f"the terrain grid is too coarse: {figure}, {lack}: {share}")
    elif footing.top_m - elevation_m > drop_m / COARSE_SHARE:
        excess = f"{footing.top_m - elevation_m:.1f} m above the listed {elevation_m:g} m"
        raise WrongSummit(f"{figure}, {excess}: {share}")


def _few_posts(footing: Footing, posts: int) -> str:
    apart = "{:.0f} m x {:.0f} m".format(*footing.spacing_m)
    count = f"{posts} of its posts, {apart} apart, lie in the summit's area"
    return f"the terrain grid is too coarse: {count}, and at least {LEAST_POSTS} are needed to draw it"


def _outlined(grid: Grid, footing: Footing, level_m: float, connectivity: str, unknown_high: bool) -> Outlined:
    return outlined(grid, footing.row, footing.column, level_m, connectivity, unknown_high)


def _notes(likely: Outlined, footing: Footing, elevation_m: float | None, connectivity: str | None) -> list[str]:
    notes = []
    if elevation_m is None:
        notes.append(f"The summit's height is not listed: the grid's own top, {footing.top_m:.1f} m, stands for it.")
    if connectivity is None:
        notes.append("The pack does not say how ground is joined across the corners of posts: both ways are kept open.")
    if likely.cut_off:
        notes.append("The area is cut off by the edge of the grid, or by a gap in it: it may go on there.")
    if likely.on_level > likely.posts / 20:
        share = 100 * likely.on_level / likely.posts
        notes.append(f"{share:.0f} % of the area's posts lie exactly at its lower limit: whole-metre heights blur it.")
    return notes


def _holds(grid: Grid, footing: Footing) -> Callable[[float, float], bool]:
    return lambda lat_deg, lon_deg: grid.holds(*footing.to_grid(lat_deg, lon_deg), beside=EDGE_POSTS)


def _polygons(grid: Grid, footing: Footing, found: Outlined) -> Polygons:
    return [[footing.lat_lons(grid.positions(ring)) for ring in polygon] for polygon in assembled(found.rings)]


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
