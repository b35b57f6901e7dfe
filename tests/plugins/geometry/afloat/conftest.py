"""An outing on an invented reservoir: an area around the position, and a channel through it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

import pytest

from afield.core.api import Engine, InputError, Measured, load
from afield.plugins.geometry.computations.plane import plane_at

LAT, LON = 39.90412, -117.30288
SOURCE = '{document: Rules, section: "1", grade: invented, last_checked: 2026-05-02}'
PACK = """\
id: my-water
version: "1.0.0"
title: My Water
publisher: nobody
licence: MIT
judges: program
needs: [outing, geometry]
date_basis: local
review_every: 365 days
sources: [{document: Rules, edition: "1", grade: invented}]
references: references.yaml
facts:
  program.required_roles: [operating position]
  program.corridor: 60 m
"""
GEOMETRY = "{file: water.geojson, id: ID, source: survey, map_accuracy: 1 m, level: 95 %, edge_model: geodesic}"
REFERENCES = "references:\n" + "".join(
    f"  - id: {name}\n    title: {name}\n    from: 2021-01-01\n    kind: {kind}\n"
    f"    geometry: {GEOMETRY.replace('ID', name)}\n    source: {SOURCE}\n"
    for name, kind in (("reservoir", "area"), ("channel", "line"), ("buoy", "point"))
)
RULES = f"""\
rules:
  - id: still
    title: The station stands still
    why: The award is for one place.
    severity: required
    for_each: claim
    require: {{fact: station.on_water, one_of: [ashore, at anchor]}}
    source: {SOURCE}
"""
TRIP = f"""\
trip: Reservoir
date: 2026-06-27
station:
  at: {{lat: {LAT}, lon: {LON}, accuracy: 1 m, level: 95 %}}
  parts: [{{name: table, role: operating position}}, {{name: whip, role: antenna, length: 2 m}}]
claims:
  - {{program: my-water, reference: reservoir}}
  - {{program: my-water, reference: channel}}
  - {{program: my-water, reference: buoy}}
"""
AREA, LINE, POINT = (f"claim:my-water/{name}" for name in ("reservoir", "channel", "buoy"))
ANCHORED = "{anchored: {rode: 30 m, depth: [5 m, 7 m], bow_height: 1.2 m, bow_to_farthest: 9 m}}"
HALF_M = 200.0


def spot(east_m: float, north_m: float) -> tuple[float, float]:
    """Longitude and latitude of an offset from the position."""
    lat, lon = plane_at(LAT, LON).to_lat_lon(east_m, north_m)
    return float(lon), float(lat)


def water() -> str:
    """A square reservoir of 400 m around the position, a channel from west to east 10 m south of it, and a buoy."""
    square = [spot(HALF_M * east, HALF_M * north) for east, north in [(-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)]]
    shapes = {
        "reservoir": {"type": "Polygon", "coordinates": [square]},
        "channel": {"type": "LineString", "coordinates": [spot(-300, -10), spot(300, -10)]},
        "buoy": {"type": "Point", "coordinates": spot(50, 0)},
    }
    features = [{"type": "Feature", "id": name, "properties": {}, "geometry": shape} for name, shape in shapes.items()]
    return json.dumps({"type": "FeatureCollection", "features": features})


Fix = tuple[float, float, float | None]
"""East and north of the position, metres; minutes from 22:00 UTC, None = no time."""


def gpx(path: Path, *segments: Sequence[Fix]) -> Path:
    text = "".join(f"<trkseg>{''.join(map(_fix, segment))}</trkseg>" for segment in segments)
    head = '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">'
    path.write_text(f"{head}<trk>{text}</trk></gpx>", encoding="utf-8")
    return path


def _fix(fix: Fix) -> str:
    lon, lat = spot(fix[0], fix[1])
    if fix[2] is None:
        return f'<trkpt lat="{lat:.9f}" lon="{lon:.9f}"/>'
    seconds = round(60 * fix[2])
    time = f"2026-06-27T{22 + seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}Z"
    return f'<trkpt lat="{lat:.9f}" lon="{lon:.9f}"><time>{time}</time></trkpt>'


@pytest.fixture
def outing(tmp_path: Path) -> Path:
    """A folder with the plan and the pack; returns the plan."""
    pack = tmp_path / "my-water"
    pack.mkdir()
    files = {"pack.yaml": PACK, "references.yaml": REFERENCES, "rules.yaml": RULES, "cases.yaml": "cases: []\n"}
    for name, text in {**files, "water.geojson": water()}.items():
        (pack / name).write_text(text, encoding="utf-8")
    plan = tmp_path / "trip.yaml"
    plan.write_text(TRIP, encoding="utf-8")
    return plan


def afloat(plan: Path, text: str) -> Path:
    """The plan with `station.afloat`."""
    plan.write_text(TRIP.replace("  parts:", f"  afloat: {text}\n  parts:"), encoding="utf-8")
    return plan


def drifting(plan: Path, *segments: Sequence[Fix], more: str = "") -> Path:
    """The plan under way along a track, with a boat that reaches 4 m around its receiver."""
    gpx(plan.parent / "drift.gpx", *segments)
    return afloat(plan, f"{{track: {{file: drift.gpx, reach: 4 m{more}}}}}")


def asked(plan: Path, fact: str, key: str = "trip") -> Measured:
    """The record of a fact."""
    return load(plan, Engine()).world.value(key, fact)


def complaint(plan: Path, fact: str = "station.afloat") -> str:
    """What is said of wrong input: place, what, advice."""
    with pytest.raises(InputError) as caught:
        asked(plan, fact)
    [problem] = caught.value.problems
    return f"{problem.place}: {problem.what}\n{problem.advice}"
