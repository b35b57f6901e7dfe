from itertools import pairwise

import numpy as np
import pytest
import shapely

from afield.plugins.geometry.computations.footprints import (
    circle_part,
    point_part,
    polygon_part,
    radials_part,
    reach_m,
    segment_part,
    shifted,
)
from afield.plugins.geometry.computations.lines import (
    corridor,
    farthest_from_line,
    farthest_from_point,
    line_around,
    point_to_polyline_distance,
)
from afield.plugins.geometry.computations.plane import plane_at

CENTRE = (47.25, 11.5)
TABLE = point_part("table", (0, 0))


@pytest.fixture
def laid(yardstick):
    """A line through offsets from a station, laid out around it."""

    def lay(*lines_m, reach=60.0, edge_model="lonlat"):
        return line_around([yardstick.spots(CENTRE, line) for line in lines_m], plane_at(*CENTRE), reach, edge_model)

    return lay


def test_a_wire_across_a_v_is_farthest_in_its_middle(laid):
    line = laid([(-30, 60), (0, 0), (30, 60)])
    wire = segment_part("wire", (-25, 50), (25, 50))

    worst = farthest_from_line([TABLE, wire], line)

    ends_only = 0.0
    assert worst.value_m == pytest.approx(50 * 30 / np.hypot(30, 60), abs=0.001)
    assert worst.value_m - ends_only > 11.7
    assert worst.point_m == pytest.approx((0, 50), abs=0.01)
    assert worst.part == "wire"


def test_the_middle_of_a_closed_trail_is_away_from_it(laid):
    loop = [(25 * np.sin(a), 25 * np.cos(a)) for a in np.linspace(0, 2 * np.pi, 73)]

    worst = farthest_from_line([TABLE], laid(loop))

    assert worst.value_m == pytest.approx(25 * np.cos(np.pi / 72), abs=0.001)


def test_a_radial_field_in_a_closed_trail_is_farthest_somewhere_inside(laid):
    square = [(-20, -20), (20, -20), (20, 20), (-20, 20), (-20, -20)]
    ring = circle_part("wire", (-18, 0), 1, 30)

    worst = farthest_from_line([TABLE, ring], laid(square))

    assert worst.value_m == pytest.approx(28, abs=0.002)  # 30 m towards the west of a point 2 m inside the west side
    assert worst.point_m == pytest.approx((-48, 0), abs=0.5)


def test_a_disk_over_the_whole_loop_reaches_its_middle(laid):
    loop = [(-20, -20), (20, -20), (20, 20), (-20, 20), (-20, -20)]

    worst = farthest_from_line([circle_part("wire", (0, 0), 0, 21)], laid(loop))

    assert worst.value_m == pytest.approx(20, abs=0.002)
    assert worst.point_m == pytest.approx((0, 0), abs=0.01)


def test_a_discrete_measure_such_as_the_librarys_would_pass_what_is_too_far(laid):
    trail, wire = [(-30, 60), (0, 0), (30, 60)], segment_part("wire", (-24, 50), (24, 50))

    ours = farthest_from_line([wire], laid(trail)).value_m
    ends = shapely.distance(shapely.points([(-24, 50), (24, 50)]), shapely.LineString(trail)).max()
    # By vertices alone the trail's far ends and its corner hide the wire's middle or drown it.
    library = shapely.hausdorff_distance(wire.shape.outline(), shapely.LineString(trail))

    assert ours == pytest.approx(22.361, abs=0.001)
    assert ends < 1
    assert abs(library - ours) > 10


def test_100_feet_and_30_5_metres_decide_differently_at_30_49_m(laid):
    line = laid([(30.49, -500), (30.49, 500)])

    value = farthest_from_line([TABLE], line).value_m

    assert value == pytest.approx(30.49, abs=0.001)
    assert 100 * 0.3048 < value < 30.5


@pytest.mark.parametrize("off_m", [0.01, 24.374, 24.394])
@pytest.mark.parametrize("centre", [CENTRE, (80.0, 15.0), (-33.0, 179.99999), (89.999, 40.0), (90.0, 0.0)])
def test_a_centimetre_counts_everywhere(off_m, centre, yardstick):
    line = line_around([yardstick.spots(centre, [(off_m, -300), (off_m, 300)])], plane_at(*centre), 5.0, "geodesic")

    assert farthest_from_line([TABLE], line).value_m == pytest.approx(off_m, abs=0.001)


def test_pieces_of_a_track_are_not_joined(laid):
    pieces = [[(-200, 20), (-100, 20)], [(100, 20), (200, 20)]]

    apart = farthest_from_line([TABLE], laid(*pieces)).value_m
    joined = farthest_from_line([TABLE], laid(pieces[0] + pieces[1])).value_m

    assert apart == pytest.approx(np.hypot(100, 20), abs=0.001)
    assert joined == pytest.approx(20, abs=0.001)


def test_pieces_of_no_or_one_point_have_no_edge(yardstick):
    far = yardstick.spots(CENTRE, [(50, -10), (50, 10)])

    assert point_to_polyline_distance(*CENTRE, [[], [CENTRE], far]) == pytest.approx(50, abs=0.001)


def test_repeated_vertices_are_harmless(laid):
    line = laid([(10, -5), (10, -5), (10, 5), (10, 5)])

    assert farthest_from_line([TABLE], line).value_m == pytest.approx(10, abs=1e-4)


def test_one_line_may_be_given_as_its_points():
    points = [[45, 0], [45, 1]]

    assert point_to_polyline_distance(45.0006, 0.5, points) == point_to_polyline_distance(45.0006, 0.5, [points])


def test_the_direction_is_the_one_in_which_the_distance_grows(laid):
    line = laid([(-100, -20), (0, -20), (60, 40)])
    parts = [TABLE, radials_part("radials", (0, 0), 12, [30, 150, 270])]
    worst = farthest_from_line(parts, line)

    away = farthest_from_line(shifted(parts, *(0.1 * np.array(worst.direction))), line)

    assert np.hypot(*worst.direction) == pytest.approx(1)
    assert away.value_m - worst.value_m == pytest.approx(0.1, abs=0.001)
    assert np.subtract(worst.point_m, worst.nearest_m) == pytest.approx(np.multiply(worst.value_m, worst.direction))


def test_on_the_line_the_direction_is_across_it(laid):
    worst = farthest_from_line([TABLE], laid([(0, -50), (0, 50)]))

    assert worst.value_m < 1e-6
    assert np.abs(worst.direction) == pytest.approx([1, 0], abs=1e-6)


def test_edge_doubt_is_that_of_the_nearest_edge_or_of_a_long_one_that_may_be_nearer(laid):
    short, long, near = [(20, -100), (20, 100)], [(-20_000, 200), (20_000, 200)], [(-20_000, 40), (20_000, 40)]

    def doubt(*lines):
        return farthest_from_line([TABLE], laid(*lines, edge_model="geodesic")).edge_doubt_m

    assert doubt(short) < 1e-6
    assert doubt(long) == pytest.approx(36, rel=0.03)  # 40 km at 47 degrees
    assert doubt(short, long) < 1e-6  # the long one may lie 164 m away, still farther than the short one
    assert doubt(short, near) == pytest.approx(16, abs=1)  # and this one 4 m away, nearer than 20 m


def test_no_part_is_no_answer(laid):
    for measure in (lambda: farthest_from_line([], laid([(0, 0), (1, 1)])), lambda: farthest_from_point([], (0, 0))):
        with pytest.raises(ValueError) as problem:
            measure()
        assert str(problem.value) == "the station has no part to measure from"


def test_a_station_beyond_what_the_line_was_laid_out_for_is_refused(laid):
    with pytest.raises(ValueError) as problem:
        farthest_from_line([segment_part("wire", (0, 0), (0, 20))], laid([(0, 0), (1, 1)], reach=10.0))
    assert str(problem.value) == "the station reaches 20.000 m, the reference was laid out for 10.000 m"


@pytest.mark.parametrize(
    ("part", "expected", "at"),
    [
        (segment_part("wire", (1, 0), (0, 21)), np.hypot(10, 21), (0, 21)),
        (circle_part("wire", (0, 0), 1, 21), 31, (21, 0)),
        (polygon_part("awning", [(0, 0), (4, 0), (4, 3)]), np.hypot(14, 3), (4, 3)),
    ],
)
def test_farthest_from_a_point_is_exact(part, expected, at):
    worst = farthest_from_point([TABLE, part], (-10, 0))

    assert (worst.value_m, worst.part) == (pytest.approx(expected), part.name)
    assert worst.point_m == pytest.approx(at, abs=1e-9)
    assert np.hypot(*worst.direction) == pytest.approx(1)


def test_a_corridor_of_a_closed_trail_that_crosses_itself_is_whole(laid):
    # Growing the whole line at once (GEOS 3.14) loses up to a third of one in five of these.
    rng = np.random.default_rng(7)
    for _ in range(25):
        loop = rng.uniform(-60, 60, (5, 2))
        loop = np.concatenate([loop, loop[:1]])
        ours = corridor(laid(loop), 30.48)
        along = shapely.points(np.concatenate([np.linspace(a, b, 50) for a, b in pairwise(loop)]))
        assert shapely.covers(ours, shapely.buffer(along, 30.45, quad_segs=4)).all()


def test_a_corridor_has_a_width(laid):
    with pytest.raises(ValueError) as problem:
        corridor(laid([(0, 0), (1, 1)]), 0.0)
    assert str(problem.value) == "a corridor's half width is more than 0 m, not 0.0 m"


def test_reach_of_parts_is_enough_for_the_line(laid):
    parts = [segment_part("wire", (0, 0), (0, 40))]

    tight = farthest_from_line(parts, laid([(0, 70), (5, 70)], [(-60, -60), (60, -60)], reach=reach_m(parts)))

    assert tight.value_m == pytest.approx(65, abs=0.01)
