"""The margins turned round: a comparison with a limit -> the operating positions at which it holds."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, hypot, pi, radians, tan
from typing import Any

import numpy as np
import shapely

from afield.core.api import CannotTell, Measured, Subject, _, frozen
from afield.plugins.geometry.computations.areas import area_around
from afield.plugins.geometry.computations.bisection import RADIUS_M
from afield.plugins.geometry.computations.doubt import guaranteed_half_width_m
from afield.plugins.geometry.computations.edges import Edges
from afield.plugins.geometry.computations.erosion import capsules, shrunk
from afield.plugins.geometry.computations.footprints import Part, reach_m
from afield.plugins.geometry.computations.lines import line_around
from afield.plugins.geometry.margins import BEARING_95_DEG, LAYING_OUT_95_M
from afield.plugins.geometry.placement.apart import apart_m
from afield.plugins.geometry.placement.ground import Ground, Stance
from afield.plugins.geometry.reference_facts import Place, half_width_m, not_of_kind

SIMPLER_M = 0.1
"""A boundary of many vertices is drawn simpler by this much, on the safe side."""
MANY = 200
DRAWN_SHORT_M = 0.3
"""More than arcs and simpler boundaries take off a region of up to 100 m."""
STEP_M = 100.0
FAR_WINDOWS = 20.0
"""A reference that is farther than this many half sides of the window is not laid out."""


@frozen(slots=False)
class Held:
    """What a margin is about: the reference, and the parts that count for it."""

    place: Place
    parts: tuple[Part, ...]
    full_circle: bool
    half_width_m: float


def inside_area(subject: Subject, asked: Any, free: Stance, world: Any) -> Ground:
    """Where the margin inside an area compares with a limit as asked."""
    held = _held(subject, free, world, "area")
    keeping = asked.comparison in ("at_least", "above")
    if _out_of_reach(held, subject, asked, free, keeping):
        return _sided(Ground(shapely.Polygon(), held.parts), free, keeping)
    place, reach = held.place, _reach(free, held)
    area = _laid(free, held, lambda: area_around(place.areas, free.plane, reach, place.edge_model))
    by_m = _limit(asked, free, held, float(area.doubts.doubt_m.max(initial=0.0)), keeping)
    # The square to which the area is cut must show nowhere, however much is taken off; it grows in steps.
    half = free.window_m + reach_m(held.parts) + STEP_M * ceil(abs(by_m) / STEP_M) + 1
    cut = free.once(("cut", id(place), half), lambda: _simpler(_cut(area.geometry, half)))
    room = free.once(("shrunk", id(place), half, round(by_m, 4)), lambda: shrunk(cut, by_m))
    return _sided(Ground(room, held.parts), free, keeping)


def near_line(subject: Subject, asked: Any, free: Stance, world: Any) -> Ground:
    """Where the distance of the farthest part from a line compares with a limit as asked."""
    held = _held(subject, free, world, "line")
    keeping = asked.comparison in ("at_most", "below")
    if _out_of_reach(held, subject, asked, free, keeping):
        return _sided(Ground(shapely.Polygon(), held.parts), free, keeping)
    place, reach = held.place, _reach(free, held)
    line = _laid(free, held, lambda: line_around(place.lines, free.plane, reach, place.edge_model))
    radius = held.half_width_m - _limit(asked, free, held, float(line.near.doubt_m.max(initial=0.0)), keeping)
    key = ("corridor", id(place), round(radius, 4))
    room = free.once(key, lambda: _corridor(line.near, radius, free.window_m + reach_m(held.parts)))
    return _sided(Ground(room, held.parts), free, keeping)


def near_point(subject: Subject, asked: Any, free: Stance, world: Any) -> Ground:
    """Where the distance of the farthest part from a point compares with a limit as asked."""
    held = _held(subject, free, world, "point")
    keeping = asked.comparison in ("at_most", "below")
    if _out_of_reach(held, subject, asked, free, keeping):
        return _sided(Ground(shapely.Polygon(), held.parts), free, keeping)
    radius = -_limit(asked, free, held, 0.0, keeping)
    east, north = free.plane.to_plane(*held.place.points[0])
    room = shapely.Point(float(east), float(north)).buffer(radius) if radius > 0 else shapely.Polygon()
    return _sided(Ground(room, held.parts), free, keeping)


def _out_of_reach(held: Held, subject: Subject, asked: Any, free: Stance, keeping: bool) -> bool:
    """Whether the reference is so far that it need not be laid out: told at once, where laying out takes minutes."""
    away = free.once(("apart", id(held.place)), lambda: apart_m(held.place, free.plane))
    if away - abs(asked.limit) <= FAR_WINDOWS * free.window_m:
        return False
    if keeping:
        free.far[subject.key] = away
    return True


def _limit(asked: Any, free: Stance, held: Held, doubt_m: float, keeps: bool) -> float:
    """The limit as a margin: above 0 = so much within; with the uncertainty on the side that makes it sure."""
    spread = _spread(free, held, doubt_m) if asked.sure else 0.0
    margin: float = asked.limit if held.place.kind == "area" else -asked.limit
    # What is left over is the other way about: drawn too small by arcs and fewer vertices, it must be taken larger.
    return margin + spread if keeps else margin - spread - DRAWN_SHORT_M


def _spread(free: Stance, held: Held, doubt_m: float) -> float:
    """Half width of an interval that holds every margin at one place, 95 %, metres."""
    place = held.place
    width = guaranteed_half_width_m(free.accuracy_sigma_m, {place.layer: place.map_sigma_m}, doubt_m)
    turning = 0.0 if held.full_circle else reach_m(held.parts) * radians(BEARING_95_DEG)
    return hypot(width, 1.5 * place.datum_m, turning, LAYING_OUT_95_M) + reach_m(held.parts) * north_turns(free)


def north_turns(free: Stance) -> float:
    """How much true north turns, at the most, from the middle of the window to its corners, radians.

    r tan(latitude) / R on a sphere, the meridians' convergence; at most half a turn. One plane is laid on the whole
    window, so a part of length l drawn on it is off by l times this.
    """
    corner = free.window_m * 2**0.5
    latitude = min(radians(abs(free.plane.lat_deg)) + corner / RADIUS_M, pi / 2 - 1e-6)
    return min(corner * tan(latitude) / RADIUS_M, pi)


def _sided(ground: Ground, free: Stance, keeping: bool) -> Ground:
    """The ground itself, or for the opposite comparison all else within the window."""
    return ground if keeping else Ground(shapely.difference(free.window, ground.places))


def _held(subject: Subject, free: Stance, world: Any, kind: str) -> Held:
    place: Place = _known(world.value(subject.key, "reference.place"))
    if place.kind != kind:
        raise not_of_kind(place.kind, kind)
    outlines = _known(world.value(subject.key, "claim.footprint"))
    if any("swell_m" in outline.extra for outline in outlines):
        raise CannotTell(_("the station is under way: its track says where it was"), "station.afloat.track")
    names = tuple(outline.name for outline in outlines)
    parts = free.turned(names, [outline.part for outline in outlines])
    program = subject.within("program")
    means, width = (world.value(program, f"program.line_{name}").value for name in ("means", "width"))
    thing = half_width_m(means, width) if kind == "line" else 0.0
    return Held(place, parts, all(outline.full_circle for outline in outlines), thing)


def _known(record: Measured) -> Any:
    if record.reason is not None:
        raise CannotTell(record.reason.text, record.reason.settle, record.reason.code, record.reason.subject)
    return record.value


def _laid(free: Stance, held: Held, lay: Callable[[], Any]) -> Any:
    try:
        return free.once(("laid", id(held.place)), lay)
    except ValueError as error:
        why = _("the reference cannot be laid out around the place searched: {error}").format(error=error)
        raise CannotTell(why) from error


def _reach(free: Stance, held: Held) -> float:
    return free.window_m * 2**0.5 + reach_m(held.parts)


def _cut(geometry: Any, half_m: float) -> Any:
    return shapely.intersection(geometry, shapely.box(-half_m, -half_m, half_m, half_m))


def _simpler(region: Any) -> Any:
    """Fewer vertices, nothing gained: shrunk by what simplifying may add."""
    if shapely.get_num_coordinates(region) <= MANY:
        return region
    simple = shapely.simplify(shrunk(region, SIMPLER_M), SIMPLER_M)
    return simple if shapely.is_valid(simple) else region


def _corridor(edges: Edges, radius_m: float, half_m: float) -> Any:
    """The corridor of those edges that come near the square in which the station may lie."""
    low, high = np.minimum(edges.start, edges.end), np.maximum(edges.start, edges.end)
    near = ((low <= half_m + radius_m) & (high >= -half_m - radius_m)).all(axis=1)
    return capsules(edges.start[near], edges.end[near], radius_m)
