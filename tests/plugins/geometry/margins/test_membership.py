import pytest

from afield.plugins.geometry.computations.membership import point_in_polygon, point_in_polygon_class, point_in_polygons


def box(low, left, top, right):
    return [(low, left), (low, right), (top, right), (top, left), (low, left)]


HOLED = [[box(50, 10, 50.01, 10.02), box(50.0025, 10.005, 50.0075, 10.015)]]


def test_the_class_of_a_point_is_no_luck_of_rounding():
    points = [(50.001, 10.001), (50.005, 10.01), (50.0, 10.01), (50.0, 10.0), (50.005, 10.005), (50.02, 10.01)]

    found = point_in_polygon_class(points, HOLED)

    assert found == ["inside", "outside", "boundary", "boundary", "boundary", "outside"]


@pytest.mark.parametrize("off_deg", [-3e-9, 0.0, 3e-9])
def test_within_a_millimetre_is_on_the_boundary(off_deg):
    assert point_in_polygon(50.0 + off_deg, 10.013, HOLED).where == "boundary"
    assert point_in_polygon(50.0 + 10 * off_deg + 2e-8, 10.013, HOLED).where != "boundary"


def test_a_point_in_a_hole_is_outside_and_has_its_distance(yardstick):
    found = point_in_polygon(50.005, 10.01, HOLED)

    rings = HOLED[0]
    assert (found.where, found.inside, found.inside_or_boundary) == ("outside", False, False)
    assert found.distance_to_boundary_m == pytest.approx(yardstick.from_lines_m((50.005, 10.01), rings), abs=0.001)


def test_across_180_degrees():
    halves = [[box(-17, 179, -16, 180)], [box(-17, -180, -16, -179)]]
    points = [(-16.5, 179.5), (-16.5, -179.5), (-16.5, 0.0), (-16.5, 180.0), (-16.5, -180.0)]

    found = [point_in_polygon(*point, halves).inside_or_boundary for point in points]

    assert found == [True, True, False, True, True]


@pytest.mark.parametrize("pole", [90.0, -90.0])
def test_a_pole_is_inside_its_cap(pole):
    cap = [(pole * 0.9, lon) for lon in range(-180, 181, 45)]

    assert point_in_polygon(pole, 77.0, [[cap]]).inside
    assert point_in_polygon(pole * 0.95, -180.0, [[cap]]).inside
    assert not point_in_polygon(pole * 0.89, 3.0, [[cap]]).inside


def test_a_country_in_a_hole_of_another_is_found_in_its_own_only():
    enclave = [[box(50.0025, 10.005, 50.0075, 10.015)]]

    found = point_in_polygons(50.005, 10.01, {"outer": HOLED, "inner": enclave, "other": [[box(51, 10, 52, 11)]]})

    assert found.containing_ids == ["inner"]
    assert found.nearest_boundary_id in ("outer", "inner")
    assert found.distance_to_boundary_m["outer"] == pytest.approx(found.distance_to_boundary_m["inner"], abs=1e-6)
    assert found.nearest_boundary_m == min(found.distance_to_boundary_m.values())


def test_an_area_that_encloses_nothing_is_named():
    with pytest.raises(ValueError) as problem:
        point_in_polygons(50, 10, {7: HOLED, 336: [[[(41, 12), (42, 12), (41, 12)]]]})
    assert str(problem.value) == "area 336: the area has no ring that encloses anything"


def test_no_area_is_no_answer():
    with pytest.raises(ValueError) as problem:
        point_in_polygons(50, 10, {})
    assert str(problem.value) == "there is no area to look in"
