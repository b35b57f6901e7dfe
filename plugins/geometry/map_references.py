"""The claimed places on the map: lines and boundaries, the corridor, and where the station comes closest to failing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from afield.core.api import _, marked
from afield.plugins.geometry.map_afloat import name_afloat
from afield.plugins.geometry.map_records import Facts, Record, claim_words, known
from afield.plugins.geometry.pacing import paced
from afield.plugins.geometry.windows import Point

CLIPPED_AT_M = 2000.0
"""Shapes are cut off at this distance north, south, east and west of the position; the cut is no boundary."""
FARTHEST = (marked("farthest"), marked("farthest: {part}"), marked("{part} is farthest from {title}"))
BOUNDARY = (marked("boundary"), marked("boundary: {part}"), marked("{part} decides at the boundary of {title}"))
EDGE = (*BOUNDARY[:2], marked("{part} decides at the edge of the area around {title}"))
WORST = {
    "place.farthest_part_from_line": FARTHEST,
    "place.farthest_part_from_point": FARTHEST,
    "place.margin_inside_area": BOUNDARY,
    "place.margin_inside_zone": EDGE,
}
"""Fact -> its word on the drawing, alone and with the part that decides, and its words in the key."""
KINDS = {"line": marked("line"), "area": marked("boundary of the area"), "point": marked("point")}


def references_of(facts: Facts) -> list[dict[str, Any]]:
    """The claimed places whose shape is known, for drawing."""
    return [reference_drawn(key, record["value"], facts) for key, record in known(facts, "reference.shape").items()]


def rounded(point: Point) -> list[float]:
    """The point to a centimetre."""
    return [round(float(point[0]), 2), round(float(point[1]), 2)]


def reference_drawn(key: str, shape: Mapping[str, Any], facts: Facts, cut_at_m: float = CLIPPED_AT_M) -> dict[str, Any]:
    """One claimed place, for drawing; its shape was cut off at `cut_at_m` to each side."""
    kind = shape["kind"]
    areas = [[[rounded(point) for point in ring] for ring in area] for area in shape.get("areas", [])]
    lines = [[rounded(point) for point in line] for line in shape.get("lines", [])]
    edges = [path for area in areas for ring in area for path in uncut(ring, cut_at_m)]
    corridor_m = _corridor_m(key, facts) if kind == "line" else None
    return {
        "claim": key,
        "title": title_of(key, facts),
        "kind": kind,
        "lines": edges if kind == "area" else lines,
        "areas": areas,
        "points": [rounded(point) for point in shape.get("points", [])] if kind == "point" else [],
        "half_width_m": float(shape.get("half_width_m") or 0.0),
        "corridor_m": corridor_m,
        "words": _words(shape, corridor_m),
    }


def title_of(key: str, facts: Facts) -> str:
    """The reference's title, or else its name with its program's."""
    return str(known(facts, "reference.title").get(key, {}).get("value") or claim_words(key))


def _corridor_m(key: str, facts: Facts) -> float | None:
    program = key.partition(":")[2].partition("/")[0]
    record: Record | None = known(facts, "program.corridor").get(f"program:{program}")
    return None if record is None else round(float(record["value"]), 3)


def _words(shape: Mapping[str, Any], corridor_m: float | None) -> str:
    good_to, words = shape.get("map_uncertainty_m"), _(KINDS[shape["kind"]])
    if good_to:
        words = _("{kind}, from a map good to {accuracy} (95 %)").format(kind=words, accuracy=paced(good_to))
    if not corridor_m:
        return words
    of_edge, of_line = _("corridor {width} to each side of its edge"), _("corridor {width} to each side")
    return f"{words}; {(of_edge if shape.get('half_width_m') else of_line).format(width=paced(corridor_m))}"


def uncut(ring: Sequence[Point], cut_at_m: float = CLIPPED_AT_M) -> list[list[Point]]:
    """A ring without the stretches along which its shape was cut off: what is left are true boundaries."""
    runs: list[list[Point]] = []
    joined = False
    for start, end in pairwise(ring):
        if _along_the_cut(start, end, cut_at_m):
            joined = False
            continue
        if not joined:
            runs.append([start])
        runs[-1].append(end)
        joined = True
    return runs


def _along_the_cut(start: Point, end: Point, cut_at_m: float) -> bool:
    return any(start[axis] == end[axis] and abs(abs(start[axis]) - cut_at_m) < 0.01 for axis in (0, 1))


def worst_points(facts: Facts) -> Iterator[dict[str, Any]]:
    """Where the station comes closest to failing, or fails by most, with the nearest point of the place."""
    for name, sentences in WORST.items():
        for key, record in known(facts, name).items():
            detail = record.get("detail") or (record.get("displaced") or {}).get("detail") or {}
            if detail.get("point") and detail.get("part"):
                yield _worst(key, detail, sentences, facts)


def _worst(key: str, detail: Mapping[str, Any], sentences: tuple[str, str, str], facts: Facts) -> dict[str, Any]:
    nearest, afloat = detail.get("nearest"), name_afloat(facts)
    alone, with_part, in_key = map(_, sentences)
    part = _(afloat) if afloat else detail["part"]
    return {
        "claim": key,
        "point": rounded(detail["point"]),
        "nearest": rounded(nearest) if nearest else None,
        "label": alone if afloat else with_part.format(part=part),
        "words": in_key.format(part=part, title=title_of(key, facts)),
    }
