"""Which areas the quick measures are right for: sound polygons that keep apart, with no corner that is taken off."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice
from math import cos, radians
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from afield.plugins.geometry.catalogue.drawing import Drawn, Floats

SHARPEST_DEG = 2.5
"""The full method takes sharper corners off an area: they may be spurs, or the ends of slits."""
_APART_DEG = 1e-6


def plain_areas(areas: Sequence[Sequence[Drawn]]) -> list[bool]:
    """Whether each area, of one or more polygons, can be measured quickly."""
    polygons = [drawn for area in areas for drawn in area]
    sound = iter(_sound(polygons))
    found = [[next(sound) for _ in area] for area in areas]
    return [all(each) and (len(area) == 1 or _keep_apart(area)) for each, area in zip(found, areas, strict=True)]


def _sound(polygons: Sequence[Drawn]) -> list[bool]:
    closed = [drawn.plain and all(_closes(ring) for ring in drawn.rings) for drawn in polygons]
    fine = [drawn for drawn, is_closed in zip(polygons, closed, strict=True) if is_closed]
    rings = [ring for drawn in fine for ring in drawn.rings]
    sharp = iter(_sharp_cornered(rings))
    blunt = [not any(list(islice(sharp, len(drawn.rings)))) for drawn in fine]
    verdicts = iter(shapely.is_valid(_shapes(fine)) & np.array(blunt, bool))
    return [bool(next(verdicts)) if is_closed else False for is_closed in closed]


def _closes(ring: Floats) -> bool:
    return len(ring) >= 4 and bool(ring[0, 0] == ring[-1, 0] and ring[0, 1] == ring[-1, 1])


def _shapes(polygons: Sequence[Drawn]) -> NDArray[np.object_]:
    """The polygons as drawn in degrees; all shells are made at once."""
    if not polygons:
        return np.zeros(0, object)
    shells = [drawn.rings[0][:, ::-1] for drawn in polygons]
    numbers = np.repeat(np.arange(len(shells)), [len(shell) for shell in shells])
    shapes: NDArray[np.object_] = shapely.polygons(shapely.linearrings(np.concatenate(shells), indices=numbers))
    for number, drawn in enumerate(polygons):
        if len(drawn.rings) > 1:
            shapes[number] = shapely.Polygon(shells[number], [hole[:, ::-1] for hole in drawn.rings[1:]])
    return shapes


def _sharp_cornered(rings: Sequence[Floats]) -> list[bool]:
    """Whether each closed ring has a corner sharper than SHARPEST_DEG."""
    if not rings:
        return []
    counts = np.array([len(ring) - 1 for ring in rings])
    starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
    step = np.concatenate([np.diff(ring, axis=0) for ring in rings])
    step[:, 1] *= np.repeat([cos(radians(float(ring[0, 0]))) for ring in rings], counts)
    square = np.einsum("ij,ij->i", step, step)
    after = np.arange(1, len(step) + 1)
    after[starts + counts - 1] = starts
    ahead = np.einsum("ij,ij->i", step, step[after])
    is_sharp = ahead < -cos(radians(SHARPEST_DEG)) * np.sqrt(square * square[after])
    # A repeated vertex hides the corner that it stands at: its ring is left to the full method, which drops it.
    return [bool(found) for found in np.logical_or.reduceat(is_sharp | (square == 0), starts)]


def _keep_apart(area: Sequence[Drawn]) -> bool:
    """Whether polygons neither touch nor overlap; longitudes are turned to those of the first."""
    first = area[0].rings[0][0, 1]
    shapes: list[Any] = []
    for drawn in area:
        turn = 360 * round(float(first - drawn.rings[0][0, 1]) / 360)
        shapes.append(shapely.Polygon(drawn.rings[0][:, ::-1] + [turn, 0.0]))
    near = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=_APART_DEG)
    return bool(near.shape[1] == len(shapes))
