"""Whether a grid and what is listed of a summit fit each other; if not, why, with the figures."""

from __future__ import annotations

import shapely

from afield.plugins.geometry.terrain.footing import Footing
from afield.plugins.geometry.terrain.outline import Outlined, assembled

LEAST_POSTS = 10
"""An area of fewer posts is not drawn: it would be off by 7 % and more (own trials; the bound is a judgement)."""
SAME_POST = 1e-6
"""In posts: what rounding may move."""
COARSE_SHARE = 5
"""A grid whose top misses the listed height by more than this part of the drop is refused (a judgement)."""


class TooCoarse(Exception):
    """The grid cannot tell this summit's area; says why, with the figure."""


class TwoTops(Exception):
    """Two tops near the stated place are not joined, and either may be meant."""


class WrongSummit(Exception):
    """The grid and what is listed of the summit cannot both be right."""


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


def refuse_two_tops(footing: Footing, likely: Outlined, elevation_m: float | None, drop_m: float) -> None:
    """Raise TwoTops where a post that may be the summit is not in the area."""
    top = footing.top_m if elevation_m is None else min(elevation_m, footing.top_m)
    rivals = footing.near_posts[footing.near_posts[:, 2] >= top - drop_m / COARSE_SHARE]
    ground = shapely.multipolygons([shapely.Polygon(rings[0], rings[1:]) for rings in assembled(likely.rings)])
    shapely.prepare(ground)
    outside = rivals[~shapely.dwithin(ground, shapely.points(rivals[:, :2]), SAME_POST)]
    if len(outside):
        high = f"{footing.top_m:.1f} m and {outside[:, 2].max():.1f} m high"
        near = f"two tops within {footing.near_m:.0f} m of the summit"
        raise TwoTops(f"{near}, {high}, are not joined within the drop ({drop_m:g} m), and either may be meant")


def refuse_few_posts(footing: Footing, likely: Outlined) -> None:
    """Raise TooCoarse where too few posts lie in the area to draw it."""
    if likely.posts >= LEAST_POSTS:
        return
    apart = "{:.0f} m x {:.0f} m".format(*footing.spacing_m)
    count = f"{likely.posts} of its posts, {apart} apart, lie in the summit's area"
    raise TooCoarse(f"the terrain grid is too coarse: {count}, and at least {LEAST_POSTS} are needed to draw it")
