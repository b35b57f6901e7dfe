"""What a search found, as JSON by schemas/placement.json; text, page and files are made from it alone."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import shapely

from afield.plugins.geometry.computations.erosion import polygons_of
from afield.plugins.geometry.placement.arcs import FITS, UNDECIDED, Arc
from afield.plugins.geometry.placement.candidates import Candidate
from afield.plugins.geometry.placement.drawing import drawing_json
from afield.plugins.geometry.placement.places import Known, bearing_of, place_json
from afield.plugins.geometry.placement.search import Search
from afield.plugins.geometry.placement.sweep import STEP_DEG

Json = dict[str, Any]
NOTHING = "nothing fits"
SCHEMA = "urn:afield:schema:placement:1"


def solution(search: Search, plan: Known = None, access: Known = None) -> Json:
    """The whole answer.

    Args:
        search: not yet run.
        plan: latitude and longitude of where the plan puts the station.
        access: of where one comes from.

    """
    found = search.candidates
    best = next((one for one in found if one.verified), found[0] if found else None)
    places = {
        name: place_json(one, search.engine, plan, access) if one is not None else None
        for name, one in (("nearest", search.nearest()), ("best", best))
    }
    region = _region(search, best)
    marks = {"plan": _mark(search, plan), "access": _mark(search, access)}
    return {
        "schema": SCHEMA,
        "trip": {
            "title": search.trip.document.data["trip"],
            "date": search.trip.day.isoformat(),
            "file": search.trip.document.name,
        },
        "variant": search.trip.variant,
        "claims": [_claim(search, key) for key in search.claims],
        "window": {"lat_deg": search.plane.lat_deg, "lon_deg": search.plane.lon_deg, "half_m": search.window_m},
        "accuracy": {"radius": search.fix.accuracy, "level": search.fix.level},
        "outcome": _outcome(search, best),
        **places,
        "bearings": _bearings(search, best),
        "sets": _sets(search),
        "region": [_rings(search, polygon) for polygon in polygons_of(region)],
        "unsearched": list(search.unsearched),
        "drawing": drawing_json(search, region, places, marks),
    }


def _outcome(search: Search, best: Candidate | None) -> str:
    # Where the bounds that the search takes are too wide, the rules themselves may still pass.
    if best is not None and best.verified:
        return FITS
    untold = search.untold and not search.against
    # Where even the nearest miss fails nothing for sure, a tape may yet settle it there.
    unsure = best is not None and not any(verdict.word == "failed" for verdict in best.verdicts)
    return UNDECIDED if untold or unsure or (best is not None and best.room_m >= 0) else NOTHING


def _mark(search: Search, place: Known) -> list[float] | None:
    """A place as a point of the window's plane; None where it lies beyond twice the window."""
    if place is None:
        return None
    east, north = (round(float(metres), 2) for metres in search.plane.to_plane(*place))
    return [east, north] if max(abs(east), abs(north)) <= 2 * search.window_m else None


def _claim(search: Search, key: str) -> Json:
    alone = search.sweep.grounds(0.0)[key].places
    area = float(shapely.area(shapely.intersection(alone, search.stance.window)))
    return {
        "claim": key,
        "label": search.trip.subjects[key].label,
        "area_as_laid_m2": None if key in search.untold else round(area, 1),
        "against": search.against.get(key, []),
    }


def _bearings(search: Search, best: Candidate | None) -> Json:
    """The turns as bearings of the antenna, else of the first part that has one."""
    outlines = [
        {"name": outline.name, "role": outline.role, "shape": outline.shape, "points": outline.points,
         "full_circle": outline.full_circle}
        for outline in search.outlines
    ]  # fmt: skip
    runs = [(outline, bearing) for outline in outlines if (bearing := bearing_of(outline)) is not None]
    part, planned = next((run for run in runs if run[0]["role"] == "antenna"), runs[0] if runs else (None, 0))
    return {
        "part": part["name"] if part else None,
        "any": search.sweep.any_turn and bool(outlines),
        "planned_deg": planned if part else None,
        "best_deg": round(planned + best.turn_deg) % 360 if part and best else None,
        "arcs": sorted(_arcs(search, planned), key=lambda arc: arc["from_deg"]) if part else [],
        "step_deg": STEP_DEG,
    }


def _arcs(search: Search, planned_deg: float) -> list[Json]:
    return [_arc(arc, planned_deg) for arc in _joined(search.turns.arcs)]


def _arc(arc: Arc, planned_deg: float) -> Json:
    start = arc.middle_deg - arc.width_deg / 2 + planned_deg
    return {"from_deg": round(start % 360, 4), "width_deg": round(arc.width_deg, 4), "found": arc.found}


def _joined(arcs: Iterable[Arc]) -> list[Arc]:
    """Arcs that follow each other and of which the same was found, as one; the last and the first do, too."""
    joined: list[Arc] = []
    for arc in arcs:
        if joined and joined[-1].found == arc.found:
            width = joined[-1].width_deg + arc.width_deg
            start = joined[-1].middle_deg - joined[-1].width_deg / 2
            joined[-1] = Arc(start + width / 2, width, arc.found)
        else:
            joined.append(arc)
    if len(joined) > 1 and joined[0].found == joined[-1].found:
        last = joined.pop()
        width = last.width_deg + joined[0].width_deg
        joined[0] = Arc(last.middle_deg - last.width_deg / 2 + width / 2, width, last.found)
    return joined


def _sets(search: Search) -> list[list[str]]:
    """The largest sets of claims that can be had together; only looked for where not all can."""
    if search.untold:
        return []
    if search.turns.fitting:
        return [list(search.claims)]
    steps: Iterable[float] = [0.0] if search.sweep.any_turn else [STEP_DEG * step for step in range(24)]
    return [list(names) for names in search.sweep.sets(steps)]


def _region(search: Search, best: Candidate | None) -> Any:
    """The operating positions at the best turn, in the plane."""
    return shapely.Polygon() if best is None or best.room_m < 0 else search.sweep.together(best.turn_deg)


def _rings(search: Search, polygon: Any) -> list[Any]:
    """Rings of [longitude, latitude]."""
    return [_ring(search, shapely.get_coordinates(ring)) for ring in shapely.get_rings(polygon)]


def _ring(search: Search, points: Any) -> list[list[float]]:
    lat, lon = search.plane.to_lat_lon(points[:, 0], points[:, 1])
    # Across the 180th meridian longitudes run on, so that the ring stays one.
    lon = search.plane.lon_deg + (lon - search.plane.lon_deg + 180) % 360 - 180
    return [[round(float(x), 7), round(float(y), 7)] for x, y in zip(lon, lat, strict=True)]
