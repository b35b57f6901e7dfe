"""Where one hop of a band comes down strong enough, by the reckoning of the chart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from afield.plugins.ionosphere.computations.muf import LONGEST_HOP_KM
from afield.plugins.ionosphere.computations.paths import Place, Station, Way, by_way, ways

STEP_KM = 100.0
"""The paths of the chart lie on these steps: table and chart cannot disagree about them."""

Grid = Sequence[tuple[float, Sequence[Way]]]
"""Distances, and the ways that get there in one hop."""


class Reach(NamedTuple):
    """From where to where one hop of a frequency comes down; no distances where it comes down nowhere."""

    skip_km: float | None
    reach_km: float | None


def hop_grid(place: Place, hour: int) -> Grid:
    """The distances of 0 to 4,000 km in steps of 100 km, with their ways of one hop, by the E and the F2 layer."""
    distances = [STEP_KM * step for step in range(int(LONGEST_HOP_KM / STEP_KM) + 1)]
    return [(km, [way for way in ways(place, hour, km) if way.hops == 1]) for km in distances]


def hop_reach(frequency_mhz: float, place: Place, hour: int, grid: Grid, station: Station) -> Reach:
    """From where to where one hop of a frequency is open or marginal, in km; no distances where it is nowhere.

    Formula: `opening` of the ways of one hop at each step of the grid. Where it carries in two stretches, one by the E
    and one by the F2 layer, the farther one is given.
    Source: as `band_outlook`.
    Valid: as there; to the step of 100 km. More hops reach farther, where the signal is strong enough for them.
    """
    start: float | None = None
    found = Reach(None, None)
    for km, path in grid:
        if not _carries(frequency_mhz, place, hour, path, station):
            start = None
            continue
        start = km if start is None else start
        found = Reach(start, km)
    return found


def _carries(frequency_mhz: float, place: Place, hour: int, path: Sequence[Way], station: Station) -> bool:
    reaching = (way for way in path if frequency_mhz >= way.least_mhz)
    return any(by_way(way, frequency_mhz, place, hour, station).state != "closed" for way in reaching)
