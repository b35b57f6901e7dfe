from math import radians, tan

import numpy as np
import pytest

from afield.plugins.geometry.computations.bisection import SAG_M
from afield.plugins.geometry.computations.edges import edge_doubt_m, planar_edges
from afield.plugins.geometry.computations.lines import point_to_polyline_distance
from afield.plugins.geometry.computations.plane import plane_at

RADIUS_M = 6371008.8


def parallel_edge(lat_deg, length_m):
    half = np.degrees(length_m / 2 / (RADIUS_M * np.cos(np.radians(lat_deg))))
    return [(lat_deg, -half), (lat_deg, half)]


@pytest.mark.parametrize("edge_model", ["lonlat", "geodesic"])
@pytest.mark.parametrize("lat_deg", [10.0, 65.0, 80.0])
@pytest.mark.parametrize("off_m", [30.48, 1000.0, 10_000.0])
def test_a_50_km_edge_is_where_its_model_says(edge_model, lat_deg, off_m, yardstick):
    edge = parallel_edge(lat_deg, 50_000)
    station = yardstick.spot((lat_deg, 0.07), 0.0, off_m)

    found = point_to_polyline_distance(*station, [edge], edge_model)

    assert found == pytest.approx(yardstick.from_lines_m(station, [edge], edge_model), abs=0.002)


@pytest.mark.parametrize("lat_deg", [10.0, 45.0, 65.0])
def test_the_models_part_by_the_sag_of_the_formula(lat_deg):
    edge = parallel_edge(lat_deg, 50_000)
    middle = (lat_deg, 0.0)

    on_parallel = point_to_polyline_distance(*middle, [edge], "lonlat")
    off_geodesic = point_to_polyline_distance(*middle, [edge], "geodesic")

    assert on_parallel < 0.001
    assert off_geodesic == pytest.approx(edge_doubt_m(50_000, lat_deg), rel=0.02)
    assert point_to_polyline_distance(*middle, [edge], "rhumb") < 0.001


def test_a_rhumb_line_keeps_its_bearing_and_lies_between_the_other_two():
    edge = [(59.5, 0.0), (60.5, 2.0)]
    middle = (60.0, 1.0)
    apart = [point_to_polyline_distance(*middle, [edge], model) for model in ("lonlat", "rhumb", "geodesic")]

    assert apart[0] < 0.001 < apart[1] < apart[2]


def test_a_long_edge_is_cut_only_near_the_station():
    edge = parallel_edge(60.0, 3_000_000)
    station = plane_at(60.0003, 0.0)

    edges = planar_edges([edge], station, 25.0)

    assert 20 < len(edges.start) < 400
    assert (edges.start[1:] == edges.end[:-1]).all()
    near = np.hypot(*edges.start.T) < edges.precise_m
    assert near.any() and np.hypot(*(edges.end - edges.start)[near].T).max() < 400


def test_chords_near_the_station_leave_their_curve_by_less_than_a_millimetre(yardstick):
    edge = parallel_edge(65.0, 50_000)
    plane = plane_at(65.0, 0.01)
    edges = planar_edges([edge], plane, 30.0)
    near = np.hypot(*edges.start.T) < edges.precise_m

    lat, _ = plane.to_lat_lon(*((edges.start + edges.end)[near].T / 2))

    assert np.abs(lat - 65.0).max() * 111_500 < 2 * SAG_M


@pytest.mark.parametrize(
    ("length_m", "lat_deg", "table_m"),
    [(1000, 30, 0.011), (5000, 45, 0.49), (10_000, 60, 3.4), (100_000, 70, 537), (1000, 80, 0.11)],
)
def test_edge_doubt_against_measured_separations(length_m, lat_deg, table_m):
    assert edge_doubt_m(length_m, lat_deg) == pytest.approx(table_m, rel=0.03)
    assert edge_doubt_m(length_m, -lat_deg, 90) == pytest.approx(1.06 * edge_doubt_m(length_m, lat_deg))
    assert edge_doubt_m(length_m, lat_deg, 0) == 0


def test_edge_doubt_at_the_pole_is_half_the_length():
    assert edge_doubt_m(1000, 90) == 500
    assert edge_doubt_m(1000, 89.999999) == 500
    assert edge_doubt_m(1000, 0) == 0


@pytest.mark.parametrize(("length_m", "lat_deg"), [(-1, 0), (1, 90.1)])
def test_edge_doubt_refuses_what_is_no_edge(length_m, lat_deg):
    with pytest.raises(ValueError) as problem:
        edge_doubt_m(length_m, lat_deg)
    assert str(problem.value) == "an edge's length is at least 0 m and its latitude within -90 to 90 degrees"


def test_pieces_know_their_line_their_edge_and_its_doubt():
    lines = [[(60.0, 0.0), (60.0, 0.1), (60.01, 0.1)], [(60.1, 0.0)], [], [(61.0, 0.0), (61.0, 0.2)]]

    edges = planar_edges(lines, plane_at(60.0, 0.05), 20.0)

    assert set(edges.line.tolist()) == {0, 3}
    assert edges.source.max() == 2
    assert edges.doubt_m[0] == pytest.approx(1.06 * 5566**2 * tan(radians(60)) / (8 * RADIUS_M), rel=0.01)
    assert edges.doubt_m[edges.source == 1].max() < 1e-6
    assert len(edges.vertices(3)) == (edges.line == 3).sum() + 1


@pytest.mark.parametrize(
    ("lines", "edge_model", "message"),
    [
        ([[(1, 2)]], "lonlat", "there is no edge: a line needs at least two points"),
        ([], "lonlat", "there is no edge: a line needs at least two points"),
        ([[(1, 2), (1, 3)]], "straight", "edge model 'straight' does not exist: use one of lonlat, geodesic, rhumb"),
        ([[(91, 2), (1, 3)]], "lonlat", "a vertex is not on the Earth: latitudes lie within -90 to 90 degrees"),
        ([[1, 2, 3]], "lonlat", "a line is a list of [latitude, longitude]"),
    ],
)
def test_lines_that_cannot_be_laid_out_are_refused(lines, edge_model, message):
    with pytest.raises(ValueError) as problem:
        planar_edges(lines, plane_at(1, 2), 10.0, edge_model)
    assert str(problem.value) == message
