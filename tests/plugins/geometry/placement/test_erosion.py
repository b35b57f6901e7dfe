"""Erosion against brute force: the station's own shapes laid at each point and asked whether the region covers them."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.computations.erosion import (
    boundary_edges,
    capsules,
    eroded,
    met,
    polygons_of,
    shrunk,
    without_slivers,
)
from afield.plugins.geometry.computations.footprints import (
    circle_part,
    path_part,
    point_part,
    polygon_part,
    radials_part,
    segment_part,
)

SQUARE = shapely.box(0, 0, 100, 100)


def star(rng, count, least, most, at=(0.0, 0.0)):
    turns = np.sort(rng.uniform(0, 2 * np.pi, count))
    reach = rng.uniform(least, most, count)
    ring = np.stack([at[0] + reach * np.cos(turns), at[1] + reach * np.sin(turns)], axis=1)
    return shapely.buffer(shapely.Polygon(ring), 0)


def some_region(rng):
    """A star, sometimes with a hole or an island beside it."""
    region = star(rng, int(rng.integers(5, 25)), 20, 80)
    if rng.random() < 0.5:
        region = shapely.difference(region, star(rng, 6, 1, 9, (10, 0)))
    if rng.random() < 0.3:
        region = shapely.union(region, star(rng, 7, 10, 30, (70, 20)))
    return without_slivers(region)


def some_corridor(rng):
    """Around a trail, closed and crossing itself now and then."""
    points = rng.uniform(-80, 80, (int(rng.integers(3, 8)), 2))
    if rng.random() < 0.5:
        points = np.concatenate([points, points[:1]])
    return capsules(points[:-1], points[1:], float(rng.uniform(10, 35)))


def some_station(rng):
    parts = [point_part("table", (0, 0)), path_part("wire", rng.uniform(-15, 15, (3, 2)))]
    if rng.random() < 0.3:
        parts.append(circle_part("whip", tuple(rng.uniform(-5, 5, 2)), 0, rng.uniform(1, 8)))
    if rng.random() < 0.3:
        parts.append(radials_part("radials", (2, 1), 6, [10, 130, 250]))
    if rng.random() < 0.3:
        parts.append(polygon_part("awning", [[5, 5], [12, 5], [12, 14], [5, 13]]))
    return parts


def covered(region, parts, point):
    return all(shapely.covers(region, part.shape.shifted(point).outline()) for part in parts)


def probes(rng, found, count):
    points = rng.uniform(-100, 100, (count, 2))
    edges = boundary_edges(found)[:, 0]
    if not len(edges):
        return points
    return np.concatenate([points, edges[rng.integers(0, len(edges), count)] + rng.normal(0, 0.5, (count, 2))])


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_no_point_is_unsafe_and_none_is_lost_beyond_the_arcs(seed):
    rng = np.random.default_rng(seed)
    region = some_region(rng) if rng.random() < 0.5 else some_corridor(rng)
    parts = some_station(rng)
    found = eroded(region, parts)
    allowance = shapely.buffer(found, 0.1) if not found.is_empty else found
    for point in probes(rng, found, 40):
        fits = covered(region, parts, point)
        if shapely.contains(found, shapely.Point(point)):
            assert covered(shapely.buffer(region, 1e-6), parts, point)
        elif fits and not shapely.covers(allowance, shapely.Point(point)):
            # Only a place too small to stand in may be left out.
            room = shapely.Point(point).buffer(0.05)
            assert not all(covered(region, parts, np.asarray(rim)) for rim in room.exterior.coords[::8])


def test_a_wire_in_a_square():
    wire = segment_part("wire", (0, 0), (30, 0))
    assert shapely.equals(shapely.normalize(eroded(SQUARE, [wire])), shapely.box(0, 0, 70, 100))
    assert eroded(SQUARE, [segment_part("wire", (0, 0), (101, 0))]).is_empty


def test_a_part_away_from_the_position_binds_only_itself():
    found = eroded(SQUARE, [point_part("mast", (120, 0))])
    assert shapely.equals(shapely.normalize(found), shapely.box(-120, 0, -20, 100))


def test_a_hole_within_a_filled_part_counts():
    yard = shapely.difference(SQUARE, shapely.box(49, 49, 51, 51))
    awning = polygon_part("awning", [[-10, -10], [10, -10], [10, 10], [-10, 10]])
    found = eroded(yard, [awning])
    assert not shapely.contains(found, shapely.Point(50, 50))
    assert shapely.contains(found, shapely.Point(20, 20))


def test_shrinking_by_capsules_and_growing_back():
    smaller = shrunk(SQUARE, 10)
    assert smaller.area == pytest.approx(6400, rel=1e-3)
    assert shapely.covers(SQUARE, smaller)
    assert shrunk(SQUARE, 60).is_empty
    assert shrunk(SQUARE, -10).area == pytest.approx(100 * 100 + 4 * 1000 + np.pi * 100, rel=1e-3)
    assert shrunk(SQUARE, 0) is SQUARE


def test_the_corridor_of_a_closed_trail_that_crosses_itself_is_whole():
    bow = np.array([[0, 0], [100, 100], [100, 0], [0, 100], [0, 0]], float)
    found = capsules(bow[:-1], bow[1:], 20)
    pieces = shapely.linestrings(np.stack([bow[:-1], bow[1:]], axis=1))
    rng = np.random.default_rng(7)
    for point in shapely.points(rng.uniform(-30, 130, (500, 2))):
        distance = float(shapely.distance(pieces, point).min())
        if abs(distance - 20) > 0.05:
            assert shapely.covers(found, point) == (distance < 20)
    assert capsules(bow[:-1], bow[1:], 0).is_empty


def test_slivers_and_what_is_no_polygon_are_left_out():
    mixed = shapely.GeometryCollection([shapely.Point(0, 0), shapely.box(0, 0, 1e-3, 1e-3), shapely.box(5, 5, 6, 6)])
    assert shapely.equals(without_slivers(mixed), shapely.box(5, 5, 6, 6))
    assert polygons_of(shapely.Polygon()) == []
    assert met([]).is_empty
    assert met([SQUARE, shapely.box(200, 200, 300, 300)]).is_empty


def test_a_station_without_parts_has_nothing_to_fit():
    with pytest.raises(ValueError, match="the station has no part that must lie in the region"):
        eroded(SQUARE, [])


def test_a_thin_piece_of_a_union_of_many_is_not_lost():
    """Without a grid, GEOS 3.14 left out one of 97 parallelograms here, and let a wire hang 39 m out."""
    yard = shapely.affinity.rotate(shapely.box(-1.5, -19, 1.5, 19), -20, origin=(0, 0))
    room = shrunk(yard, -2.617526625742091)
    turn = np.radians(255)
    wire = segment_part("wire", (0, 0), (40 * np.sin(turn), 40 * np.cos(turn)))
    assert eroded(room, [wire]).is_empty
