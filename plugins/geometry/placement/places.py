"""A candidate as JSON: where it is, how the station lies there, what the rules say of it, and its map."""

from __future__ import annotations

from collections.abc import Mapping
from math import atan2, degrees
from typing import Any

from afield.core.api import Engine, report
from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.forms import position_forms
from afield.plugins.geometry.map_data import WANTS, map_data
from afield.plugins.geometry.map_records import Facts, declination_deg, known
from afield.plugins.geometry.placement.candidates import Candidate
from afield.plugins.geometry.placement.sweep import ENOUGH_M

Json = dict[str, Any]
Known = tuple[float, float] | None
"""Latitude and longitude of a place, None where it is not known."""


def place_json(found: Candidate, engine: Engine, plan: Known, access: Known) -> Json:
    """One place that was found.

    Args:
        found: judged.
        engine: by which it was.
        plan, access: from where the way to it is told.

    """
    _ask(found)
    told = report(found.judgement, engine)
    facts = _by_fact(told["facts"])
    needle = declination_deg(facts)
    return {
        "lat_deg": round(found.lat_deg, 7),
        "lon_deg": round(found.lon_deg, 7),
        "east_m": round(found.east_m, 2),
        "north_m": round(found.north_m, 2),
        "forms": position_forms(found.lat_deg, found.lon_deg),
        "declination_deg": needle,
        "turn_deg": round(found.turn_deg, 1),
        "parts": [part_laid(record["value"], needle) for record in known(facts, "part.outline").values()],
        "room_m": round(found.room_m, 2),
        "more_room": found.room_m >= ENOUGH_M,
        "slack_m": round(found.slack_m, 2),
        "verified": found.verified,
        "from_plan": _way(plan, found, needle),
        "from_access": _way(access, found, needle),
        "verdicts": _verdicts(found, told["verdicts"]),
        "map": map_data(facts),
    }


def _ask(found: Candidate) -> None:
    """Asks for what the map shows, so that the report has it."""
    trip = found.judgement.trip
    for name in (name for name in WANTS if name in trip.world.facts):
        for key in (key for key, subject in trip.subjects.items() if subject.kind == trip.world.facts[name].kind):
            trip.world.value(key, name)


def _by_fact(records: list[Json]) -> Facts:
    facts: dict[str, dict[str, Json]] = {}
    for record in records:
        facts.setdefault(record["fact"], {})[record["subject"]] = record
    return facts


def part_laid(outline: Mapping[str, Any], needle_deg: float | None) -> Json:
    """A part as it is laid: the bearing that it runs, or in which it lies from the position; None where it has none."""
    bearing = bearing_of(outline)
    return {
        "part": outline["name"],
        "role": outline["role"],
        "bearing_deg": bearing,
        "compass_deg": None if bearing is None or needle_deg is None else round(bearing - needle_deg) % 360,
    }


def bearing_of(outline: Mapping[str, Any]) -> int | None:
    """The true bearing along a straight part, or of a part that stands beside the position."""
    points = outline["points"]
    if outline["full_circle"] or outline["shape"] == "polygon" or not points:
        return None
    first, last = (points[0], points[1]) if outline["shape"] in ("line", "radials") else ((0.0, 0.0), points[0])
    east, north = last[0] - first[0], last[1] - first[1]
    return None if east == north == 0 else round(degrees(atan2(east, north))) % 360


def _way(start: Known, found: Candidate, needle_deg: float | None) -> Json | None:
    if start is None:
        return None
    way = geodesic_inverse(*start, found.lat_deg, found.lon_deg)
    bearing = round(way.azimuth_1_2_deg) % 360
    compass = None if needle_deg is None else round(way.azimuth_1_2_deg - needle_deg) % 360
    return {"distance_m": round(way.distance_m, 1), "bearing_deg": bearing, "compass_deg": compass}


def _verdicts(found: Candidate, told: list[Json]) -> list[Json]:
    wanted = {(verdict.rule.key, verdict.subject.key) for verdict in found.verdicts}
    return [_verdict(each) for each in told if (each["rule"], each["subject"]) in wanted]


def _verdict(told: Json) -> Json:
    return {
        **{name: told[name] for name in ("rule", "title", "subject", "outcome")},
        "margin": told["margin"]["printed"] if told["margin"] else None,
        "reason": told["reason"]["text"] if told["reason"] else None,
    }
