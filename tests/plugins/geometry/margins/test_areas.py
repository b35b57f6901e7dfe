import numpy as np
import pytest
import shapely

from afield.plugins.geometry.computations.areas import area_around, least_inside
from afield.plugins.geometry.computations.edges import edge_doubt_m
from afield.plugins.geometry.computations.footprints import (
    circle_part,
    path_part,
    point_part,
    polygon_part,
    radials_part,
    segment_part,
    shifted,
)
from afield.plugins.geometry.computations.plane import plane_at

CENTRE = (47.25, 11.5)
TABLE = point_part("table", (0, 0))
SQUARE = [(-50, -50), (50, -50), (50, 50), (-50, 50), (-50, -50)]


def box(left, low, right, top):
    return [(left, low), (right, low), (right, top), (left, top), (left, low)]


@pytest.fixture
def laid(yardstick):
    """An area from polygons of rings of offsets from a station, laid out around it."""

    def lay(*polygons_m, centre=CENTRE, reach=80.0, edge_model="lonlat"):
        polygons = [[yardstick.spots(centre, ring) for ring in rings] for rings in polygons_m]
        return area_around(polygons, plane_at(*centre), reach, edge_model)

    return lay


@pytest.mark.parametrize(
    ("part", "margin", "at"),
    [
        (TABLE, 50, (0, 0)),
        (segment_part("wire", (0, 0), (20, 30)), 20, (20, 30)),
        (segment_part("wire", (0, 0), (0, 58)), -8, (0, 58)),
        (path_part("dog leg", [(0, 0), (40, 0), (40, 49.99)]), 0.01, (40, 49.99)),
        (radials_part("radials", (0, 40), 15, [0, 120, 240]), -5, (0, 55)),
        (circle_part("wire", (0, 30), 1, 19.5), 0.5, (0, 49.5)),
        (circle_part("wire", (0, 30), 1, 24), -4, (0, 54)),
        (polygon_part("awning", [(0, 0), (30, 0), (48, 10)]), 2, (48, 10)),
        (polygon_part("awning", [(0, 0), (30, 0), (53, 10)]), -3, (53, 10)),
    ],
)
def test_every_kind_of_part_inside_and_across(part, margin, at, laid):
    worst = least_inside([TABLE, part], laid([SQUARE]))

    assert worst.value_m == pytest.approx(margin, abs=0.0015)
    assert worst.part == part.name
    assert worst.point_m == pytest.approx(at, abs=0.5)


@pytest.mark.parametrize("centre", [CENTRE, (80.0, 15.0), (-16.0, 179.9999), (-16.0, -180.0), (89.9, 3.0), (90.0, 0.0)])
@pytest.mark.parametrize("margin_m", [0.01, -0.01, 0.003, -0.003])
def test_inside_and_outside_by_a_centimetre_everywhere(centre, margin_m, laid):
    ring = box(-70, -40, 20 + margin_m, 90)

    worst = least_inside(
        [TABLE, segment_part("wire", (0, 0), (20, 0))], laid([ring], centre=centre, edge_model="geodesic")
    )

    assert worst.value_m == pytest.approx(margin_m, abs=0.0011)
    assert worst.point_m == pytest.approx((20, 0), abs=0.01)
    assert worst.direction == pytest.approx((-1, 0), abs=0.01)


def test_the_middle_of_a_wire_across_a_notch_is_outside_though_its_ends_are_in(laid):
    notched = [(-50, -50), (50, -50), (50, 50), (0, 5), (-50, 50), (-50, -50)]

    worst = least_inside([segment_part("wire", (-40, 30), (40, 30))], laid([notched]))

    assert worst.point_m == pytest.approx((0, 30), abs=0.01)
    assert worst.value_m == pytest.approx(-25 * 50 / np.hypot(45, 50), abs=0.0015)


def test_holes_are_outside_also_under_the_middle_of_a_footprint(laid):
    area = laid([SQUARE, box(-4, -4, 4, 4)])

    assert least_inside([TABLE], area).value_m == pytest.approx(-4, abs=0.001)
    assert least_inside([polygon_part("awning", box(-9, -9, 9, 9))], area).value_m == pytest.approx(-4, abs=0.001)
    assert least_inside([circle_part("wire", (0, 0), 0, 9)], area).value_m == pytest.approx(-4, abs=0.0015)
    # A ring around the hole does not reach into it: its inner side is nearest to the hole's corners.
    ring = least_inside([circle_part("wire", (0, 0), 7, 9)], area)
    assert ring.value_m == pytest.approx(7 - np.hypot(4, 4), abs=0.001)
    assert np.hypot(*ring.point_m) == pytest.approx(7)


@pytest.mark.parametrize("overlap_m", [0.0, 5.0, -0.001])
def test_a_cut_between_parts_is_no_boundary(overlap_m, laid):
    west, east = box(-50, -50, overlap_m, 50), box(0, -50, 50, 50)

    area = laid([west], [east])

    assert least_inside([TABLE, segment_part("wire", (-20, 0), (20, 0))], area).value_m == pytest.approx(30, abs=0.001)
    assert area.notes == ()


def test_a_real_gap_between_parts_is_a_boundary(laid):
    area = laid([box(-50, -50, -0.05, 50)], [box(0.05, -50, 50, 50)])

    assert least_inside([TABLE], area).value_m == pytest.approx(-0.05, abs=0.001)


def test_many_tiles_leave_no_trace(laid):
    tiles = [[box(x, y, x + 50, y + 50)] for x in range(-100, 100, 50) for y in range(-100, 100, 50)]

    area = laid(*tiles)

    assert least_inside([TABLE], area).value_m == pytest.approx(100, abs=0.001)
    outer = shapely.box(-100, -100, 100, 100).boundary
    assert shapely.distance(shapely.points((area.start + area.end) / 2), outer).max() < 0.001


@pytest.mark.parametrize("lon", [180.0, -180.0, 179.9999, -179.9999])
def test_an_area_cut_at_180_degrees_is_whole_and_a_station_at_its_middle_inside(lon):
    west = [(-17.0, 179.0), (-17.0, 180.0), (-16.0, 180.0), (-16.0, 179.0), (-17.0, 179.0)]
    east = [(-17.0, -180.0), (-17.0, -179.0), (-16.0, -179.0), (-16.0, -180.0), (-17.0, -180.0)]

    area = area_around([[west], [east]], plane_at(-16.5, lon), 30.0)

    assert least_inside([TABLE], area).value_m == pytest.approx(55_330, abs=30)


def test_an_area_not_cut_at_180_degrees_is_the_same():
    ring = [(-17.0, 179.0), (-17.0, -179.0), (-16.0, -179.0), (-16.0, 179.0), (-17.0, 179.0)]

    inside = least_inside([TABLE], area_around([[ring]], plane_at(-16.5, -179.9), 0.0))
    far = least_inside([TABLE], area_around([[ring]], plane_at(-16.5, 0.0), 0.0))

    assert inside.value_m > 50_000
    assert far.value_m < -10_000_000


def test_a_cap_around_the_pole_in_both_ways_of_writing_it():
    around = [(89.99, lon) for lon in (0, 60, 120, 180, -120, -60, 0)]
    cut = [(89.99, lon) for lon in range(-180, 181, 60)] + [(90, 180), (90, -180), (89.99, -180)]

    for ring in (around, cut):
        worst = least_inside(
            [TABLE, segment_part("wire", (0, 0), (20, 0))], area_around([[ring]], plane_at(90, 0), 20.0)
        )
        assert worst.value_m == pytest.approx(1116.9 - 20, abs=0.1)


def test_the_boundary_may_be_far_away(laid):
    wide = laid([box(-40_000, -30_000, 40_000, 30_000)], reach=25.0)

    assert least_inside([TABLE], wide).value_m == pytest.approx(30_000, abs=150)
    assert least_inside([point_part("mast", (0, 20))], wide).value_m < least_inside([TABLE], wide).value_m
    assert wide.window_m > 29_866


def test_a_nearest_cut_does_not_hide_the_boundary_behind_it(laid):
    area = laid([box(-5000, -5000, 3, 5000)], [box(3, -5000, 9000, 5000)], reach=5.0)

    assert least_inside([TABLE], area).value_m == pytest.approx(5000, abs=3)


def test_edge_doubt_is_of_the_boundary_not_of_a_cut(laid):
    cut = laid([box(-9000, -9000, 3, 20)], [box(3, -9000, 9000, 20)])

    worst = least_inside([TABLE], cut)

    assert worst.edge_doubt_m == pytest.approx(1.06 * edge_doubt_m(9003, 47.25), rel=0.01)
    assert worst.value_m == pytest.approx(20, abs=0.01)
    assert cut.notes == ()


@pytest.mark.parametrize("shift", [(0, 0), (30, 10), (49.5, 20), (53, 30)])
def test_the_direction_is_the_one_in_which_the_margin_grows(shift, laid):
    area = laid([SQUARE], reach=80.0)
    parts = shifted([TABLE, radials_part("radials", (0, 0), 12, [20, 140, 260])], *shift)
    worst = least_inside(parts, area)

    better = least_inside(shifted(parts, *(0.1 * np.array(worst.direction))), area)

    assert better.value_m - worst.value_m == pytest.approx(0.1, abs=0.002)


def test_on_the_boundary_the_direction_points_inward(laid):
    worst = least_inside([point_part("table", (50, 0))], laid([SQUARE]))

    assert worst.value_m == pytest.approx(0, abs=0.0001)
    assert worst.direction == pytest.approx((-1, 0), abs=0.001)


def test_bow_ties_spurs_and_collapsed_rings_are_repaired_and_said(laid):
    bow_tie = [(-50, -50), (50, 50), (50, -50), (-50, 50), (-50, -50)]
    spurred = [(-50, -50), (50, -50), (50, 0), (90, 0), (50, 0), (50, 50), (-50, 50), (-50, -50)]
    collapsed = [(10, 10), (20, 20), (10, 10)]

    tie, spur, holed = laid([bow_tie]), laid([spurred]), laid([SQUARE, collapsed])

    assert least_inside([point_part("t", (30, 0))], tie).value_m == pytest.approx(20, abs=0.01)
    assert least_inside([point_part("t", (0, 30))], tie).value_m == pytest.approx(-30 / 2**0.5, abs=0.01)
    assert [note.split(" (")[0] for note in tie.notes] == ["polygon 1 is not simple"]
    assert least_inside([point_part("t", (60, 0))], spur).value_m == pytest.approx(-10, abs=0.001)
    assert [note.split(" (")[0] for note in spur.notes] == ["polygon 1 is not simple"]
    assert least_inside([point_part("t", (12, 12))], holed).value_m == pytest.approx(38, abs=0.001)
    assert holed.notes == ("ring 2 of polygon 1 has 3 points and encloses nothing: left out",)
    assert least_inside([TABLE], holed).notes == holed.notes


def test_a_spur_rounded_to_a_sliver_swallows_no_point_and_is_said(yardstick):
    ring = [(-50, -50), (50, -50), (50, -0.002), (90, 3), (50, 0.002), (50, 50), (-50, 50), (-50, -50)]

    area = area_around([[yardstick.spots(CENTRE, ring)]], plane_at(*CENTRE), 80.0)

    assert least_inside([point_part("table", (60, 0.75))], area).value_m == pytest.approx(-10, abs=0.01)
    where = yardstick.spot(CENTRE, 63.3, 1.0)
    assert area.notes == (f"a strip less than 1 cm wide, 40.1 m long, near {where[0]:.5f}, {where[1]:.5f}: taken off",)


def test_multipart_boundaries_are_all_found(laid):
    area = laid([box(-50, -50, -10, 50)], [box(10, -50, 50, 50)])

    assert isinstance(area.geometry, shapely.MultiPolygon)
    assert len(area.start) == 8
    assert least_inside([TABLE], area).value_m == pytest.approx(-10, abs=0.001)


@pytest.mark.parametrize(
    ("measure", "message"),
    [
        (lambda lay: least_inside([], lay([SQUARE])), "the station has no part to measure from"),
        (lambda lay: least_inside([segment_part("wire", (0, 0), (0, 20))], lay([SQUARE], reach=10.0)),
         "the station reaches 20.000 m, the reference was laid out for 10.000 m"),
        (lambda lay: lay([[(0, 0), (1, 1), (0, 0)]]), "the area has no ring that encloses anything"),
        (lambda lay: lay([box(0, 0, 0.004, 90)]), "the area has no boundary: its rings enclose nothing once repaired"),
    ],
)  # fmt: skip
def test_what_has_no_answer_is_refused(measure, message, laid):
    with pytest.raises(ValueError) as problem:
        measure(laid)
    assert str(problem.value) == message
