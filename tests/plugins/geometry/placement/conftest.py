"""Plans around invented places, written as GeoJSON in metres east and north of one point."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import cos, radians
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine, load
from afield.plugins.geometry.computations.doubt import sigma_m
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.placement.candidates import Fix
from afield.plugins.geometry.placement.search import Search

LAT, LON = 47.2, 11.4
PROGRAMS = {"area": "basin-preserves", "line": "freight-road", "point": "basin-preserves"}
WIRE = {
    "name": "wire",
    "role": "antenna",
    "from": {"bearing": "40 deg", "distance": "1 m"},
    "to": {"bearing": "40 deg", "distance": "21 m"},
}
TABLE = {"name": "table", "role": "operating position", "at": ["0 m", "0 m"]}
Points = Sequence[Sequence[float]]
ENGINE = Engine()


def lon_lat(point: Sequence[float]) -> list[float]:
    """A point in metres east and north, roughly: what counts is that all places are drawn alike."""
    return [LON + point[0] / (111_320 * cos(radians(LAT))), LAT + point[1] / 111_170]


@dataclass
class Land:
    """A folder with one GeoJSON file and a plan that claims what is in it."""

    folder: Path
    parts: list[dict[str, Any]] = field(default_factory=lambda: [TABLE, WIRE])
    features: list[dict[str, Any]] = field(default_factory=list)
    claims: list[dict[str, Any]] = field(default_factory=list)

    def add(self, kind: str, name: str, geometry: dict[str, Any]) -> None:
        """Claim a place of a kind."""
        self.features.append({"type": "Feature", "id": name, "properties": {}, "geometry": geometry})
        drawn = {"kind": kind, "file": "places.geojson", "id": name, "source": "invented", "map_accuracy": "1 m"}
        self.claims.append({"program": PROGRAMS[kind], "reference": name, "geometry": drawn})

    def area(self, name: str, *polygons: Sequence[Points]) -> None:
        """Claim an area of one or several polygons, each of rings, the outer first."""
        rings = [[[lon_lat(point) for point in [*ring, ring[0]]] for ring in polygon] for polygon in polygons]
        self.add("area", name, {"type": "MultiPolygon", "coordinates": rings})

    def line(self, name: str, *lines: Points) -> None:
        """Claim a line of one or several pieces."""
        self.add("line", name, {"type": "MultiLineString", "coordinates": [list(map(lon_lat, line)) for line in lines]})

    def point(self, name: str, point: Sequence[float]) -> None:
        """Claim a point."""
        self.add("point", name, {"type": "Point", "coordinates": lon_lat(point)})

    def plan(self, **more: Any) -> Path:
        """Write both files; YAML takes JSON."""
        at = {"lat": LAT, "lon": LON, "accuracy": "5 m", "level": "68 %"}
        plan = {
            "trip": "Invented", "date": "2026-06-27", "operators": [{"name": "first"}, {"name": "second"}],
            "station": {"at": at, "parts": self.parts}, "claims": self.claims, **more,
        }  # fmt: skip
        collection = {"type": "FeatureCollection", "features": self.features}
        (self.folder / "places.geojson").write_text(json.dumps(collection), encoding="utf-8")
        path = self.folder / "trip.yaml"
        path.write_text(json.dumps(plan), encoding="utf-8")
        return path

    def search(self, window_m: float = 200.0) -> Search:
        """A search around the plan's position."""
        fix = Fix("5 m", "68 %", sigma_m(5.0, 68))
        return Search(load(self.plan(), ENGINE), ENGINE, plane_at(LAT, LON), window_m, fix)


@pytest.fixture
def land(tmp_path: Path) -> Land:
    """No place yet."""
    return Land(tmp_path)


@pytest.fixture(scope="session")
def new_land(tmp_path_factory: pytest.TempPathFactory) -> Callable[[], Land]:
    """A new folder each time, for examples of one test."""
    return lambda: Land(tmp_path_factory.mktemp("land"))
