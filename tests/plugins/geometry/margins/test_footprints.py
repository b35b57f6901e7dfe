import numpy as np
import pytest
import shapely

from afield.plugins.geometry.computations.cells import Corners, Sector
from afield.plugins.geometry.computations.footprints import (
    circle_part,
    offset_m,
    path_part,
    point_part,
    polygon_part,
    radials_part,
    reach_m,
    segment_part,
    shifted,
)

CORNER = [(0, 0), (10, 2), (20, 0), (12, 8), (15, 20), (5, 9)]
PARTS = {
    "table": (point_part("table", (3, 4)), 5.0),
    "wire": (segment_part("wire", (0, 1), (0, 21)), 21.0),
    "dog leg": (path_part("dog leg", [(0, 0), (9, 0), (9, 12)]), 15.0),
    "radials": (radials_part("radials", (0, 3), 7, [0, 120, 240]), 10.0),
    "circle": (circle_part("circle", (3, 4), 20, 1), 25.0),
    "awning": (polygon_part("awning", CORNER), 25.0),
}


@pytest.mark.parametrize("name", PARTS)
def test_reach_is_to_the_farthest_point_and_moves_with_the_station(name):
    part, reach = PARTS[name]

    assert part.name == name
    assert reach_m([part]) == pytest.approx(reach)
    moved = shifted([part], 100.0, -50.0)[0].shape.outline()
    back = shapely.transform(moved, lambda at: at - [100.0, -50.0])
    assert back.equals_exact(part.shape.outline(), 1e-9)


@pytest.mark.parametrize("name", PARTS)
def test_cells_cover_the_part_and_their_samples_belong_to_it(name):
    part, _ = PARTS[name]
    cells = part.shape.cells()
    outline = part.shape.outline()

    hulls = shapely.union_all([shapely.MultiPoint(cell.hull).convex_hull for cell in cells])
    samples = shapely.points(np.concatenate([cell.samples for cell in cells]))

    assert hulls.buffer(1e-6).covers(outline)
    assert shapely.distance(samples, outline).max() <= 20 * (1 - np.cos(np.pi / 64)) + 1e-9  # arcs are drawn as chords


def test_reach_of_no_part_is_nothing():
    assert reach_m([]) == 0


def test_offsets_count_bearings_from_north_clockwise():
    assert offset_m(0, 5) == pytest.approx((0, 5))
    assert offset_m(90, 5) == pytest.approx((5, 0))
    assert offset_m(225, 2**0.5) == pytest.approx((-1, -1))


@pytest.mark.parametrize(
    "cell",
    [
        Corners(np.array([[0.0, 0.0], [4.0, 1.0]])),
        Corners(np.array([[0.0, 0.0], [4.0, 1.0], [1.0, 9.0]])),
        Sector((1.0, 2.0), 3.0, 9.0, 0.2, 0.9),
        Sector((1.0, 2.0), 8.9, 9.0, 0.2, 1.9),
        Sector((0.0, 0.0), 0.0, 9.0, 0.0, 0.1),
    ],
)
def test_halves_cover_the_cell_and_are_smaller(cell):
    halves = cell.halves()
    for deeper in (halves, [half for each in halves for half in each.halves()]):
        hull = shapely.union_all([shapely.MultiPoint(each.hull).convex_hull for each in deeper]).buffer(1e-9)
        assert shapely.covers(hull, shapely.points(cell.samples)).all()
        assert max(each.radius_m for each in deeper) < cell.radius_m


def test_a_point_has_no_halves():
    assert Corners(np.array([[1.0, 2.0]])).halves() == ()


def test_a_part_without_a_bearing_has_the_ring_between_its_distances():
    part = circle_part("wire", (0, 0), 21, 1)

    assert part.shape.outline().area == pytest.approx(np.pi * (21**2 - 1), rel=0.002)
    assert circle_part("mast", (1, 2), 0, 0).shape.cells()[0].hull.tolist() == [[1, 2]]


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: polygon_part("awning", [(0, 0), (1, 1), (1, 0), (0, 1)]),
         "the outline of 'awning' encloses nothing or crosses itself: list its corners in order"),
        (lambda: polygon_part("awning", [(0, 0), (1, 1)]),
         "the outline of 'awning' encloses nothing or crosses itself: list its corners in order"),
        (lambda: path_part("wire", []), "'wire' needs points of [east, north] in metres, all finite"),
        (lambda: point_part("table", (0, float("nan"))), "'table' needs points of [east, north] in metres, all finite"),
        (lambda: circle_part("wire", (0, 0), 1, -2), "'wire' has a length of -2 m: it must be a number, 0 or more"),
        (lambda: radials_part("radials", (0, 0), float("inf"), [0]),
         "'radials' has a length of inf m: it must be a number, 0 or more"),
        (lambda: radials_part("radials", (0, 0), 5, []),
         "'radials' needs points of [east, north] in metres, all finite"),
    ],
)  # fmt: skip
def test_a_part_without_a_shape_is_refused(make, message):
    with pytest.raises(ValueError) as problem:
        make()
    assert str(problem.value) == message
