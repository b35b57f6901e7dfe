from typing import Any

import pytest

from afield.plugins.geometry.readers import GeoFileError
from afield.plugins.geometry.readers.coordinates import CoordinateError
from afield.plugins.geometry.readers.datums import DatumStep, along, cut_edges, step_to_wgs84

NEVADA = (-117.4, 39.8, -117.2, 40.0)


def step(crs: str, bounds: Any = None) -> DatumStep:
    return step_to_wgs84(crs, bounds, "a.shp")


def test_wgs_84_is_exact_and_silent() -> None:
    for crs in ("EPSG:4326", "EPSG:32611", "OGC:CRS84", "EPSG:4979"):
        assert (step(crs).accuracy_m, step(crs).notes) == (0.0, [])


def test_longitude_comes_first_whatever_the_registry_says() -> None:
    assert step("EPSG:4326").to_lat_lon([[-117.3, 39.9, 1500.0]]) == [(39.9, -117.3)]
    assert step("EPSG:4269").to_lat_lon([(-117.3, 39.9)])[0] == pytest.approx((39.9, -117.3), abs=1e-9)


def test_a_datum_close_to_wgs_84_is_never_silent() -> None:
    found = step("EPSG:4258", (10.0, 50.0, 10.1, 50.1))
    assert (found.crs, found.accuracy_m, found.edge_model) == ("ETRS89 (EPSG:4258)", 1.0, "lonlat")
    assert found.notes == [
        "a.shp: coordinates rest on European Terrestrial Reference System 1989 ensemble, not on WGS 84; they were "
        "taken to WGS 84 with a stated accuracy of 1 m."
    ]


def test_a_better_step_that_is_not_installed_is_said() -> None:
    found = step("EPSG:4267", NEVADA)
    first, second = found.notes
    assert found.accuracy_m is not None and found.accuracy_m >= 5.0
    assert first == (
        "a.shp: coordinates rest on North American Datum 1927, not on WGS 84; they were taken to WGS 84 with a stated "
        f"accuracy of {found.accuracy_m:g} m."
    )
    assert second.startswith("a.shp: a better step (") and second.endswith(", which is not installed.")


def test_the_place_of_the_data_chooses_the_step() -> None:
    assert step("EPSG:4267", NEVADA).accuracy_m != step("EPSG:4267").accuracy_m


def test_data_far_outside_their_system_still_get_an_answer_or_a_message() -> None:
    found = step("EPSG:32611", (1e30, 1e30, 2e30, 2e30))
    with pytest.raises(CoordinateError) as caught:
        found.to_lat_lon([(1e30, 1e30)])
    assert caught.value.what == "position 1e+30, 1e+30 lies outside the file's coordinate reference system"
    assert caught.value.advice == ("The stated system is probably not the one of the coordinates: save the file again.")


def test_nan_is_refused_before_the_step() -> None:
    for crs in ("EPSG:32611", "EPSG:4269"):
        with pytest.raises(CoordinateError) as caught:
            step(crs).to_lat_lon([(1.0, float("nan"))])
        assert caught.value.what == "a coordinate is not a finite number (NaN or infinity)"


@pytest.mark.parametrize("crs", ["nonsense", "EPSG:1"])
def test_a_system_that_is_not_known_is_refused(crs: str) -> None:
    with pytest.raises(GeoFileError) as caught:
        step(crs)
    assert caught.value.what == f'a.shp: the coordinate reference system "{crs}" is not known'
    assert caught.value.advice == "Save the file in WGS 84 (EPSG:4326)."


def test_a_local_system_is_refused() -> None:
    with pytest.raises(GeoFileError) as caught:
        step('LOCAL_CS["site plan",UNIT["metre",1],AXIS["x",EAST],AXIS["y",NORTH]]')
    assert caught.value.what == 'a.shp: the coordinate reference system "site plan" is not tied to the earth'
    assert caught.value.advice == "Save the file in WGS 84 (EPSG:4326)."


def test_a_cut_edge_keeps_its_ends_and_stays_straight() -> None:
    assert cut_edges([(0.0, 0.0), (10.0, 20.0)], 12.0) == [(0.0, 0.0), (5.0, 10.0), (10.0, 20.0)]
    assert cut_edges([(0.0, 0.0)], 1.0) == [(0.0, 0.0)]
    assert cut_edges([], 1.0) == []


def test_an_endless_edge_is_cut_into_a_bounded_number_of_pieces() -> None:
    assert len(along((0.0, 0.0), (1e12, 0.0), 500.0)) == 1000
