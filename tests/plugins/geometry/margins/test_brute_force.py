"""Margins against geodesics walked point by point: no plane, no bound, nothing shared with the code under test."""

from math import hypot

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.computations.areas import area_around, least_inside
from afield.plugins.geometry.computations.footprints import point_part, radials_part, reach_m, segment_part
from afield.plugins.geometry.computations.lines import farthest_from_line, line_around
from afield.plugins.geometry.computations.plane import plane_at

LIMITED = settings(
    max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
centres = st.tuples(st.sampled_from([0.0, 39.9, -47.3, 65.0, 80.0, -86.0]), st.sampled_from([11.5, 179.9999, -180.0]))
sizes = st.sampled_from([40.0, 90.0, 2000.0, 20_000.0])
models = st.sampled_from(["lonlat", "geodesic"])
metres = st.floats(-1.0, 1.0)
offsets = st.tuples(metres, metres)


def station(tip):
    return [
        point_part("table", (0, 0)),
        segment_part("wire", (1, 1), (25 * tip[0], 25 * tip[1])),
        radials_part("radials", (2, 0), 8, [10, 130, 250]),
    ]


def footprint_points(parts, along):
    return [point for part in parts for ends in part.shape.ends for point in along(*ends, 5)]


@LIMITED
@given(centres, sizes, models, st.lists(offsets, min_size=2, max_size=5), offsets)
def test_distance_from_a_line(yardstick, along, centre, size, model, bends, tip):
    vertices = [yardstick.spot(centre, size * east, size * north) for east, north in bends]
    parts = station(tip)

    worst = farthest_from_line(parts, line_around([vertices], plane_at(*centre), reach_m(parts), model))

    there = yardstick.spot(centre, *worst.point_m)
    assert worst.value_m == pytest.approx(yardstick.from_lines_m(there, [vertices], model), abs=0.002)
    for point in footprint_points(parts, along)[::3]:
        assert yardstick.from_lines_m(yardstick.spot(centre, *point), [vertices], model) < worst.value_m + 0.002


@LIMITED
@given(centres, sizes, st.lists(st.floats(0.2, 1.0), min_size=4, max_size=6), offsets, offsets)
def test_margin_inside_an_area(yardstick, along, centre, size, spokes, middle, tip):
    turns = np.linspace(0, 2 * np.pi, len(spokes) + 1)[:-1]
    ring_m = [
        (r * np.sin(a) + 0.5 * middle[0], r * np.cos(a) + 0.5 * middle[1]) for r, a in zip(spokes, turns, strict=True)
    ]
    ring = [yardstick.spot(centre, size * east, size * north) for east, north in [*ring_m, ring_m[0]]]
    parts = station(tip)

    worst = least_inside(parts, area_around([[ring]], plane_at(*centre), reach_m(parts)))

    def signed(point):
        distance = yardstick.from_lines_m(point, [ring])
        return distance if yardstick.is_inside(point, [ring]) else -distance

    assert worst.value_m == pytest.approx(signed(yardstick.spot(centre, *worst.point_m)), abs=0.003)
    for point in footprint_points(parts, along)[::3]:
        assert signed(yardstick.spot(centre, *point)) > worst.value_m - 0.003
    assert hypot(*worst.direction) == pytest.approx(1)
