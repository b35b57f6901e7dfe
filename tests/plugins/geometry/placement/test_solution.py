"""The answer as JSON: by its schema, and what text, page and files make of it."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ElementTree
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import shapely
from jsonschema import Draft202012Validator

from afield.plugins.geometry.placement.exports import cut_at_180, geojson, gpx, kml
from afield.plugins.geometry.placement.figures import placement_figure
from afield.plugins.geometry.placement.page import placement_html
from afield.plugins.geometry.placement.rose import rose_figure
from afield.plugins.geometry.placement.solution import solution
from afield.plugins.geometry.placement.text import placement_text
from afield.plugins.geometry.readers import read_layer

from .conftest import LAT, LON, TABLE, WIRE, Land, lon_lat

SCHEMAS = files("afield.schemas")
SVG = "{http://www.w3.org/2000/svg}"
ACCESS = (LAT + 0.001, LON)
WOOD = [[(-60, -45), (60, -45), (60, 45), (-60, 45)], [(20, 10), (26, 10), (26, 16), (20, 16)]]
ISLAND = [[(80, -45), (170, -45), (170, 45), (80, 45)]]
SLOT = [(0.0, -28.0), (18.0, -28.0), (18.0, 28.0), (0.0, 28.0)]


def schema(name: str) -> dict[str, Any]:
    read: dict[str, Any] = json.loads(SCHEMAS.joinpath(name).read_text("utf-8"))
    return read


def solved(land: Land, window: float = 200.0) -> dict[str, Any]:
    """The answer, valid by its schema, as JSON gives it back."""
    found = json.loads(json.dumps(solution(land.search(window), (LAT, LON), ACCESS)))
    Draft202012Validator(schema("placement.json")).validate(found)
    return found


@pytest.fixture
def fitting(land: Land) -> dict[str, Any]:
    land.area("wood", WOOD, ISLAND)
    return solved(land)


@pytest.fixture
def slot(land: Land) -> dict[str, Any]:
    """A yard so narrow that the wire fits at some bearings only."""
    land.parts = [TABLE, {**WIRE, "to": {"bearing": "40 deg", "distance": "38 m"}}]
    land.area("yard", [SLOT])
    return solved(land)


@pytest.fixture
def missing(land: Land) -> dict[str, Any]:
    land.area("wood", WOOD)
    land.area("park", [[(150, -60), (199, -60), (199, 60), (150, 60)]])
    return solved(land)


def test_what_is_drawn_is_described_as_on_the_map_of_the_briefing() -> None:
    inner, outer = schema("sections/map.json"), schema("placement.json")["$defs"]
    assert {name: outer[name] for name in inner["$defs"]} == inner["$defs"]
    assert outer["map"]["properties"] == inner["properties"]


def test_a_place_that_fits(fitting: dict[str, Any]) -> None:
    assert fitting["outcome"] == "fits"
    best = fitting["best"]
    assert best["verified"] and best["room_m"] > 5
    assert {verdict["outcome"] for verdict in best["verdicts"]} <= {"passed", "not applicable"}
    assert fitting["bearings"]["arcs"] == [{"from_deg": 32.5, "width_deg": 360.0, "found": "fits"}]
    assert [station["name"] for station in fitting["drawing"]["stations"]] == ["nearest", "best"]


def test_the_best_station_is_drawn_where_it_is_laid(fitting: dict[str, Any]) -> None:
    best = fitting["best"]
    (station,) = [each for each in fitting["drawing"]["stations"] if each["name"] == "best"]
    (wire,) = [part for part in station["parts"] if part["name"] == "wire"]
    ends = shapely.LineString(wire["points"])
    assert ends.length == pytest.approx(20, abs=0.05)
    assert shapely.distance(ends, shapely.Point(best["east_m"], best["north_m"])) == pytest.approx(1, abs=0.05)
    region = shapely.union_all([shapely.Polygon(rings[0], rings[1:]) for rings in fitting["drawing"]["region"]])
    assert region.covers(shapely.Point(best["east_m"], best["north_m"]))


def test_the_way_is_told_from_the_plan_and_from_the_access_point(fitting: dict[str, Any]) -> None:
    way = fitting["nearest"]["from_access"]
    assert way["distance_m"] == pytest.approx(111, abs=30)
    assert 150 < way["bearing_deg"] < 210
    # The needle points 4.5 degrees east of true north here in 2026.
    assert way["bearing_deg"] - way["compass_deg"] in (4, 5)


def test_bearings_that_fit_that_do_not_and_that_are_undecided_follow_each_other(slot: dict[str, Any]) -> None:
    arcs = slot["bearings"]["arcs"]
    assert {arc["found"] for arc in arcs} == {"fits", "does not fit", "cannot tell"}
    assert sum(arc["width_deg"] for arc in arcs) == pytest.approx(360)
    assert all(before["found"] != after["found"] for before, after in pairwise(arcs))
    for arc in arcs:
        middle = (arc["from_deg"] + arc["width_deg"] / 2) % 180
        assert arc["found"] == "does not fit" or min(middle, 180 - middle) < 20


def test_two_places_apart(missing: dict[str, Any]) -> None:
    assert missing["outcome"] == "nothing fits"
    assert missing["region"] == []
    assert missing["nearest"] is None
    assert missing["best"]["room_m"] < -40
    assert missing["sets"] == [["claim:basin-preserves/park"], ["claim:basin-preserves/wood"]]
    assert [claim["area_as_laid_m2"] > 0 for claim in missing["claims"]] == [True, True]


def test_the_region_comes_back_from_geojson(fitting: dict[str, Any], tmp_path: Path) -> None:
    collection = json.loads(geojson(fitting))
    *points, region = [shapely.geometry.shape(feature["geometry"]) for feature in collection["features"]]
    assert region.is_valid and region.geom_type == "MultiPolygon"
    assert all(polygon.exterior.is_ccw for polygon in region.geoms)
    assert not any(ring.is_ccw for polygon in region.geoms for ring in polygon.interiors)
    assert len(points) == 2
    assert all(region.covers(point) for point in points if point != points[0])
    assert not region.covers(shapely.Point(lon_lat((23, 13))))
    (tmp_path / "placement.geojson").write_text(geojson(fitting), encoding="utf-8")
    layer = read_layer(tmp_path / "placement.geojson", "placement.geojson")
    assert [feature.name for feature in layer.features] == [
        "nearest place, laid as planned", "place with most room", "operating positions at which all claims count",
    ]  # fmt: skip


def test_waypoints_come_back_from_gpx_and_kml(fitting: dict[str, Any], tmp_path: Path) -> None:
    for name, text in (("placement.gpx", gpx(fitting)), ("placement.kml", kml(fitting))):
        (tmp_path / name).write_text(text, encoding="utf-8")
        layer = read_layer(tmp_path / name, name)
        found = {feature.name: feature.points for feature in layer.features if feature.points}
        best, nearest = fitting["best"], fitting["nearest"]
        assert found["place with most room"] == [pytest.approx((best["lat_deg"], best["lon_deg"]), abs=1e-7)]
        assert found["nearest place, laid as planned"] == [
            pytest.approx((nearest["lat_deg"], nearest["lon_deg"]), abs=1e-7)
        ]


def test_the_region_comes_back_from_kml(fitting: dict[str, Any], tmp_path: Path) -> None:
    (tmp_path / "placement.kml").write_text(kml(fitting), encoding="utf-8")
    layer = read_layer(tmp_path / "placement.kml", "placement.kml")
    (region,) = [feature for feature in layer.features if feature.areas]
    assert len(region.areas) == len(fitting["region"])
    assert [len(rings) for rings in region.areas] == [len(rings) for rings in fitting["region"]]


def test_a_region_across_the_180th_meridian_is_cut_there() -> None:
    ring = [[179.999, 10.0], [180.001, 10.0], [180.001, 10.001], [179.999, 10.001], [179.999, 10.0]]
    east, west = sorted((shapely.Polygon(rings[0]) for rings in cut_at_180([[ring]])), key=lambda part: -part.bounds[0])
    assert east.bounds == pytest.approx((179.999, 10.0, 180.0, 10.001))
    assert west.bounds == pytest.approx((-180.0, 10.0, -179.999, 10.001))
    inland = [[[[11.0, 47.0], [11.1, 47.0], [11.1, 47.1], [11.0, 47.0]]]]
    assert cut_at_180(inland) is inland


def test_a_place_that_is_nearest_and_best_is_told_once(land: Land) -> None:
    land.area("desert", [[(-900, -900), (900, -900), (900, 900), (-900, 900)]])
    text = placement_text(solved(land))
    assert text.count("\n  47.2") == 1
    assert "Most room, and nearest, laid as planned\n  47.200000, 11.400000\n  the position in the plan\n" in text
    assert "room beyond limits and uncertainty: more than 100 m (328 ft)\n" in text


def test_a_miss_is_no_place_to_go_to(missing: dict[str, Any]) -> None:
    assert json.loads(geojson(missing))["features"] == []
    assert "<wpt" not in gpx(missing)
    assert "<Placemark" not in kml(missing)


def test_names_are_escaped(land: Land) -> None:
    land.area("wood", WOOD)
    land.parts = [TABLE, {**WIRE, "name": "<script>wire & co"}]
    found = solved(land)
    page = placement_html(found)
    assert "<script" not in page
    assert "&lt;script&gt;wire" in page
    assert "default-src 'none'" in page


@pytest.mark.parametrize("name", ["fitting", "slot", "missing"])
def test_the_page_is_whole(name: str, request: pytest.FixtureRequest) -> None:
    found = request.getfixturevalue(name)
    page = placement_html(found)
    for words in ("judge them when you stand there", "Bearings", "What is drawn", "where the search ends", "N true"):
        assert words in page
    assert page.count("<svg") == page.count("</svg>") > 5
    assert not [line for line in page.splitlines() if "://" in line and "www.w3.org" not in line]
    ids = [piece.split('"')[0] for piece in page.split(' id="')[1:]]
    hatchings = [each for each in ids if "hatch" in each or "frame" in each]
    assert len(hatchings) == len(set(hatchings))


def test_the_map_shows_region_places_plan_and_the_end_of_the_search(fitting: dict[str, Any]) -> None:
    drawing = ElementTree.fromstring(placement_figure(fitting))
    (region,) = drawing.findall(f".//{SVG}path[@data-region]")
    assert region.get("d", "").count("M") == sum(len(rings) for rings in fitting["region"])
    assert drawing.findall(f".//{SVG}path[@data-window]")
    assert drawing.findall(f".//{SVG}*[@data-north]")
    assert {bar.get("data-bar") for bar in drawing.findall(f".//{SVG}g[@data-bar]")} == {"m", "ft"}
    named = {text.text for text in drawing.iter(f"{SVG}text") if text.get("data-name") is not None}
    assert {"most room", "nearest", "the plan", "access point"} <= named
    wires = [path for path in drawing.iter(f"{SVG}path") if path.get("data-part") == "wire"]
    assert len(wires) == 2


def test_a_miss_is_named_so_on_the_map(missing: dict[str, Any]) -> None:
    drawing = placement_figure(missing)
    assert "nearest miss" in drawing
    assert "data-region" not in drawing


def test_the_rose_tells_states_apart_by_length_and_filling(slot: dict[str, Any]) -> None:
    rose = ElementTree.fromstring(rose_figure(slot["bearings"]))
    sectors = [path for path in rose.iter(f"{SVG}path") if path.get("data-found")]
    assert len(sectors) == len(slot["bearings"]["arcs"])
    filling = {path.get("data-found"): path.get("fill") for path in sectors}
    assert filling == {"fits": "#444", "does not fit": "#fff", "cannot tell": "url(#rose-undecided)"}
    radii = {path.get("data-found"): path.get("d", "").split("A")[1].split(" ")[0] for path in sectors}
    assert radii == {"fits": "104", "does not fit": "62", "cannot tell": "104"}


def test_without_a_bearing_there_is_no_rose(land: Land) -> None:
    land.area("wood", WOOD)
    land.parts = [TABLE, {"name": "whip", "role": "antenna", "length": "5 m"}]
    found = solved(land)
    assert rose_figure(found["bearings"]) == ""
    assert "No part has a bearing: each is taken by its full circle, so every bearing is the same." in placement_text(
        found
    )


def test_a_plan_without_antenna_says_so(land: Land) -> None:
    land.area("wood", WOOD)
    land.parts = [TABLE]
    found = solved(land)
    assert (found["outcome"], found["sets"], found["claims"][0]["area_as_laid_m2"]) == ("cannot tell", [], None)
    text = placement_text(found)
    assert "Whether the claim counts anywhere here cannot be told." in text
    assert "the plan has no antenna: add a part with `role: antenna` and where it lies" in text
    assert "cannot be told" in placement_html(found)


def test_magnetic_bearings_of_a_plan_are_told_as_true_ones(land: Land) -> None:
    land.area("wood", WOOD)
    plan = json.loads(land.plan().read_text(encoding="utf-8"))
    plan["station"]["bearings"] = "magnetic"
    land.plan = lambda **more: _written(land, plan)  # type: ignore[method-assign]
    found = solved(land)
    (wire,) = [part for part in found["nearest"]["parts"] if part["part"] == "wire"]
    assert (wire["bearing_deg"], wire["compass_deg"]) in ((44, 40), (45, 40))


def _written(land: Land, plan: dict[str, Any]) -> Path:
    path = land.folder / "trip.yaml"
    path.write_text(json.dumps(plan), encoding="utf-8")
    return path


def test_the_same_plan_gives_the_same_answer(land: Land) -> None:
    land.area("wood", WOOD)
    assert json.dumps(solution(land.search())) == json.dumps(solution(land.search()))
