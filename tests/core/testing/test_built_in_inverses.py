"""The inverses of the margins agree with the margins: candidates round the demo's station, judged and looked for."""

from __future__ import annotations

from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import pytest
import shapely

from afield.core.api import Engine
from afield.core.testing.findings import Finding
from afield.core.testing.inverses import of_inverses
from afield.core.testing.material import Material, Probe
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.placement.ground import Ground, Stance

LAT, LON = 39.90412, -117.30288
"""Where the demo's station stands."""
PLANE = plane_at(LAT, LON)
PLACES = ((0.0, 0.0), (12.0, -9.0), (-25.0, 18.0), (31.0, 40.0), (-44.0, -37.0))
"""East and north of it, metres."""
NEAR_M = 1.0
"""A place so near the edge of a region is not looked at: regions are drawn with 0.3 m and simpler boundaries off."""


def patch(place: tuple[float, float]) -> dict[str, Any]:
    lat, lon = PLANE.to_lat_lon(*place)
    return {"station": {"at": {"lat": float(lat), "lon": float(lon)}}}


def inside(region: Ground, place: tuple[float, float]) -> bool | None:
    point, where = shapely.Point(place), region.places
    near = not where.is_empty and shapely.distance(where.boundary, point) < NEAR_M
    return None if near else bool(shapely.intersects(where, point))


PROBE = Probe(
    facts=("station.at",), free=lambda trip: Stance(0.0, PLANE, 200.0, 1.0), candidates=lambda trip: PLACES,
    patch=patch, inside=inside,
)  # fmt: skip


@pytest.fixture(scope="module")
def findings() -> dict[str, Finding]:
    names = ("place.margin_inside_area", "place.farthest_part_from_line", "place.farthest_part_from_point")
    with as_file(files("afield.programs").joinpath("demo")) as demo:
        material = Material(plans=(Path(demo) / "trip.yaml",), probes=dict.fromkeys(names, PROBE))
        return {finding.of: finding for finding in of_inverses("geometry", Engine(), material)}


@pytest.mark.parametrize("name", ["place.margin_inside_area", "place.farthest_part_from_line"])
def test_the_inverse_of_a_margin_agrees_with_it(findings: dict[str, Finding], name: str) -> None:
    assert findings[name].outcome == "passed", findings[name].text
    assert int(findings[name].text.split()[0]) >= 30


def test_a_margin_that_no_claim_of_the_plan_has_is_not_looked_at(findings: dict[str, Finding]) -> None:
    found = findings["place.farthest_part_from_point"]
    assert (found.outcome, found.text) == ("not looked at", "no candidate could be judged both ways")
