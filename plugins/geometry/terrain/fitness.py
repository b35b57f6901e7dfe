"""Whether a grid and what is listed of a summit fit each other; if not, why, with the figures."""

from __future__ import annotations

import shapely

from afield.core.api import _, local_digits, marked
from afield.plugins.geometry.terrain.footing import Footing
from afield.plugins.geometry.terrain.outline import Outlined, assembled

LEAST_POSTS = 10
"""An area of fewer posts is not drawn: it would be off by 7 % and more (own trials; the bound is a judgement)."""
SAME_POST = 1e-6
"""In posts: what rounding may move."""
COARSE_SHARE = 5
"""A grid whose top misses the listed height by more than this part of the drop is refused (a judgement)."""


MAY_RISE = marked(
    "the terrain grid is too coarse: the grid's highest post within {near} m of the summit is at {top} m, and between "
    "its posts the ground may rise {rise} m more, more than a fifth of the drop ({drop} m)"
)
TOO_LOW = marked(
    "the terrain grid is too coarse: the grid's highest post within {near} m of the summit is at {top} m, {lack} m "
    "below the listed {listed} m: more than a fifth of the drop ({drop} m)"
)
TOO_FEW = marked(
    "the terrain grid is too coarse: {count} of its posts, {apart} apart, lie in the summit's area, and at least "
    "{least} are needed to draw it"
)
TWO = marked(
    "two tops within {near} m of the summit, {top} m and {other} m high, are not joined within the drop ({drop} m), "
    "and either may be meant: write `within:` in its `summit:`, how far from there it may be"
)


class TooCoarse(Exception):
    """The grid cannot tell this summit's area; says why, with the figure."""


class TwoTops(Exception):
    """Two tops near the stated place are not joined, and either may be meant."""


class WrongSummit(Exception):
    """The grid and what is listed of the summit cannot both be right."""


def refuse_mismatch(footing: Footing, elevation_m: float | None, drop_m: float) -> None:
    """Raise TooCoarse or WrongSummit where the grid's top and the listed height are too far apart."""
    if elevation_m is None:
        if footing.doubt_m > drop_m / COARSE_SHARE:
            raise TooCoarse(_filled(MAY_RISE, footing, drop_m, rise=f"{footing.doubt_m:.1f}"))
    elif elevation_m - footing.top_m > drop_m / COARSE_SHARE:
        lack = f"{elevation_m - footing.top_m:.1f}"
        raise TooCoarse(_filled(TOO_LOW, footing, drop_m, lack=lack, listed=f"{elevation_m:g}"))
    elif footing.top_m - elevation_m > drop_m / COARSE_SHARE:
        excess = f"{footing.top_m - elevation_m:.1f} m above the listed {elevation_m:g} m"
        figure = f"the grid's highest post within {footing.near_m:.0f} m of the summit is at {footing.top_m:.1f} m"
        raise WrongSummit(f"{figure}, {excess}: more than a fifth of the drop ({drop_m:g} m)")


def _filled(sentence: str, footing: Footing, drop_m: float, **more: str) -> str:
    """A sentence in the language spoken, with the figures of the summit on the grid, metres."""
    figures = {"near": f"{footing.near_m:.0f}", "top": f"{footing.top_m:.1f}", "drop": f"{drop_m:g}", **more}
    return _(sentence).format(**{name: local_digits(figure) for name, figure in figures.items()})


def refuse_two_tops(footing: Footing, likely: Outlined, elevation_m: float | None, drop_m: float) -> None:
    """Raise TwoTops where a post that may be the summit is not in the area."""
    top = footing.top_m if elevation_m is None else min(elevation_m, footing.top_m)
    rivals = footing.near_posts[footing.near_posts[:, 2] >= top - drop_m / COARSE_SHARE]
    ground = shapely.multipolygons([shapely.Polygon(rings[0], rings[1:]) for rings in assembled(likely.rings)])
    shapely.prepare(ground)
    outside = rivals[~shapely.dwithin(ground, shapely.points(rivals[:, :2]), SAME_POST)]
    if len(outside):
        raise TwoTops(_filled(TWO, footing, drop_m, other=f"{outside[:, 2].max():.1f}"))


def refuse_few_posts(footing: Footing, likely: Outlined) -> None:
    """Raise TooCoarse where too few posts lie in the area to draw it."""
    if likely.posts >= LEAST_POSTS:
        return
    apart = "{:.0f} m x {:.0f} m".format(*footing.spacing_m)
    raise TooCoarse(_(TOO_FEW).format(count=likely.posts, apart=apart, least=LEAST_POSTS))
