"""The quick measures against the full method, and against geodesics that no plane stands for."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, log10, pi, sin
from typing import Any

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.catalogue.drawing import Drawn, drawn_shapes
from afield.plugins.geometry.catalogue.exact import HERE
from afield.plugins.geometry.catalogue.measuring import Nearest, Place, edge_doubt_m, is_inside, nearest_of
from afield.plugins.geometry.catalogue.packing import Chain, unpacked
from afield.plugins.geometry.catalogue.soundness import plain_areas
from afield.plugins.geometry.computations import edges
from afield.plugins.geometry.computations.areas import area_around, least_inside
from afield.plugins.geometry.computations.lines import farthest_from_line, line_around
from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.computations.tangent import local_plane
from afield.plugins.geometry.readers import Feature

EARTH = Geodesic.WGS84
Point = tuple[float, float]
CENTIMETRE = 0.01

latitudes = st.one_of(st.floats(-87.9, 87.9), st.floats(35, 60))
longitudes = st.one_of(st.floats(-180, 180), st.sampled_from([180.0, -180.0, 179.9995, -179.99]))
fractions = st.floats(0, 1)


def spot(centre: Point, east_m: float, north_m: float) -> Point:
    """A place by the direct geodesic, its longitude within -180 to 180."""
    found = EARTH.Direct(*centre, degrees(atan2(east_m, north_m)), hypot(east_m, north_m))
    return found["lat2"], (found["lon2"] + 180) % 360 - 180


@st.composite
def stars(draw: Any, most_m: float) -> tuple[Point, float, list[list[list[Point]]]]:
    """A centre, a size, and one or two star polygons around it, some with a hole."""
    centre = draw(latitudes), draw(longitudes)
    size = 10 ** draw(st.floats(1.5, log10(most_m)))
    count = draw(st.integers(3, 12))
    areas = []
    for number in range(draw(st.sampled_from([1, 1, 2]))):
        radii = draw(st.lists(st.floats(0.35, 1), min_size=count, max_size=count))
        turned = draw(fractions)
        corners = [(2 * pi * (k + turned) / count, size * radius) for k, radius in enumerate(radii)]
        rings = [[(2.5 * number * size + far * sin(turn), far * cos(turn)) for turn, far in corners]]
        if draw(st.booleans()):
            rings.append([(2.5 * number * size + 0.1 * size * sin(turn), 0.1 * size * cos(turn)) for turn in (0, 2, 4)])
        areas.append([[spot(centre, *corner) for corner in [*ring, ring[0]]] for ring in rings])
    return centre, size, areas


@st.composite
def places(draw: Any, areas: list[list[list[Point]]], centre: Point, size: float) -> Point:
    """A place near a corner, or anywhere about."""
    corner = draw(st.sampled_from(areas[0][0]))
    far = 10 ** draw(st.floats(-1.5, log10(min(1.5 * size, 45_000))))
    turn = draw(st.floats(0, 2 * pi))
    return spot(draw(st.sampled_from([corner, centre])), far * sin(turn), far * cos(turn))


def shapes_of(feature: Feature, edge_model: str) -> list[Drawn]:
    return drawn_shapes([feature], edge_model)[0]


def chains_of(shapes: list[Drawn]) -> list[list[Chain]]:
    """The shapes as they are read from a catalogue."""
    return [unpacked(*drawn.columns()) for drawn in shapes]


def quickly(shapes: list[Drawn], place: Place, edge_model: str) -> tuple[bool, Nearest]:
    polygons = chains_of(shapes)
    inside = any(is_inside(rings, place, edge_model) for rings in polygons)
    rings = [ring for polygon in polygons for ring in polygon]
    return inside, nearest_of(rings, place, edge_model, max(drawn.doubt_m for drawn in shapes))


@settings(max_examples=150, deadline=None)
@given(data=st.data(), edge_model=st.sampled_from(["lonlat", "geodesic"]))
def test_areas_are_measured_as_by_the_full_method(data: st.DataObject, edge_model: str) -> None:
    centre, size, areas = data.draw(stars(60_000 if edge_model == "lonlat" else 4_000))
    here = data.draw(places(areas, centre, size))
    shapes = shapes_of(Feature(None, "", "area", areas=areas), edge_model)
    if not plain_areas([shapes])[0]:
        return  # the full method itself will be asked
    inside, nearest = quickly(shapes, Place(*here), edge_model)
    worst = least_inside(HERE, area_around(areas, plane_at(*here), 1.0, edge_model))
    if abs(worst.value_m) > 50_000:
        return
    signed = nearest.distance_m if inside else -nearest.distance_m
    assert abs(signed - worst.value_m) < CENTIMETRE
    # What the full method leaves out of a doubt, as pieces that lie behind others, may be in it here: never less.
    assert nearest.doubt_m > worst.edge_doubt_m - CENTIMETRE


def test_most_areas_of_that_kind_are_plain() -> None:
    # Otherwise the test above would compare the full method with nothing.
    ring = [spot((47.0, 179.999), 900 * sin(k), 900 * cos(k)) for k in range(6)]
    hole = [spot((47.0, 179.999), 90 * sin(k), 90 * cos(k)) for k in range(3)]
    areas = [[[*ring, ring[0]], [*hole, hole[0]]]]
    assert plain_areas(
        [shapes_of(Feature(None, "", "area", areas=areas), model) for model in ("lonlat", "geodesic")]
    ) == [True, True]


@settings(max_examples=100, deadline=None)
@given(
    centre=st.tuples(latitudes, longitudes),
    size=st.floats(1.5, 4.7),
    edge_model=st.sampled_from(["lonlat", "geodesic"]),
    corners=st.lists(st.tuples(st.floats(-1, 1), st.floats(-1, 1)), min_size=2, max_size=9),
    at=st.tuples(fractions, fractions),
)
def test_lines_are_measured_as_by_the_full_method(
    centre: Point, size: float, edge_model: str, corners: list[Point], at: Point
) -> None:
    metres = 10**size if edge_model == "lonlat" else min(10**size, 3_000)
    line = [spot(centre, metres * east, metres * north) for east, north in corners]
    shapes = shapes_of(Feature(None, "", "line", lines=[line]), edge_model)
    if not all(drawn.plain for drawn in shapes):
        return
    here = spot(centre, metres * at[0], metres * at[1])
    pieces = [chain for chains in chains_of(shapes) for chain in chains]
    nearest = nearest_of(pieces, Place(*here), edge_model, max(drawn.doubt_m for drawn in shapes))
    worst = farthest_from_line(HERE, line_around([line], plane_at(*here), 1.0, edge_model))
    if worst.value_m < 50_000:
        assert abs(nearest.distance_m - worst.value_m) < CENTIMETRE


@pytest.mark.parametrize(("model", "distance_m"), [("lonlat", 0.0), ("geodesic", 12.0)])
def test_the_edge_model_decides_where_a_long_edge_runs(model: str, distance_m: float) -> None:
    # Halfway between two places of one latitude: on the parallel, or south of the geodesic by its sagitta.
    west, east = (60.0, 24.0), (60.0, 24.17)
    chain = Chain([west[0], east[0]], [west[1], east[1]])
    middle = (60.0, 24.085)
    halfway = EARTH.InverseLine(*west, *east).Position(EARTH.Inverse(*west, *east)["s12"] / 2)
    sagitta = EARTH.Inverse(*middle, halfway["lat2"], halfway["lon2"])["s12"]
    found = nearest_of([chain], Place(*middle), model, 20.0).distance_m
    assert found == pytest.approx(sagitta if distance_m else 0.0, abs=0.002)
    assert 2.5 < sagitta < 3.5


def test_a_ring_around_a_pole_has_a_box_up_to_it() -> None:
    ring = [(89.9, float(lon)) for lon in range(-180, 181, 30)]
    (drawn,) = shapes_of(Feature(None, "", "area", areas=[[ring]]), "lonlat")
    assert not drawn.plain
    assert drawn.boxes() == [(-180.0, 180.0, 89.9, 90.0)]


@settings(max_examples=200, deadline=None)
@given(centre=st.tuples(st.floats(-90, 90), longitudes), turn=st.floats(0, 2 * pi), far=st.floats(0, 50_000))
def test_the_plane_keeps_distances_along_the_ground(centre: Point, turn: float, far: float) -> None:
    lat, lon = spot(centre, far * sin(turn), far * cos(turn))
    assert hypot(*local_plane(*centre)(lat, lon)) == pytest.approx(far, abs=0.005)


@settings(max_examples=200, deadline=None)
@given(
    place=st.tuples(st.floats(-90, 90), st.floats(-180, 180)),
    south=st.floats(-90, 90),
    high=st.floats(0, 20),
    west=st.floats(-180, 180),
    wide=st.floats(0, 20),
    share=st.tuples(fractions, fractions),
)
def test_no_point_of_a_box_is_nearer_than_its_bound(
    place: Point, south: float, high: float, west: float, wide: float, share: Point
) -> None:
    north = min(south + high, 90.0)
    lat, lon = south + share[0] * (north - south), west + share[1] * wide
    least = Place(*place).least_m(south, north, west, west + wide)
    assert least <= EARTH.Inverse(*place, lat, place[1] + lon)["s12"] + 1e-6


@given(lat=st.floats(-80, 80), east=st.floats(-0.1, 0.1), north=st.floats(-0.1, 0.1))
def test_the_doubt_of_an_edge_is_that_of_the_full_method(lat: float, east: float, north: float) -> None:
    line = [(lat, 10.0), (lat + north, 10.0 + east)]
    if line[0] == line[1]:
        return
    laid = edges.planar_edges([line], plane_at(lat, 10.0), 1.0)
    assert edge_doubt_m((*line[0], 0, 0), (*line[1], 0, 0)) == pytest.approx(float(laid.doubt_m[0]), rel=1e-6, abs=1e-9)


NOT_PLAIN = {
    "crossing": [[[(47.0, 11.0), (47.1, 11.1), (47.1, 11.0), (47.0, 11.1), (47.0, 11.0)]]],
    "spur": [
        [
            [
                (47.0, 11.0),
                (47.0, 11.1),
                (47.05, 11.1),
                (47.05, 11.3),
                (47.05, 11.1),
                (47.1, 11.1),
                (47.1, 11.0),
                (47.0, 11.0),
            ]
        ]
    ],
    "around a pole": [[[(80.0, float(lon)) for lon in range(-180, 181, 30)]]],
    "cut at 180 degrees": [
        [[(10.0, 179.0), (10.0, 180.0), (11.0, 180.0), (11.0, 179.0), (10.0, 179.0)]],
        [[(10.0, -180.0), (10.0, -179.0), (11.0, -179.0), (11.0, -180.0), (10.0, -180.0)]],
    ],
    "overlapping": [
        [[(47.0, 11.0), (47.0, 11.2), (47.2, 11.1), (47.0, 11.0)]],
        [[(47.0, 11.1), (47.0, 11.3), (47.2, 11.2), (47.0, 11.1)]],
    ],
    "a hole that touches along an edge": [
        [
            [(47.0, 11.0), (47.0, 11.2), (47.2, 11.2), (47.2, 11.0), (47.0, 11.0)],
            [(47.0, 11.1), (47.0, 11.2), (47.1, 11.15), (47.0, 11.1)],
        ]
    ],
}


@pytest.mark.parametrize("areas", NOT_PLAIN.values(), ids=NOT_PLAIN)
def test_what_needs_repair_or_joining_is_left_to_the_full_method(areas: list[list[list[Point]]]) -> None:
    assert plain_areas([shapes_of(Feature(None, "", "area", areas=areas), "lonlat")]) == [False]


def test_long_geodesic_edges_are_left_to_the_full_method() -> None:
    line = Feature(None, "", "line", lines=[[(47.0, 11.0), (47.2, 11.0)]])
    assert [drawn.plain for model in ("geodesic", "lonlat") for drawn in shapes_of(line, model)] == [False, True]
