"""What the map shows, as JSON: the whole station, how well its position is known, and the boundaries near it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import hypot
from typing import Any

from afield.plugins.geometry.pacing import FOOT_M, paced, seen_from_position
from afield.plugins.geometry.windows import (
    Point,
    Window,
    bounds,
    nearest_on_path,
    proportioned,
    round_step,
)

Record = Mapping[str, Any]
Facts = Mapping[str, Mapping[str, Record]]
WANTS = (
    "station.position",
    "part.outline",
    "reference.shape",
    "reference.title",
    "program.corridor",
    "place.farthest_part_from_line",
)
LEAST_SPAN_M = 20.0
NEAR = 1.5
"""A boundary within this many spans of the station is drawn on the map itself; a farther one on the overview."""


def map_data(facts: Facts) -> dict[str, Any] | None:
    """The map's JSON (schemas/sections/map.json), all lengths in metres; None if there is nothing to draw."""
    parts = [_part(record["value"], _declination(facts)) for record in known(facts, "part.outline").values()]
    references = [_reference(key, record["value"], facts) for key, record in known(facts, "reference.shape").items()]
    if not parts and not references:
        return None
    data: dict[str, Any] = {
        "position": _position(facts),
        "declination_deg": _declination(facts),
        "parts": parts,
        "references": references,
        "worst": list(_worst(facts)),
    }
    return {**data, **_views(data), "notes": _notes(facts, data)}


def known(facts: Facts, name: str) -> dict[str, Record]:
    """The records of a fact that have a value, by subject key."""
    return {key: record for key, record in facts.get(name, {}).items() if record.get("value") is not None}


def only(facts: Facts, name: str) -> Record | None:
    """The one record of a fact of the trip, if it has a value."""
    return next(iter(known(facts, name).values()), None)


def _declination(facts: Facts) -> float | None:
    record = only(facts, "station.position")
    return record["value"].get("declination_deg") if record else None


def _position(facts: Facts) -> dict[str, Any] | None:
    record = only(facts, "station.position")
    if record is None:
        return None
    radius = record["value"].get("radius_95_m")
    words = f"the position lies within {paced(radius)} of its mark (95 %)" if radius else "no accuracy stated"
    return {"radius_m": radius, "words": words}


def _part(outline: Mapping[str, Any], declination_deg: float | None) -> dict[str, Any]:
    kept = {field: outline.get(field) for field in ("name", "role", "shape", "radius_m")}
    points = [_rounded(point) for point in outline["points"]]
    height = outline.get("height_m")
    return {
        **kept,
        "points": points,
        "full_circle": bool(outline.get("full_circle")),
        "height": None if height is None else paced(height),
        "where": _where(outline, declination_deg),
    }


def _where(outline: Mapping[str, Any], declination_deg: float | None) -> str:
    ends = [seen_from_position(point, declination_deg) for point in outline["points"]]
    if outline.get("full_circle") and outline.get("radius_m"):
        return f"any direction, within {paced(outline['radius_m'])} of {ends[0]}"
    if outline["shape"] == "circle" and outline.get("radius_m"):
        return f"within {paced(outline['radius_m'])} of {ends[0]}"
    if len(ends) == 1:
        return f"at {ends[0]}" if ends[0] == "the position" else ends[0]
    return f"from {'; to '.join(ends)}"


def _rounded(point: Point) -> list[float]:
    return [round(float(point[0]), 2), round(float(point[1]), 2)]


def _reference(key: str, shape: Mapping[str, Any], facts: Facts) -> dict[str, Any]:
    title = known(facts, "reference.title").get(key, {}).get("value") or key.partition(":")[2]
    program = key.partition(":")[2].partition("/")[0]
    corridor = known(facts, "program.corridor").get(f"program:{program}")
    kind = shape["kind"]
    corridor_m = float(corridor["value"]) if corridor and kind == "line" else None
    return {
        "claim": key,
        "title": title,
        "kind": kind,
        "lines": [[_rounded(point) for point in line] for line in shape.get("lines", [])],
        "areas": [[[_rounded(point) for point in ring] for ring in area] for area in shape.get("areas", [])],
        "points": [_rounded(point) for point in shape.get("points", [])],
        "half_width_m": float(shape.get("half_width_m") or 0.0),
        "corridor_m": corridor_m,
        "words": _reference_words(shape, corridor_m),
    }


def _reference_words(shape: Mapping[str, Any], corridor_m: float | None) -> str:
    known_to = shape.get("map_uncertainty_m")
    words = {"line": "line", "area": "boundary of the area", "point": "point"}[shape["kind"]]
    if known_to:
        words += f", drawn from a map good to {paced(known_to)} (95 %)"
    return f"{words}; corridor {paced(corridor_m)} to each side" if corridor_m else words


def _worst(facts: Facts) -> Iterator[dict[str, Any]]:
    for key, record in known(facts, "place.farthest_part_from_line").items():
        detail = record.get("detail") or (record.get("displaced") or {}).get("detail") or {}
        if detail.get("point"):
            yield {"claim": key, "point": _rounded(detail["point"]), "words": f"farthest: {detail.get('part', 'part')}"}


def _views(data: Mapping[str, Any]) -> dict[str, Any]:
    station = _station_window(data)
    nearest = list(_nearest_boundaries(data["references"], station))
    reach = station.span * NEAR
    near = [point for point, distance, _ in nearest if distance <= reach]
    around = [
        corner for point, distance, band in nearest if distance <= reach for corner in _around(point, band, reach)
    ]
    close = proportioned(station.with_points([*near, *around]).padded(station.span * 0.12))
    far = [point for point, _, _ in nearest if not close.holds(point)]
    around_all = close.with_points(far)
    wide = proportioned(around_all.padded(around_all.span * 0.15)) if far else None
    return {"close": _view(close), "wide": _view(wide) if wide else None}


def _station_window(data: Mapping[str, Any]) -> Window:
    points: list[Point] = [(0.0, 0.0)]
    for part in data["parts"]:
        around = part["radius_m"] or 0.0
        points += [corner for point in part["points"] for corner in _around(point, around, around)]
    radius = (data["position"] or {}).get("radius_m") or 0.0
    window = bounds([*points, (-radius, -radius), (radius, radius), *(worst["point"] for worst in data["worst"])])
    return window.padded(max(0.0, (LEAST_SPAN_M - window.span) / 2))


def _around(point: Point, distance: float, at_most: float) -> list[Point]:
    """Corners of the square around a point; none if it would be larger than is worth showing."""
    if distance > at_most:
        return []
    return [(point[0] - distance, point[1] - distance), (point[0] + distance, point[1] + distance)]


def _nearest_boundaries(
    references: Sequence[Mapping[str, Any]], station: Window
) -> Iterator[tuple[tuple[float, float], float, float]]:
    """Each reference's boundary point nearest to the middle of the station, its distance, and its band's half width."""
    middle = ((station.west + station.east) / 2, (station.south + station.north) / 2)
    for reference in references:
        feet = [nearest_on_path(path, middle) for path in paths_of(reference) if path]
        if feet:
            point = min(feet, key=lambda foot: hypot(foot[0] - middle[0], foot[1] - middle[1]))
            distance = hypot(point[0] - middle[0], point[1] - middle[1])
            yield point, distance, (reference["corridor_m"] or 0.0) + reference["half_width_m"]


def paths_of(reference: Mapping[str, Any]) -> list[list[Point]]:
    """Every line, ring and point of a reference, each as a path."""
    rings = [ring for area in reference["areas"] for ring in area]
    return [*reference["lines"], *rings, *([point] for point in reference["points"])]


def _view(window: Window) -> dict[str, Any]:
    west, south, east, north = (round(side, 2) for side in window)
    scale_m = round_step(window.width, 4)
    return {
        "window": {"west": west, "south": south, "east": east, "north": north},
        "grid_m": round_step(window.span, 8),
        "scale_m": scale_m,
        "scale_ft": round_step(window.width / FOOT_M, 4),
        "words": f"one square is {paced(round_step(window.span, 8))}",
    }


def _notes(facts: Facts, data: Mapping[str, Any]) -> list[str]:
    notes = ["Metres east and north of the station's position; up is true north."]
    for key, record in known(facts, "reference.shape").items():
        notes += [f"{_title(data, key)}: {note}" for note in record["value"].get("notes", [])]
    for key, record in facts.get("reference.shape", {}).items():
        if record.get("value") is None:
            why = (record.get("reason") or {}).get("text") or "its shape is not known"
            notes.append(f"{key.partition(':')[2]} is not drawn: {why}.")
    return notes


def _title(data: Mapping[str, Any], key: str) -> str:
    return next(str(reference["title"]) for reference in data["references"] if reference["claim"] == key)
