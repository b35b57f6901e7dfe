import numpy as np
import pytest
import shapely

from afield.plugins.geometry.computations.repair import (
    cleaned_polygons,
    closed_up,
    polygon_parts,
    polygon_validity,
    repaired,
    without_spurs,
)

SQUARE = [(50.0, 10.0), (50.0, 10.01), (50.01, 10.01), (50.01, 10.0), (50.0, 10.0)]


@pytest.mark.parametrize(
    ("ring", "found"),
    [
        (SQUARE, (True, 5, "")),
        (SQUARE[:-1], (False, 4, "not closed")),
        ([(41.9, 12.45), (41.91, 12.45), (41.9, 12.45)], (False, 3, "3 points enclose nothing")),
        ([], (False, 0, "0 points enclose nothing")),
        ([(50, 10)] * 5, (False, 5, "all points are the same")),
        ([SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3], SQUARE[0]], (False, 5, "self-intersection")),
        ([(0, 179), (0, -179), (1, -179), (1, 179), (0, 179)], (True, 5, "")),
        ([(0, 179), (0, -179), (1, 179), (1, -179), (0, 179)], (False, 5, "self-intersection")),
        ([(80, 0), (80, 120), (80, -120), (80, 360)], (True, 4, "")),
    ],
)
def test_validity_of_a_ring_also_across_180_degrees_and_around_a_pole(ring, found):
    assert polygon_validity(ring) == found


@pytest.mark.parametrize(
    ("ring", "message"),
    [
        ([1, 2, 3], "a ring is a list of [latitude, longitude]"),
        ([(95, 0), (1, 1), (2, 2), (95, 0)],
         "a ring's point is not on the Earth: latitudes lie within -90 to 90 degrees"),
    ],
)  # fmt: skip
def test_what_is_no_ring_is_refused(ring, message):
    with pytest.raises(ValueError) as problem:
        polygon_validity(ring)
    assert str(problem.value) == message


def test_cleaning_changes_only_what_is_wrong_and_says_each_thing():
    doubled = [SQUARE[0], *SQUARE]
    hole = [(50.002, 10.002), (50.004, 10.002), (50.004, 10.004)]

    kept, notes = cleaned_polygons([[SQUARE], [doubled, hole, [], [(1, 1), (2, 2), (1, 1)]]])

    assert [[len(ring) for ring in rings] for rings in kept] == [[5], [5, 4]]
    assert (kept[0][0] == np.array(SQUARE)).all() and (kept[1][0] == np.array(SQUARE)).all()
    assert notes == (
        "ring 1 of polygon 2 repeats 1 of its points: left out",
        "ring 2 of polygon 2 is not closed: its last point is joined to its first",
        "ring 3 of polygon 2 has 0 points and encloses nothing: left out",
        "ring 4 of polygon 2 has 3 points and encloses nothing: left out",
    )


def test_a_polygon_that_loses_its_outer_ring_loses_its_holes_and_says_so():
    kept, notes = cleaned_polygons([[[(1, 1), (2, 2), (1, 1)], SQUARE]])

    assert kept == []
    assert notes == (
        "ring 1 of polygon 1 has 3 points and encloses nothing: left out",
        "polygon 1 has lost its outer ring: its holes are left out too",
    )


def test_a_ring_that_crosses_itself_is_told_with_its_place_also_beyond_180_degrees():
    tie = [(0.0, 179.0), (1.0, -179.0), (0.0, -179.0), (1.0, 179.0), (0.0, 179.0)]

    _, notes = cleaned_polygons([[tie]])

    assert notes == (
        "polygon 1 is not simple (self-intersection at 0.500000, -180.000000): repaired",
        "polygon 1 has an edge across 180 degrees of longitude or more: taken the short way round",
    )


def test_a_ring_around_a_pole_or_closed_a_full_turn_later_is_no_fault():
    around = [(-80.0, lon) for lon in range(-180, 181, 30)]
    cut = [*around, (-90.0, 180.0), (-90.0, -180.0), (-80.0, -180.0)]

    assert cleaned_polygons([[around]])[1] == ()
    assert cleaned_polygons([[cut]])[1] == ()


def test_a_bow_tie_keeps_both_wings():
    tie = shapely.Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])

    assert repaired(tie).area == pytest.approx(50)
    assert repaired(shapely.box(0, 0, 1, 1)) == shapely.box(0, 0, 1, 1)


def test_closing_and_opening_leave_corners_where_they_are():
    shape = shapely.Polygon([(0, 0), (100, 0), (100, 100), (60, 12), (50, 100), (0, 100)])  # corners down to 23 degrees

    for done in (closed_up(shape), without_spurs(shape)):
        assert shapely.hausdorff_distance(done, shape) < 1e-6
        assert done.area == pytest.approx(shape.area, abs=1e-4)


def test_closing_heals_a_cut_and_opening_takes_a_neck():
    halves = shapely.union(shapely.box(0, 0, 9.998, 10), shapely.box(10.001, 0, 20, 10))
    dumb_bell = shapely.union_all([shapely.box(0, 0, 5, 5), shapely.box(5, 2, 8, 2.008), shapely.box(8, 0, 13, 5)])

    assert closed_up(halves).area == pytest.approx(200, abs=1e-3)
    assert without_spurs(dumb_bell).area == pytest.approx(50, abs=1e-3)
    assert len(polygon_parts(without_spurs(dumb_bell))) == 2


def test_rings_of_many_polygons_are_not_silently_none():
    two = shapely.MultiPolygon([shapely.box(0, 0, 1, 1), shapely.box(5, 5, 6, 6)])
    mixed = shapely.GeometryCollection([two, shapely.Point(3, 3), shapely.Polygon()])

    assert len(shapely.get_rings(two)) == 0  # the trap
    assert len(polygon_parts(two)) == len(polygon_parts(mixed)) == 2
    assert polygon_parts(shapely.Polygon()) == []
