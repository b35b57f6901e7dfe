"""The demo's terrain is what its generator makes, small, and said to be invented; and the demo stands on it as told."""

from __future__ import annotations

import json
import runpy
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import rasterio

from afield.core.api import Engine, load
from afield.plugins.geometry.computations.plane import plane_at

ROOT = Path(__file__).parents[2]
TRIP = ROOT / "programs" / "demo" / "trip.yaml"
MOST_BYTES = 40_000


@pytest.fixture(scope="module")
def made() -> dict[str, Any]:
    return runpy.run_path(str(Path(__file__).parent / "demo_terrain.py"))


@pytest.fixture(scope="module")
def world() -> Any:
    return load(TRIP, Engine()).world


def test_the_file_holds_what_the_generator_makes(made: dict[str, Any]) -> None:
    with rasterio.open(made["GRID"]) as raster:
        assert np.array_equal(raster.read(1), made["rows_m"]()), "run `python tests/project/demo_terrain.py`"
        assert raster.xy(0, 0, offset="ul") == made["corner_m"]()
        assert raster.crs.to_wkt().startswith('COMPD_CS["WGS 84 / UTM zone 11N + MSL height"')
        assert raster.units == ("m",)
        assert "invented" in raster.tags()["TIFFTAG_IMAGEDESCRIPTION"]
    assert made["GRID"].stat().st_size < MOST_BYTES


def test_it_is_written_anew_as_it_is(made: dict[str, Any], tmp_path: Path) -> None:
    made["write"](tmp_path / "again.tif")
    with rasterio.open(tmp_path / "again.tif") as again, rasterio.open(made["GRID"]) as kept:
        assert np.array_equal(again.read(1), kept.read(1))
        assert (again.transform, again.crs, again.units) == (kept.transform, kept.crs, kept.units)


def test_the_listed_summit_is_its_top(made: dict[str, Any], world: Any) -> None:
    zone = world.value("claim:lantern-hills/clinker-butte", "reference.zone").value
    east, north = plane_at(*made["STATION"]).to_plane(*zone.summit)
    assert (float(east), float(north)) == pytest.approx(made["TOP"], abs=1)
    assert zone.top_m == pytest.approx(made["TOP_M"], abs=0.3)
    assert zone.level_m == 1893 - made["DROP_M"]
    assert not zone.cut_off


def test_the_table_is_surely_in_and_the_end_of_the_wire_is_not(world: Any) -> None:
    shape = world.value("claim:lantern-hills/clinker-butte", "reference.zone_shape").value
    import shapely

    sure, possible = (
        shapely.union_all([shapely.Polygon(area[0], area[1:]) for area in shape[name]]) for name in ("sure", "possible")
    )
    wire = next(outline for _, outline in outlines(world) if outline.name == "wire")
    assert sure.contains(shapely.Point(0, 0))
    assert not sure.contains(shapely.Point(wire.points[-1]))
    assert possible.contains(shapely.Point(wire.points[-1]))
    assert possible.contains(sure)


def outlines(world: Any) -> Any:
    return [(key, world.value(f"part:{key}", "part.outline").value) for key in ("table", "wire")]


def test_the_road_runs_along_the_dam_of_the_reservoir() -> None:
    import shapely

    packs = ROOT / "programs"
    shapes = {
        feature["id"]: feature["geometry"]
        for file in ("freight-road/roads.geojson", "basin-preserves/preserves.geojson")
        for feature in json.loads((packs / file).read_text(encoding="utf-8"))["features"]
    }
    plane = plane_at(39.90244, -117.29136)

    def flat(points: Any) -> Any:
        return [tuple(float(each) for each in plane.to_plane(lat, lon)) for lon, lat in points]

    road = shapely.LineString(flat(shapes["cinder-crossing"]["coordinates"]))
    rings = {
        name: shapely.Polygon(flat(shapes[name]["coordinates"][0])) for name in ("tarweed-reservoir", "juniper-basin")
    }
    assert 5 < road.distance(rings["tarweed-reservoir"]) < 25
    assert rings["juniper-basin"].contains(rings["tarweed-reservoir"])
    assert rings["tarweed-reservoir"].is_valid
