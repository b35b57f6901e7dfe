"""Where the margin bends within the position's uncertainty, the linear parts give way to a bound that always holds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import hypot

from afield.core.api import _, marked
from afield.plugins.geometry.computations.doubt import TWO_SIDED_95, bends_within, guaranteed_half_width_m
from afield.plugins.geometry.computations.footprints import Part, shifted
from afield.plugins.geometry.computations.worst import Worst
from afield.plugins.geometry.reference_facts import Place
from afield.plugins.geometry.station_facts import Position

BOUND = marked("position and map together")


def bounded_parts(
    contributions: dict[str, float],
    worst: Worst,
    measure: Callable[[Sequence[Part]], Worst],
    parts: Sequence[Part],
    position: Position,
    place: Place,
) -> tuple[dict[str, float], tuple[str, ...]]:
    """The parts to use, and what the reader must know of them.

    A margin changes by no more than the station moves. Where it does not change evenly within the uncertainty (the
    nearest edge changes, say), the bound of that sentence replaces the directional parts.
    """

    def value_at(east_m: float, north_m: float) -> float:
        return measure(shifted(parts, east_m, north_m)).value_m

    if not bends_within(value_at, worst.value_m, worst.direction, spread_m(position, place)):
        return contributions, ()
    width = guaranteed_half_width_m(position.sigma_m or 0.0, {place.layer: place.map_sigma_m}, worst.edge_doubt_m)
    replaced = ("station.at/", "map:", "edge model")
    kept = {origin: part for origin, part in contributions.items() if not origin.startswith(replaced)}
    note = _("The margin does not change evenly within the uncertainty of the position: a bound is used for it.")
    return {**kept, BOUND: hypot(width, *position.bound_m)}, (note,)


def spread_m(position: Position, place: Place) -> float:
    """How far the station may stand elsewhere on the map, as a standard deviation of each axis, metres.

    A box that the written digits or a locator leave open counts with the sigma whose 95 % is its longer half side.
    """
    return hypot(position.sigma_m or 0.0, place.map_sigma_m, max(position.bound_m) / TWO_SIDED_95)
