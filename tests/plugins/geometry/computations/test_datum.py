from __future__ import annotations

import warnings

import pytest

from afield.plugins.geometry.computations.datum import datum_shift
from afield.plugins.geometry.computations.geodesy import geodesic_inverse

OSGB36, NAD27, TOKYO, WGS84 = "EPSG:4277", "EPSG:4267", "EPSG:4301", "EPSG:4326"


def test_the_same_datum_moves_nothing() -> None:
    found = datum_shift(39.9, -117.3, WGS84)
    assert (found.lat_deg, found.lon_deg) == pytest.approx((39.9, -117.3), abs=1e-12)
    assert (found.accuracy_m, found.best_available) == (0.0, True)


def test_a_shift_without_its_grid_file_says_how_good_it_is() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = datum_shift(39, -105, NAD27)
    assert 5 <= found.accuracy_m <= 20
    assert not found.best_available
    assert found.shift_m == pytest.approx(50, abs=10)
    assert found.method.startswith("NAD27 to WGS 84 (")


@pytest.mark.parametrize(
    ("lat", "lon", "system", "least_m", "most_m"), [(52, -1.5, OSGB36, 100, 130), (36, 139, TOKYO, 440, 480)]
)
def test_how_far_old_datums_are_off(lat: float, lon: float, system: str, least_m: float, most_m: float) -> None:
    found = datum_shift(lat, lon, system)
    assert least_m < found.shift_m < most_m
    assert found.shift_m == pytest.approx(geodesic_inverse(lat, lon, found.lat_deg, found.lon_deg).distance_m)


def test_a_shift_and_back() -> None:
    there = datum_shift(52, -1.5, OSGB36)
    back = datum_shift(there.lat_deg, there.lon_deg, WGS84, OSGB36)
    assert geodesic_inverse(52, -1.5, back.lat_deg, back.lon_deg).distance_m < 0.05


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((39, 10, NAD27), "no shift of known accuracy from EPSG:4267 to EPSG:4326 covers this position"),
        (
            (39, -105, NAD27, WGS84, 5.0),
            "the best shift from EPSG:4267 to EPSG:4326 here is good to 7 m, worse than 5 m",
        ),
        (
            (39, -105, "EPSG:32610"),
            'reference system "EPSG:32610" (WGS 84 / UTM zone 10N) is not in latitude and longitude',
        ),
        ((39, -105, WGS84, "nowhere"), 'reference system "nowhere" is not known; name it as EPSG:4326'),
    ],
)
def test_a_shift_that_would_be_a_guess_is_refused(arguments: tuple[float, float, str], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        datum_shift(*arguments)
    assert str(refused.value) == message
