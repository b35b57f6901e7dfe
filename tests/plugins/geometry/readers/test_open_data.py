"""Real files: what they hold is known from the notes beside them."""

from pathlib import Path

import pytest

from afield.plugins.geometry.readers import GeoFileError, choose_feature, read_layer

DATA = Path(__file__).parents[3] / "data"


def test_a_wilderness_of_nine_parts_is_found_by_its_name() -> None:
    layer = read_layer(DATA / "us_wilderness" / "coutwildrnp.shp", "coutwildrnp.shp")
    names = [feature.name for feature in layer.features]
    most = max(set(names), key=names.count)
    assert len(names) == 67
    assert len(choose_feature(layer, most, None, None, "area")) == names.count(most) == 9
    assert (layer.crs, layer.edge_model, layer.datum_accuracy_m, layer.notes) == (
        "WGS 84 (EPSG:4326)",
        "lonlat",
        0.0,
        [],
    )


def test_one_part_of_it_is_found_by_its_id() -> None:
    layer = read_layer(DATA / "us_wilderness" / "coutwildrnp.shp", "coutwildrnp.shp")
    first = layer.features[0]
    found = choose_feature(layer, None, str(int(first.properties["WILDRNP020"])), "WILDRNP020", "area")
    assert found == [first]


def test_a_park_keeps_its_two_parts_and_its_hole() -> None:
    (park,) = read_layer(DATA / "rocky_mountain_park" / "rmnp.geojson", "rmnp.geojson").features
    assert [len(polygon) for polygon in park.areas] in ([1, 2], [2, 1])
    assert all(ring[0] == ring[-1] for polygon in park.areas for ring in polygon)


def test_a_hiking_track_is_one_line() -> None:
    layer = read_layer(DATA / "trail_mojstrovka" / "Mojstrovka.gpx", "Mojstrovka.gpx")
    (track,) = choose_feature(layer, None, None, None, "line")
    assert sum(len(line) for line in track.lines) == 184
    assert layer.edge_model == "geodesic"


def test_boroughs_in_survey_feet_are_taken_to_degrees_with_a_stated_accuracy() -> None:
    layer = read_layer(DATA / "nyc_boroughs" / "nybb.shp", "nybb.shp")
    lats = [lat for feature in layer.features for polygon in feature.areas for ring in polygon for lat, _ in ring]
    lons = [lon for feature in layer.features for polygon in feature.areas for ring in polygon for _, lon in ring]
    assert (min(lats), max(lats)) == pytest.approx((40.496, 40.916), abs=0.002)
    assert (min(lons), max(lons)) == pytest.approx((-74.256, -73.700), abs=0.002)
    assert layer.datum_accuracy_m == 4.0
    assert any("coordinates rest on North American Datum 1983" in note for note in layer.notes)


def test_a_borough_that_is_not_there_is_answered_with_a_near_name() -> None:
    layer = read_layer(DATA / "nyc_boroughs" / "nybb.shp", "nybb.shp")
    with pytest.raises(GeoFileError) as caught:
        choose_feature(layer, "Brooklin", None, None, "area")
    assert caught.value.advice.startswith('Did you mean "Brooklyn"? It has ')
