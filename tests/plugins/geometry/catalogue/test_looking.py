"""What is found near a place: all of it, in order, wherever on the Earth."""

from __future__ import annotations

import random
from math import cos, hypot, pi, radians, sin
from pathlib import Path

import pytest
from geographiclib.geodesic import Geodesic

from afield.plugins.geometry.catalogue.looking import Found, references_near
from afield.plugins.geometry.catalogue.opening import opened

from .conftest import Made, collection, feature, square
from .test_measuring import spot


def near(tmp_path: Path, lat: float, lon: float, within_m: float = 5000) -> list[Found]:
    with opened(tmp_path / "refs.sqlite", "refs.sqlite") as connection:
        return references_near(connection, lat, lon, within_m)


@pytest.mark.parametrize("centre", [(39.9, -117.3), (0.0, 180.0), (66.0, -179.999), (-89.99, 10.0), (90.0, 0.0)])
def test_points_are_found_as_by_measuring_every_one(made: Made, tmp_path: Path, centre: tuple[float, float]) -> None:
    chance = random.Random(4)
    spots = [spot(centre, *(chance.uniform(-9000, 9000) for _ in "en")) for _ in range(200)]
    made({"points.geojson": collection([feature(f"p{k}", "Point", [lon, lat]) for k, (lat, lon) in enumerate(spots)])})
    found = near(tmp_path, *centre)
    apart = {f"p{k}": Geodesic.WGS84.Inverse(*centre, *each)["s12"] for k, each in enumerate(spots)}
    wanted = sorted((name for name in apart if apart[name] <= 5000), key=lambda name: apart[name])
    assert [each.name for each in found] == wanted
    assert 30 < len(wanted) < 120
    assert [each.nearest.distance_m for each in found] == pytest.approx([apart[name] for name in wanted], abs=0.002)


def test_areas_that_hold_the_place_come_first_the_deepest_first(made: Made, tmp_path: Path) -> None:
    shapes = [
        feature("beside", "Polygon", [square(-117.25, 39.9, 0.01)]),
        feature("tight", "Polygon", [square(-117.3, 39.9, 0.001)]),
        feature("wide", "Polygon", [square(-117.3, 39.9, 1.0)]),
        feature("around", "Polygon", [square(-117.3, 39.9, 0.03), square(-117.3, 39.9, 0.02)]),
        feature("far", "Polygon", [square(-116.3, 39.9, 0.01)]),
    ]
    made({"areas.geojson": collection(shapes)})
    found = near(tmp_path, 39.9, -117.3)
    assert [(each.name, each.inside) for each in found] == [
        ("wide", True),
        ("tight", True),
        ("around", False),
        ("beside", False),
    ]


def test_an_area_across_180_degrees_is_found_from_both_sides(made: Made, tmp_path: Path) -> None:
    ring = [[179.9, -17.0], [-179.9, -17.0], [-179.9, -16.9], [179.9, -16.9], [179.9, -17.0]]
    made({"areas.geojson": collection([feature("across", "Polygon", [ring])])})
    for lon in (179.95, 180.0, -180.0, -179.95):
        (found,) = near(tmp_path, -16.95, lon)
        assert found.inside
    for lon in (179.88, -179.88):
        (found,) = near(tmp_path, -16.95, lon)
        assert not found.inside
        assert found.nearest.distance_m == pytest.approx(0.02 * 111_320 * cos(radians(16.95)), rel=0.002)


@pytest.mark.parametrize("cut", [[180.0, -180.0], [179.9999999, -179.9999999]])
def test_a_cut_at_180_degrees_is_no_boundary(made: Made, tmp_path: Path, cut: list[float]) -> None:
    west = [[179.9, -17.0], [cut[0], -17.0], [cut[0], -16.9], [179.9, -16.9], [179.9, -17.0]]
    east = [[cut[1], -17.0], [-179.9, -17.0], [-179.9, -16.9], [cut[1], -16.9], [cut[1], -17.0]]
    made({"areas.geojson": collection([feature("across", "MultiPolygon", [[west], [east]])])})
    (found,) = near(tmp_path, -16.95, 179.9995)
    assert found.inside
    if cut[0] == 180.0:
        assert found.nearest.distance_m == pytest.approx(0.05 * 110_660, rel=0.001)


@pytest.mark.parametrize(("lat", "inside"), [(89.0, True), (80.5, True), (79.98, False)])
def test_an_area_around_a_pole(made: Made, tmp_path: Path, lat: float, inside: bool) -> None:
    ring = [[float(lon), 80.0] for lon in range(-180, 181, 10)]
    made({"areas.geojson": collection([feature("cap", "Polygon", [ring])])})
    (found,) = near(tmp_path, lat, 77.7)
    assert found.inside is inside


def test_a_crossing_ring_is_repaired_as_for_a_plan(made: Made, tmp_path: Path) -> None:
    bow = [[-117.3, 39.9], [-117.2, 40.0], [-117.2, 39.9], [-117.3, 40.0], [-117.3, 39.9]]
    made({"areas.geojson": collection([feature("bow", "Polygon", [bow])])})
    assert [near(tmp_path, 39.95, lon)[0].inside for lon in (-117.29, -117.21)] == [True, True]
    assert not near(tmp_path, 39.99, -117.25)[0].inside


def test_a_collapsed_ring_holds_no_place_but_is_measured(made: Made, tmp_path: Path) -> None:
    flat = [[-117.3, 39.9], [-117.2, 39.9], [-117.25, 39.9], [-117.3, 39.9]]
    made({"areas.geojson": collection([feature("flat", "Polygon", [flat])])})
    (found,) = near(tmp_path, 39.91, -117.25)
    assert found.inside is False
    assert found.nearest.distance_m == pytest.approx(0.01 * 111_030, rel=0.001)


def test_a_line_is_found_by_its_middle_and_measured_where_it_is_nearest(made: Made, tmp_path: Path) -> None:
    bends = [[-117.3 + 0.001 * k, 39.9 + 0.01 * sin(k / 9)] for k in range(300)]
    made({"lines.geojson": collection([feature("trail", "LineString", bends)])})
    here = (39.905, -117.15)
    (found,) = near(tmp_path, *here)
    by_vertex = min(Geodesic.WGS84.Inverse(*here, lat, lon)["s12"] for lon, lat in bends)
    assert found.inside is None
    assert by_vertex - 90 < found.nearest.distance_m <= by_vertex
    assert hypot(found.nearest.east_m, found.nearest.north_m) == pytest.approx(found.nearest.distance_m)


def test_a_long_geodesic_edge_is_found_where_it_bulges(made: Made, tmp_path: Path) -> None:
    gpx = '<gpx version="1.1"><rte><name>crossing</name><rtept lat="60" lon="0"/><rtept lat="60" lon="6"/></rte></gpx>'
    made({"route.gpx": gpx})
    line = Geodesic.WGS84.InverseLine(60, 0, 60, 6)
    middle = line.Position(line.s13 / 2)
    assert middle["lat2"] > 60.03
    (found,) = near(tmp_path, middle["lat2"], middle["lon2"], 1000)
    assert found.nearest.distance_m < 0.01


def test_what_is_asked_is_within_the_distance(made: Made, tmp_path: Path) -> None:
    ring = [spot((39.9, -117.3), 1000 * sin(2 * pi * k / 90), 1000 * cos(2 * pi * k / 90)) for k in range(90)]
    made({"points.geojson": collection([feature(f"p{k}", "Point", [lon, lat]) for k, (lat, lon) in enumerate(ring)])})
    assert len(near(tmp_path, 39.9, -117.3, 1000.01)) == 90
    assert not near(tmp_path, 39.9, -117.3, 999.99)
