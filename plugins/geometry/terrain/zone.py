"""The area of a summit by a terrain grid: what is surely in it, what may be, and what the listed height says."""

from __future__ import annotations

from collections.abc import Callable

from afield.core.api import _, frozen, local_digits
from afield.plugins.geometry.computations.terrain_contour import Ring
from afield.plugins.geometry.notes import said
from afield.plugins.geometry.terrain.fitness import refuse_few_posts, refuse_mismatch, refuse_two_tops
from afield.plugins.geometry.terrain.footing import NEAR_M, Footing, LatLon, footing_of
from afield.plugins.geometry.terrain.grid import Grid
from afield.plugins.geometry.terrain.outline import Outlined, assembled, outlined

EDGE_POSTS = 2
"""So near to its outermost posts a grid does not tell what goes on beyond."""

Polygons = list[list[Ring]]


@frozen(slots=False, eq=False)
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
    grid: Grid,
    summit: LatLon,
    elevation_m: float | None,
    drop_m: float,
    error_95_m: float,
    connectivity: str | None,
    within_m: float = NEAR_M,
) -> ZoneAreas:
    """The area of a summit.

    Args:
        grid: heights.
        summit: latitude and longitude as listed.
        elevation_m: its height as listed; None = the grid's own top stands for it.
        drop_m: how far below the summit its area goes.
        error_95_m: vertical error of the grid, 95 %.
        within_m: how far from the stated place the summit may be.
        connectivity: how the program joins ground; None = unsaid: the narrowest for `sure`, the widest for `possible`.

    Raises:
        GeoFileError: the summit is not in the grid, or the grid has no data there.
        TooCoarse: the grid's top lies too far below the listed height, or too few posts lie in the area.
        WrongSummit: the grid's top lies too far above the listed height.
        TwoTops: another top near the stated place may be meant, and is not joined.

    """
    footing = footing_of(grid, summit, within_m)
    refuse_mismatch(footing, elevation_m, drop_m)
    levels = [height - drop_m for height in (elevation_m, footing.top_m) if height is not None]
    doubt = error_95_m if elevation_m is not None else error_95_m + footing.doubt_m
    likely = _outlined(grid, footing, levels[0], connectivity or "surface", False)
    refuse_few_posts(footing, likely)
    refuse_two_tops(footing, likely, elevation_m, drop_m)
    sure = _outlined(grid, footing, max(levels) + doubt, connectivity or "edge", False)
    possible = _outlined(grid, footing, min(levels) - doubt, connectivity or "corner", True)
    areas = [_polygons(grid, footing, found) for found in (likely, sure, possible)]
    notes = (*said(grid.notes), *said(footing.step.notes), *_notes(likely, footing, elevation_m, connectivity))
    return ZoneAreas(
        areas[0], areas[1], areas[2], levels[0], footing.top_m, footing.spacing_m, likely.posts,
        likely.cut_off or possible.cut_off, footing, _holds(grid, footing), notes,
    )  # fmt: skip


def _outlined(grid: Grid, footing: Footing, level_m: float, connectivity: str, unknown_high: bool) -> Outlined:
    return outlined(grid, footing.row, footing.column, level_m, connectivity, unknown_high)


def _notes(likely: Outlined, footing: Footing, elevation_m: float | None, connectivity: str | None) -> list[str]:
    notes = []
    if elevation_m is None:
        own = _("The summit's height is not listed: the grid's own top, {height} m, stands for it.")
        notes.append(own.format(height=local_digits(f"{footing.top_m:.1f}")))
    if connectivity is None:
        unsaid = _("The pack does not say how ground is joined across the corners of posts: both ways are kept open.")
        notes.append(unsaid)
    if likely.cut_off:
        notes.append(_("The area is cut off by the edge of the grid, or by a gap in it: it may go on there."))
    if likely.on_level > likely.posts / 20:
        blurred = _("{share} % of the area's posts lie exactly at its lower limit: whole-metre heights blur it.")
        notes.append(blurred.format(share=f"{100 * likely.on_level / likely.posts:.0f}"))
    return notes


def _holds(grid: Grid, footing: Footing) -> Callable[[float, float], bool]:
    return lambda lat_deg, lon_deg: grid.holds(*footing.to_grid(lat_deg, lon_deg), beside=EDGE_POSTS)


def _polygons(grid: Grid, footing: Footing, found: Outlined) -> Polygons:
    return [[footing.lat_lons(grid.positions(ring)) for ring in polygon] for polygon in assembled(found.rings)]
