"""Placement: all bearings of a station of three pieces at three references with 500 boundary vertices in all.

Processor time is taken, so threads would not make it look better; the floor is one joining of what lies within 24 m
of every boundary, by the same geometry library and on the same grid: a figure that no erosion of them can be below.
"""

from __future__ import annotations

import json
import tempfile
from dataclasses import dataclass
from math import cos, radians
from pathlib import Path
from time import process_time
from typing import Any

import numpy as np
import shapely

from afield.core.engine import Engine, load
from afield.plugins.geometry.computations.doubt import sigma_m
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.placement.candidates import Fix
from afield.plugins.geometry.placement.search import Search

LAT, LON = 39.90412, -117.30288
VERTICES = (200, 200, 100)
TIMES = 5


@dataclass(frozen=True, slots=True)
class Placement:
    """Processor seconds, each the median of its runs: the sweep over all bearings, the best place, the floor."""

    sweep: float
    best: float
    floor: float
    fitting: int


def measured(scratch: Path) -> Placement:
    """What a search of 500 m to each side costs."""
    rings = _boundaries()
    plan, engine = _plan(scratch, rings), Engine()
    runs = [_run(plan, engine) for _ in range(TIMES + 1)][1:]
    floors = [_floor(rings) for _ in range(TIMES)]
    sweep, best = (float(np.median([run[k] for run in runs])) for k in (0, 1))
    return Placement(sweep, best, float(np.median(floors)), runs[0][2])


def _run(plan: Path, engine: Engine) -> tuple[float, float, int]:
    trip = load(plan, engine)
    start = process_time()
    search = Search(trip, engine, plane_at(LAT, LON), 500.0, Fix("5 m", "68 %", sigma_m(5.0, 68)))
    turns = search.turns
    swept = process_time()
    best = search.candidates[0]
    if not (turns.fitting and best.verified):
        raise RuntimeError("the benchmark's own plan does not fit: what was measured is no whole search")
    return swept - start, process_time() - swept, len(turns.fitting)


def _floor(rings: list[Any]) -> float:
    pieces = [shapely.linestrings(np.stack([ring[:-1], ring[1:]], axis=1)) for ring in rings]
    start = process_time()
    shapely.union_all(shapely.buffer(np.concatenate(pieces), 24.0, quad_segs=16), grid_size=1e-5)
    return process_time() - start


def _boundaries() -> list[Any]:
    """Two wavy areas and a winding road, metres east and north."""
    rng = np.random.default_rng(1)
    road = np.stack([np.linspace(-500, 500, VERTICES[2]), np.zeros(VERTICES[2])], axis=1)
    road[:, 1] = 40 * np.sin(road[:, 0] / 60) + np.cumsum(rng.normal(0, 2, len(road)))
    return [_wavy(rng, VERTICES[0], (-120, 0)), _wavy(rng, VERTICES[1], (130, 40)), road]


def _wavy(rng: np.random.Generator, count: int, at: tuple[float, float]) -> Any:
    turn = np.arange(count) * 2 * np.pi / count
    waves = sum(rng.normal(0, 1 / k) * np.sin(k * turn + rng.uniform(0, 2 * np.pi)) for k in range(2, 9))
    reach = 280 * (1 + 0.06 * waves + rng.normal(0, 0.004, count))
    ring = np.stack([at[0] + reach * np.cos(turn), at[1] + reach * np.sin(turn)], axis=1)
    return np.concatenate([ring, ring[:1]])


def _plan(folder: Path, rings: list[Any]) -> Path:
    names = ("west", "east", "road")
    features = [_feature(name, ring) for name, ring in zip(names, rings, strict=True)]
    collection = {"type": "FeatureCollection", "features": features}
    (folder / "places.geojson").write_text(json.dumps(collection), encoding="utf-8")
    parts = [
        {"name": "table", "role": "operating position", "at": ["0 m", "0 m"]},
        _part("wire", "antenna", 40, 1, 21),
        _part("feed line", "feed line", 40, 0, 1),
        _part("counterpoise", "counterpoise", 260, 0, 9),
    ]
    at = {"lat": LAT, "lon": LON, "accuracy": "5 m", "level": "68 %"}
    plan = {
        "trip": "a benchmark", "date": "2026-06-27", "operators": [{"name": "first"}, {"name": "second"}],
        "station": {"at": at, "parts": parts}, "claims": [_claim(name) for name in names],
    }  # fmt: skip
    path = folder / "placement.yaml"
    path.write_text(json.dumps(plan), encoding="utf-8")
    return path


def _part(name: str, role: str, bearing: int, near: int, far: int) -> dict[str, Any]:
    ends = ({"bearing": f"{bearing} deg", "distance": f"{distance} m"} for distance in (near, far))
    return {"name": name, "role": role, **dict(zip(("from", "to"), ends, strict=True))}


def _claim(name: str) -> dict[str, Any]:
    program, kind = ("freight-road", "line") if name == "road" else ("basin-preserves", "area")
    drawn = {"kind": kind, "file": "places.geojson", "id": name, "source": "made up", "map_accuracy": "1 m"}
    return {"program": program, "reference": name, "geometry": drawn}


def _feature(name: str, ring: Any) -> dict[str, Any]:
    points = [[LON + x / (111_320 * cos(radians(LAT))), LAT + y / 111_035] for x, y in ring]
    kind, drawn = ("LineString", points) if name == "road" else ("Polygon", [points])
    return {"type": "Feature", "id": name, "properties": {}, "geometry": {"type": kind, "coordinates": drawn}}


def main() -> None:
    """Prints the figures beside the budget."""
    with tempfile.TemporaryDirectory() as folder:
        cost = measured(Path(folder))
    whole = cost.sweep + cost.best
    print(
        f"{'afield place, 500 vertices':<32}{whole:5.2f} s of processor time (budget 3 s): "
        f"{cost.sweep:.2f} s all bearings ({cost.fitting} fit), {cost.best:.2f} s the best of them; "
        f"{whole / cost.floor:.1f} x joining what lies within 24 m of the boundaries once",
        flush=True,
    )
