"""The ground of summits, mapped: a full line around what surely belongs to one, dots where heights leave it open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import _, marked
from afield.plugins.geometry import strokes
from afield.plugins.geometry.map_records import Facts, known
from afield.plugins.geometry.map_references import rounded, uncut
from afield.plugins.geometry.sheet import Sheet
from afield.plugins.geometry.strokes import path_data, stroked
from afield.plugins.geometry.windows import Point, ring_within, runs_near

ZONE = "reference.zone_shape"
SURE_WIDTH, POSSIBLE_WIDTH, POSSIBLE_DASH = 1.8, 1.6, "2 4"
SURE, POSSIBLE = marked("sure edge"), marked("possible edge")
"""Names on the drawing."""
WORDS = marked(
    "within the full line the ground surely belongs to it; where it is dotted, out to the broken line, it may; hatched "
    "ground does not"
)
NOTHING_SURE = marked(
    "the terrain is too uncertain for any sure ground; dotted ground may belong to it; hatched ground does not"
)

GROUNDS = ("sure", "possible")

Zone = Mapping[str, Any]


def with_zone(reference: dict[str, Any], facts: Facts) -> dict[str, Any]:
    """A claimed place with the ground of its summit beside it, None where it has none."""
    shape = known(facts, ZONE).get(reference["claim"], {}).get("value")
    return {**reference, "zone": _zone(shape) if shape else None}


def _zone(shape: Mapping[str, Any]) -> dict[str, Any]:
    grounds = {name: [[list(map(rounded, ring)) for ring in area] for area in shape[name]] for name in GROUNDS}
    edges = {
        f"{name}_edges": [path for area in grounds[name] for ring in area for path in uncut(ring)] for name in GROUNDS
    }
    words = _(WORDS if shape["sure"] else NOTHING_SURE)
    return {**grounds, **edges, "summit": rounded(shape["summit"]), "words": words}


def zones_of(references: Sequence[Mapping[str, Any]]) -> list[Zone]:
    """The grounds of all claimed summits."""
    return [reference["zone"] for reference in references if reference.get("zone")]


def ground_of(reference: Mapping[str, Any]) -> Sequence[Any]:
    """The polygons outside of which the ground is hatched: what may belong to a summit, or the area itself."""
    zone = reference.get("zone")
    polygons: Sequence[Any] = zone["possible"] if zone else reference["areas"]
    return polygons


def doubtful(zones: Sequence[Zone], sheet: Sheet) -> str:
    """Dots on the ground that may belong to a summit but does not for sure."""
    beyond = sheet.window.padded(12 / sheet.scale)
    dots = strokes.dotting(f"{sheet.name}-dots") if zones else ""
    return dots + "".join(_dotted(zone, beyond, sheet) for zone in zones)


def _dotted(zone: Zone, beyond: Any, sheet: Sheet) -> str:
    rings = [ring_within(ring, beyond) for name in GROUNDS for polygon in zone[name] for ring in polygon]
    d = "".join(path_data(sheet.thinned(ring), closed=True) for ring in rings if len(ring) > 2)
    return f'<path d="{d}" fill="url(#{sheet.name}-dots)" fill-rule="evenodd" data-ground="doubtful"/>' if d else ""


def edges_drawn(zone: Zone, sheet: Sheet) -> Iterator[tuple[str, str, list[Sequence[Point]]]]:
    """Name, line and paths of the sure and of the possible edge, where one of them is in the window."""
    for ground, name, width, dash in (
        ("sure", SURE, SURE_WIDTH, ""), ("possible", POSSIBLE, POSSIBLE_WIDTH, POSSIBLE_DASH),
    ):  # fmt: skip
        near = sheet.window.padded(12 / sheet.scale)
        runs = [sheet.thinned(run) for path in zone[f"{ground}_edges"] for run in runs_near(path, near)]
        d = "".join(path_data(run) for run in runs)
        if d:
            about = f' data-edge="{ground}"'
            yield _(name), stroked(d, width + 2.4, "#fff") + stroked(d, width, dash=dash, extra=about), list(runs)
