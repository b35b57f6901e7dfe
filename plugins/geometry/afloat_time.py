"""For how long a station under way lies in a reference: its track against the area or corridor."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import hypot
from typing import Any

import numpy as np

from afield.core.api import CannotTell, Estimate, _
from afield.plugins.geometry.afloat_facts import Afloat
from afield.plugins.geometry.computations.afloat import minutes_within
from afield.plugins.geometry.computations.areas import area_around
from afield.plugins.geometry.computations.doubt import guaranteed_half_width_m
from afield.plugins.geometry.computations.erosion import capsules, shrunk
from afield.plugins.geometry.computations.lines import line_around
from afield.plugins.geometry.computations.plane import Floats, Plane
from afield.plugins.geometry.reference_facts import Place
from afield.plugins.geometry.station_facts import Position

ROOM_M = 100.0


def minutes_inside(
    afloat: Afloat, position: Position, plane: Plane, place: Place, corridor_m: float | None, half_width_m: float
) -> Estimate:
    """Minutes for which the whole boat lies in the reference.

    Low: in the region less what position, map and turns leave open, without the legs that nobody recorded. High: in the
    region grown by the same, with those legs whole.

    Raises:
        CannotTell: a point or a summit, a line without the pack's corridor, or a reference that cannot be laid out.

    """
    points, minutes = np.asarray(afloat.points_m), np.asarray(afloat.minutes)
    wide = _open_m(position, place, 0.0) + afloat.turn_m + afloat.swell_m
    reach = float(np.hypot(*points.T).max()) + wide + ROOM_M
    room, doubt = _room(place, plane, reach, corridor_m, half_width_m)
    open_m = hypot(_open_m(position, place, doubt), afloat.turn_m)
    likely, sure, possible = (
        minutes_within(points, minutes, room(afloat.swell_m + by)) for by in (0.0, open_m, -open_m)
    )
    spans = np.diff(minutes)
    sure[afloat.gaps], possible[afloat.gaps] = 0.0, spans[afloat.gaps]
    # Arcs are drawn on the safe side, by centimetres: that may not turn the three about.
    value = float(likely.sum())
    low, high = min(float(sure.sum()), value), max(float(possible.sum()), value)
    detail = {
        "longest_outside": round(_longest_outside(likely, spans), 2), "gaps": round(float(spans[afloat.gaps].sum()), 2),
    }  # fmt: skip
    method = _("legs of the track, times in between")
    return Estimate(value, low, high, detail=detail, notes=afloat.notes, method=method)


def share_of(found: Estimate, whole_min: float) -> Estimate:
    """The minutes found as a share of the whole time, percent."""
    value, low, high = (100 * float(each or 0.0) / whole_min for each in (found.value, found.low, found.high))
    return replace(found, value=value, low=low, high=high)


def _open_m(position: Position, place: Place, doubt_m: float) -> float:
    width = guaranteed_half_width_m(position.sigma_m or 0.0, {place.layer: place.map_sigma_m}, doubt_m)
    return hypot(width, *position.bound_m, 1.5 * place.datum_m)


def _room(
    place: Place, plane: Plane, reach_m: float, corridor_m: float | None, half_width_m: float
) -> tuple[Callable[[float], Any], float]:
    """The region less a width, as a function of the width; and the doubt of its edges, metres."""
    try:
        if place.kind == "area":
            area = area_around(place.areas, plane, reach_m, place.edge_model)
            return lambda by_m: shrunk(area.geometry, by_m), float(area.doubts.doubt_m.max(initial=0.0))
        if place.kind == "line" and corridor_m is not None:
            near = line_around(place.lines, plane, reach_m, place.edge_model).near
            width = corridor_m + half_width_m
            return lambda by_m: capsules(near.start, near.end, width - by_m), float(near.doubt_m.max(initial=0.0))
    except ValueError as error:
        why = _("the reference cannot be laid out around the track: {error}").format(error=error)
        raise CannotTell(why) from error
    if place.kind == "line":
        raise CannotTell(_("the pack does not say how wide the line's corridor is"), "program.corridor")
    why = _("the time in a reference of the kind {kind} is not worked out").format(kind=_(place.kind))
    raise CannotTell(why, "reference.kind")


def _longest_outside(inside: Floats, spans: Floats) -> float:
    """The longest row of legs that are not wholly inside, counted by what is outside, minutes."""
    longest = run = 0.0
    for within, span in zip(inside, spans, strict=True):
        run = 0.0 if within >= span - 1e-9 else run + span - within
        longest = max(longest, run)
    return longest
