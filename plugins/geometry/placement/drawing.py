"""What the map of a placement shows, in metres east and north of the middle of the window."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import shapely

from afield.plugins.geometry.computations.erosion import polygons_of
from afield.plugins.geometry.map_references import reference_drawn
from afield.plugins.geometry.map_views import view_of
from afield.plugins.geometry.placement.search import Search
from afield.plugins.geometry.shapes_around import shape_around
from afield.plugins.geometry.windows import Window, bounds, proportioned

Json = dict[str, Any]
LEAST_SPAN_M = 60.0
CUT_AT = 1.5
"""References are cut off at this many half sides of the window."""


def drawing_json(search: Search, region: Any, places: Mapping[str, Json | None], marks: Mapping[str, Any]) -> Json:
    """The map's data.

    Args:
        search: that found it.
        region: shapely polygons of the plane: where all claims count at the best turn.
        places: "nearest" and "best", as JSON, with their maps.
        marks: "plan" and "access" as points of the plane, None where not known.

    """
    stations = [_station(name, place) for name, place in places.items() if place is not None]
    outline = [[_points(ring) for ring in shapely.get_rings(part)] for part in polygons_of(region)]
    shown = [point for rings in outline for ring in rings for point in ring]
    shown += [point for station in stations for part in station["parts"] for point in part["points"]]
    shown += [mark for mark in marks.values() if mark is not None]
    return {
        "references": list(_references(search)),
        "region": outline,
        "stations": stations,
        "plan": marks["plan"],
        "access": marks["access"],
        "view": view_of(_window(shown, search.window_m)),
    }


def _points(ring: Any) -> list[list[float]]:
    return [[round(float(east), 2), round(float(north), 2)] for east, north in shapely.get_coordinates(ring)]


def _window(shown: list[Any], window_m: float) -> Window:
    """Around what is to be seen; the whole window where that is nothing."""
    if not shown:
        return Window(-window_m, -window_m, window_m, window_m)
    around = bounds(shown)
    return proportioned(around.padded(max(0.1 * around.span, (LEAST_SPAN_M - around.span) / 2)))


def _station(name: str, place: Json) -> Json:
    at = (place["east_m"], place["north_m"])
    parts = [{**part, "points": _moved(part["points"], at)} for part in (place["map"] or {"parts": []})["parts"]]
    return {"name": name, "at": list(at), "parts": parts}


def _moved(points: Iterable[Any], by: tuple[float, float]) -> list[list[float]]:
    return [[round(east + by[0], 2), round(north + by[1], 2)] for east, north in points]


def _references(search: Search) -> Iterable[Json]:
    from afield.plugins.geometry.reference_facts import drawn_as

    cut_at = CUT_AT * search.window_m
    for key in search.claims:
        place = search.trip.world.value(key, "reference.place")
        if place.reason is None and key not in search.stance.far:
            facts = _words(search, key)
            half = half_width(search, key) if place.value.kind == "line" else 0.0
            drawn = drawn_as(place.value, search.trip.world.value(key, "reference.zone").value)
            # What is sure of a summit's ground, and what is not, shows on the maps of the station.
            yield {**reference_drawn(key, shape_around(drawn, search.plane, half, cut_at), facts, cut_at), "zone": None}


def half_width(search: Search, claim: str) -> float:
    """Half the width of what a line reference stands for, metres, 0 where it is not known."""
    from afield.plugins.geometry.reference_facts import half_width_m

    program = search.trip.subjects[claim].within("program") or ""
    means, width = (search.trip.world.value(program, f"program.line_{name}").value for name in ("means", "width"))
    return half_width_m(means, width)


def _words(search: Search, claim: str) -> dict[str, dict[str, Json]]:
    """The records that say what a reference is called and how wide its corridor is."""
    program = search.trip.subjects[claim].within("program") or ""
    asked = (("reference.title", claim), ("program.corridor", program))
    known = {name: search.trip.world.value(subject, name) for name, subject in asked if name in search.trip.world.facts}
    return {name: {subject: {"value": known[name].value}} for name, subject in asked if name in known}
