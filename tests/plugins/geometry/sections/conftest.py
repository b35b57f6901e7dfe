from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Facts = dict[str, dict[str, dict[str, Any]]]
POSITION = {
    "lat": 39.90412,
    "lon": -117.30288,
    "accuracy_m": 5.0,
    "level": 68.0,
    "level_stated": False,
    "radius_95_m": 8.08,
    "form": "decimal degrees",
    "forms": {
        "decimal": "39.90412, -117.30288",
        "degrees_minutes": "39° 54.247' N 117° 18.173' W",
        "utm": "11S 474110 4417159",
        "mgrs": None,
        "locator": "DM19iv36",
    },
}
CLAIM = "claim:freight-road/cinder-crossing"


def outline(name: str, role: str, shape: str, points: list[list[float]], **more: Any) -> dict[str, Any]:
    fields = {"radius_m": None, "height_m": None, "full_circle": False, **more}
    return {"name": name, "role": role, "shape": shape, "points": points, **fields}


def reference(kind: str, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "lines": [], "areas": [], "points": [], "map_uncertainty_m": 3.0, "half_width_m": 0.0, **more}


def record(value: Any, **more: Any) -> dict[str, Any]:
    return {"value": value, "detail": {}, "displaced": None, "reason": None, **more}


@pytest.fixture
def facts() -> Facts:
    """A table and a 20 m wire due east beside a road that runs from west to east 10 m south of them."""
    parts = [
        outline("table", "operating position", "point", [[0.0, 0.0]]),
        outline("wire", "antenna", "line", [[0.0, 0.0], [20.0, 0.0]], height_m=6.0),
    ]
    road = reference("line", lines=[[[-900.0, -10.0], [900.0, -10.0]]])
    return {
        "station.position": {"trip": record(dict(POSITION))},
        "station.declination": {"trip": record(12.1)},
        "part.outline": {f"part:{part['name']}": record(part) for part in parts},
        "reference.shape": {CLAIM: record(road)},
        "reference.title": {CLAIM: record("Cinder Crossing")},
        "program.corridor": {"program:freight-road": record(24.384)},
    }


@pytest.fixture
def with_part(facts: Facts) -> Callable[..., Facts]:
    """Adds a part to the facts."""

    def add(name: str, role: str, shape: str, points: list[list[float]], **more: Any) -> Facts:
        facts["part.outline"][f"part:{name}"] = record(outline(name, role, shape, points, **more))
        return facts

    return add


@pytest.fixture
def with_reference(facts: Facts) -> Callable[..., Facts]:
    """Adds a claim with its shape to the facts."""

    def add(claim: str, kind: str, **more: Any) -> Facts:
        facts["reference.shape"][claim] = record(reference(kind, **more))
        return facts

    return add
