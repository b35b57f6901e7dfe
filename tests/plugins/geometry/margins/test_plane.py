import numpy as np
import pytest

from afield.plugins.geometry.computations.plane import plane_at
from afield.plugins.geometry.computations.tangent import distance_to_segment_m, tangent_offset_m

CENTRES = [(0.0, 0.0), (39.9, -117.3), (80.0, 15.0), (-86.0, 179.9999), (90.0, 0.0), (-90.0, 30.0), (10.0, -180.0)]


@pytest.mark.parametrize("centre", CENTRES)
def test_offsets_are_true_everywhere_also_at_poles_and_across_180_degrees(centre, yardstick):
    offsets = [(30.48, 0.0), (-12.0, 25.0), (300.0, -4000.0), (0.0, 0.0)]
    lat, lon = np.array(yardstick.spots(centre, offsets)).T

    east, north = plane_at(*centre).to_plane(lat, lon)

    assert np.column_stack([east, north]) == pytest.approx(np.array(offsets), abs=1e-5)


@pytest.mark.parametrize("centre", CENTRES)
def test_back_and_forth_gives_the_same_place(centre, yardstick):
    plane = plane_at(*centre)
    lat, lon = plane.to_lat_lon([120.0, -7.0], [40.0, -90000.0])

    assert [yardstick.apart_m(centre, spot) for spot in zip(lat, lon, strict=True)] == pytest.approx(
        [np.hypot(120, 40), np.hypot(7, 90000)], abs=1e-6
    )
    assert np.concatenate(plane.to_plane(lat, lon)) == pytest.approx([120.0, -7.0, 40.0, -90000.0], abs=1e-6)


def test_numpy_scalars_do_not_break_the_projections_text():
    centre = np.array([47.25, 11.5])

    east, north = plane_at(centre[0], centre[1]).to_plane(np.float64(47.25), np.float64(11.5))

    assert (float(east), float(north)) == pytest.approx((0, 0), abs=1e-9)
    assert plane_at(centre[0], centre[1]) == plane_at(47.25, 11.5)


def test_longitudes_are_not_averaged_so_neighbours_across_180_degrees_stay_neighbours():
    east, north = plane_at(60.0, 179.999).to_plane(60.0, -179.999)

    assert float(east) == pytest.approx(111.6, abs=0.1)
    assert abs(float(north)) < 0.01


def test_a_longitude_beyond_180_is_the_same_place():
    assert plane_at(10, 190.0) == plane_at(10, -170.0)
    assert plane_at(10, 180.0) == plane_at(10, -180.0)


@pytest.mark.parametrize(
    ("lat", "lon", "message"),
    [
        (91, 0, "latitude 91.0 is outside -90 to 90 degrees"),
        (float("nan"), 0, "latitude nan, longitude 0.0 is no position: both must be finite numbers of degrees"),
        (0, float("inf"), "latitude 0.0, longitude inf is no position: both must be finite numbers of degrees"),
    ],
)
def test_a_position_off_the_earth_is_refused(lat, lon, message):
    with pytest.raises(ValueError) as problem:
        plane_at(lat, lon)
    assert str(problem.value) == message


@pytest.mark.parametrize("centre", CENTRES)
def test_the_tangent_plane_agrees_near_its_centre(centre, yardstick):
    offset = (812.0, -590.0)

    found = tangent_offset_m(*centre, *yardstick.spot(centre, *offset))

    assert found == pytest.approx(offset, abs=1e-4)


def test_the_tangent_plane_falls_short_far_away_as_its_formula_says(yardstick):
    centre, far = (52.0, 5.0), 50_000.0

    east, _ = tangent_offset_m(*centre, *yardstick.spot(centre, far, 0.0))

    assert far - east == pytest.approx(far**3 / (6 * 6.38e6**2), rel=0.05)


@pytest.mark.parametrize(
    ("start", "end", "distance"),
    [((-5, 3), (5, 3), 3), ((4, 3), (9, 3), 5), ((3, 4), (3, 4), 5), ((-9, 0), (-2, 0), 2)],
)
def test_distance_of_the_origin_from_a_segment(start, end, distance):
    assert distance_to_segment_m(start, end) == pytest.approx(distance)
