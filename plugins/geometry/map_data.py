"""What the map shows, as JSON: the whole station, how well its position is known, and the boundaries near it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import _
from afield.plugins.geometry.map_afloat import AFLOAT, parts_afloat
from afield.plugins.geometry.map_records import Facts, claim_words, declination_deg, known, only
from afield.plugins.geometry.map_references import WORST, references_of, rounded, worst_points
from afield.plugins.geometry.map_views import views
from afield.plugins.geometry.map_zones import ZONE, with_zone
from afield.plugins.geometry.pacing import is_at_position, paced, seen_from_position
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
    within = _("the position lies within {radius} of its mark (95 %)")
    clauses = [within.format(radius=paced(radius)) if radius else _("the stated position")]
    sizes = coarse_words(*record["value"].get("digits_leave_m", (0.0, 0.0)))
    clauses += [_("its digits leave {sizes} open besides, which is not drawn").format(sizes=sizes)] if sizes else []
    return {"radius_m": radius, "words": "; ".join(clauses)}


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
    seen = {seen_from_position(point, needle_deg): is_at_position(point) for point in outline["points"]}
    (first, is_here), *ends = seen.items()
    if outline.get("radius_m"):
        return _around(outline, first, is_here)
    if not ends:
        return _("at the position") if is_here else first
    start = _("from the position") if is_here else _("from {place}").format(place=first)
    return "; ".join([start, *(_to(*end) for end in ends)])


def _to(place: str, is_here: bool) -> str:
    return _("to the position") if is_here else _("to {place}").format(place=place)


def _around(outline: Mapping[str, Any], place: str, is_here: bool) -> str:
    radius = paced(outline["radius_m"])
    if outline.get("full_circle"):
        here, there = (
            _("in any direction, within {radius} of the position"),
            _("in any direction, within {radius} of the point {place}"),
        )
    else:
        here, there = _("within {radius} of the position"), _("within {radius} of the point {place}")
    return here.format(radius=radius) if is_here else there.format(radius=radius, place=place)


def _notes(facts: Facts) -> list[str]:
    notes = [_("Metres east and north of the station's position; up is true north.")]
    for key, record in facts.get("reference.shape", {}).items():
        if record.get("value") is None:
            why = (record.get("reason") or {}).get("text") or _("its shape is not known")
            notes.append(_("{claim} is not drawn: {why}.").format(claim=claim_words(key), why=why))
        else:
            notes += [f"{claim_words(key)}: {note}" for note in record["value"].get("notes", [])]
    return notes
