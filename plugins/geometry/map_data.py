"""What the map shows, as JSON: the whole station, how well its position is known, and the boundaries near it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.plugins.geometry.map_afloat import AFLOAT, parts_afloat
from afield.plugins.geometry.map_records import Facts, claim_words, declination_deg, known, only
from afield.plugins.geometry.map_references import WORST, references_of, rounded, worst_points
from afield.plugins.geometry.map_views import views
from afield.plugins.geometry.map_zones import ZONE, with_zone
from afield.plugins.geometry.pacing import paced, seen_from_position
from afield.plugins.geometry.position_form import coarse_words
from afield.plugins.geometry.windows import Window

WANTS = (
    "station.position",
    "station.declination",
    "part.outline",
    "reference.shape",
    "reference.title",
    "program.corridor",
    AFLOAT,
    ZONE,
    *WORST,
)


def map_data(facts: Facts) -> dict[str, Any] | None:
    """The map's JSON (schemas/sections/map.json), all lengths in metres; None if there is nothing to draw."""
    needle = declination_deg(facts)
    outlines = [record["value"] for record in known(facts, "part.outline").values()]
    parts = parts_afloat([part_drawn(outline, needle) for outline in outlines], facts)
    references = [with_zone(reference, facts) for reference in references_of(facts)]
    if not parts and not references:
        return None
    data: dict[str, Any] = {
        "position": _position(facts),
        "declination_deg": needle,
        "parts": parts,
        "references": references,
        "worst": list(worst_points(facts)),
    }
    shown = views(data)
    worst = _named_once(_on_the_map(data["worst"], shown["close"]))
    return {**data, "worst": worst, **shown, "notes": _notes(facts)}


def _on_the_map(worst: Sequence[Mapping[str, Any]], close: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Those whose line to the place lies on the map; a boundary far away is no reason to mark a part."""
    window = Window(**close["window"])
    return [each for each in worst if each["nearest"] is None or window.holds(each["nearest"])]


def _named_once(worst: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Those that have one point and one name are named once on the drawing; the key tells them apart."""
    seen: list[tuple[Any, str]] = []
    told = []
    for each in worst:
        mark = (each["point"], each["label"])
        told.append({**each, "label": ""} if mark in seen else each)
        seen.append(mark)
    return told


def _position(facts: Facts) -> dict[str, Any] | None:
    record = only(facts, "station.position")
    if record is None:
        return None
    radius = record["value"].get("radius_95_m")
    words = f"the position lies within {paced(radius)} of its mark (95 %)" if radius else "the stated position"
    sizes = coarse_words(*record["value"].get("digits_leave_m", (0.0, 0.0)))
    words += f"; its digits leave {sizes} open besides, which is not drawn" if sizes else ""
    return {"radius_m": radius, "words": words}


def part_drawn(outline: Mapping[str, Any], needle_deg: float | None) -> dict[str, Any]:
    """A part for drawing, and where it lies in words."""
    height = outline.get("height_m")
    return {
        **{field: outline.get(field) for field in ("name", "role", "shape", "radius_m")},
        "points": [rounded(point) for point in outline["points"]],
        "full_circle": bool(outline.get("full_circle")),
        "height": None if height is None else paced(height),
        "where": _where(outline, needle_deg),
    }


def _where(outline: Mapping[str, Any], needle_deg: float | None) -> str:
    ends = list(dict.fromkeys(seen_from_position(point, needle_deg) for point in outline["points"]))
    if outline.get("radius_m"):
        bearing = "in any direction, " if outline.get("full_circle") else ""
        return f"{bearing}within {paced(outline['radius_m'])} of {_as_place(ends[0])}"
    if len(ends) == 1:
        return f"at {ends[0]}" if ends[0] == "the position" else ends[0]
    return f"from {ends[0]}; to {'; to '.join(ends[1:])}"


def _as_place(end: str) -> str:
    return end if end == "the position" else f"the point {end}"


def _notes(facts: Facts) -> list[str]:
    notes = ["Metres east and north of the station's position; up is true north."]
    for key, record in facts.get("reference.shape", {}).items():
        if record.get("value") is None:
            why = (record.get("reason") or {}).get("text") or "its shape is not known"
            notes.append(f"{claim_words(key)} is not drawn: {why}.")
        else:
            notes += [f"{claim_words(key)}: {note}" for note in record["value"].get("notes", [])]
    return notes
