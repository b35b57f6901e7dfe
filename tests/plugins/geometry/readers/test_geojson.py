import json
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.geometry.readers import GeoFileError, Layer, read_layer
from afield.plugins.geometry.readers.geojson import read_geojson

SQUARE = [[0, 10], [1, 10], [1, 11], [0, 11], [0, 10]]
HOLE = [[0.4, 10.4], [0.6, 10.4], [0.6, 10.6], [0.4, 10.4]]


def layer_of(geometry: Any, properties: Any = None, **members: Any) -> Layer:
    feature = {"type": "Feature", "geometry": geometry, "properties": properties, **members}
    return read_geojson(json.dumps(feature).encode(), "a.geojson", "")


def flipped(ring: list[list[float]]) -> list[tuple[float, float]]:
    return [(y, x) for x, y in ring]


def test_a_polygon_with_a_hole_comes_out_latitude_first() -> None:
    layer = layer_of({"type": "Polygon", "coordinates": [SQUARE, HOLE]}, {"name": "Juniper Basin", "id": 7})
    (feature,) = layer.features
    assert (feature.kind, feature.name, feature.id) == ("area", "Juniper Basin", "7")
    assert feature.areas == [[flipped(SQUARE), flipped(HOLE)]]
    assert (layer.edge_model, layer.crs, layer.datum_accuracy_m, layer.notes) == (
        "lonlat",
        "WGS 84 (OGC:CRS84)",
        0.0,
        [],
    )


def test_the_layer_knows_its_file_and_digest(tmp_path: Path) -> None:
    path = tmp_path / "spring.geojson"
    path.write_text('\ufeff{"type": "Point", "coordinates": [3, 4, 500]}', encoding="utf-8")
    layer = read_layer(path, "maps/spring.geojson")
    assert (layer.name, layer.file) == ("spring", "maps/spring.geojson")
    assert layer.sha256 == sha256(path.read_bytes()).hexdigest()
    assert layer.features[0].points == [(4.0, 3.0)]


def test_multi_geometries_stay_one_feature() -> None:
    points = layer_of({"type": "MultiPoint", "coordinates": [[1, 2], [3, 4]]}).features
    lines = layer_of({"type": "MultiLineString", "coordinates": [[[1, 2], [3, 4]], [[5, 6], [7, 8, 9]]]}).features
    areas = layer_of({"type": "MultiPolygon", "coordinates": [[SQUARE], [SQUARE, HOLE]]}).features
    assert [feature.points for feature in points] == [[(2, 1), (4, 3)]]
    assert [feature.lines for feature in lines] == [[[(2, 1), (4, 3)], [(6, 5), (8, 7)]]]
    assert [[len(polygon) for polygon in feature.areas] for feature in areas] == [[1, 2]]


def test_a_collection_is_taken_apart_by_kind_and_said() -> None:
    line, point = {"type": "LineString", "coordinates": [[1, 2], [3, 4]]}, {"type": "Point", "coordinates": [1, 2]}
    nested = {"type": "GeometryCollection", "geometries": [line, {"type": "GeometryCollection", "geometries": [point]}]}
    layer = layer_of(nested, {"name": "Ford"})
    assert [(feature.kind, feature.name) for feature in layer.features] == [("line", "Ford"), ("point", "Ford")]
    assert layer.notes == ["a.geojson: 1 GeometryCollection was taken apart into points, lines and areas."]


def test_stubs_and_collapsed_rings_are_left_out_and_said() -> None:
    stub, line = [[1, 2]], [[1, 2], [3, 4]]
    layer = layer_of({"type": "MultiLineString", "coordinates": [stub, line, stub]})
    assert layer.features[0].lines == [[(2, 1), (4, 3)]]
    assert layer.notes == ["a.geojson: 2 lines of fewer than two points were left out."]
    slit = [[0.4, 10.4], [0.6, 10.6], [0.4, 10.4]]
    layer = layer_of({"type": "MultiPolygon", "coordinates": [[SQUARE, slit], [slit, HOLE]]})
    assert layer.features[0].areas == [[flipped(SQUARE)]]
    assert layer.notes == ["a.geojson: 2 rings of fewer than three points were left out."]


def test_an_open_ring_is_closed_and_said() -> None:
    layer = layer_of({"type": "Polygon", "coordinates": [SQUARE[:-1]]})
    assert layer.features[0].areas == [[flipped(SQUARE)]]
    assert layer.notes == ["a.geojson: 1 ring that did not end where it began was closed."]


def test_features_without_geometry_are_left_out_and_said() -> None:
    point = {"type": "Feature", "geometry": {"type": "Point", "coordinates": [1, 2]}}
    empty: dict[str, Any] = {"type": "Feature", "geometry": {"type": "MultiPoint", "coordinates": []}}
    document = {
        "type": "FeatureCollection",
        "name": "springs",
        "features": [point, {"type": "Feature", "geometry": None}, empty],
    }
    layer = read_geojson(json.dumps(document).encode(), "a.geojson", "")
    assert (layer.name, len(layer.features)) == ("springs", 1)
    assert layer.notes == ["a.geojson: 2 features without a geometry were left out."]


def test_longitudes_beyond_180_are_wrapped() -> None:
    layer = layer_of({"type": "LineString", "coordinates": [[179.5, 1], [180, 1], [180.5, 1], [-180.5, 1]]})
    assert layer.features[0].lines == [[(1, 179.5), (1, 180), (1, -179.5), (1, 179.5)]]


def test_the_id_member_goes_before_a_property() -> None:
    assert layer_of({"type": "Point", "coordinates": [1, 2]}, {"ID": "b"}, id="a").features[0].id == "a"
    assert layer_of({"type": "Point", "coordinates": [1, 2]}, {"ID": "b"}).features[0].id == "b"


@pytest.mark.parametrize(
    ("properties", "name"),
    [
        ({"Name": " Ford "}, "Ford"),
        ({"title": "Ford", "owner": "x"}, "Ford"),
        ({"UNIT_NAME": "Ford"}, "Ford"),
        ({"name": "", "label": "Ford"}, "Ford"),
        ({"name": 12.0}, "12"),
        ({"name": True}, None),
        ({"surname": 3}, None),
        ({}, None),
    ],
)
def test_which_property_is_the_name(properties: dict[str, Any], name: str | None) -> None:
    assert layer_of({"type": "Point", "coordinates": [1, 2]}, properties).features[0].name == name


def with_crs(crs: Any, coordinates: list[float]) -> Layer:
    document = {"type": "Point", "coordinates": coordinates, "crs": crs}
    return read_geojson(json.dumps(document).encode(), "a.geojson", "")


@pytest.mark.parametrize("name", ["urn:ogc:def:crs:OGC:1.3:CRS84", "EPSG:4326", "urn:ogc:def:crs:EPSG::4326"])
def test_an_old_crs_member_of_wgs_84_changes_nothing(name: str) -> None:
    layer = with_crs({"type": "name", "properties": {"name": name}}, [-117, 39])
    assert (layer.features[0].points, layer.datum_accuracy_m, layer.notes) == ([(39, -117)], 0.0, [])


def test_an_old_crs_member_of_a_projected_map_is_honoured() -> None:
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::32611"}}
    layer = with_crs(crs, [474110.1090, 4417159.4634])
    assert layer.features[0].points[0] == pytest.approx((39.90412, -117.30288), abs=1e-9)
    assert (layer.crs, layer.datum_accuracy_m, layer.notes) == ("WGS 84 / UTM zone 11N (EPSG:32611)", 0.0, [])


@pytest.mark.parametrize("crs", [None, {"type": "link", "properties": {"href": "x"}}, {"type": "name"}, 5])
def test_an_old_crs_member_that_names_nothing_is_refused(crs: Any) -> None:
    with pytest.raises(GeoFileError) as caught:
        with_crs(crs, [1, 2])
    assert caught.value.what == 'a.geojson: the member "crs" names no coordinate reference system'
    assert caught.value.advice == (
        'Remove the member "crs" if the coordinates are WGS 84, or save the file in WGS 84 (EPSG:4326).'
    )


def test_an_old_crs_member_that_is_not_known_is_refused() -> None:
    with pytest.raises(GeoFileError) as caught:
        with_crs({"type": "name", "properties": {"name": "EPSG:999999"}}, [1, 2])
    assert caught.value.what == 'a.geojson: the coordinate reference system "EPSG:999999" is not known'
    assert caught.value.advice == "Save the file in WGS 84 (EPSG:4326)."


@pytest.mark.parametrize("kind", ["Circle", None, {"a": 1}])
def test_a_geometry_of_an_unknown_type_is_refused(kind: Any) -> None:
    with pytest.raises(GeoFileError) as caught:
        layer_of({"type": kind, "coordinates": []})
    assert caught.value.what == f"a.geojson: feature 1: {str(kind)!r} is no GeoJSON geometry type"
    assert caught.value.advice == (
        "The types are Point, MultiPoint, LineString, MultiLineString, Polygon, MultiPolygon, GeometryCollection."
    )


positions = st.lists(st.tuples(st.floats(-180, 180), st.floats(-90, 90)), min_size=4, max_size=12)


@given(positions)
def test_every_ring_is_closed_and_keeps_its_vertices(ring: list[tuple[float, float]]) -> None:
    (feature,) = layer_of({"type": "Polygon", "coordinates": [ring]}).features
    (read,) = feature.areas[0]
    assert read[0] == read[-1]
    assert read[: len(ring)] == [(y, x) for x, y in ring]


json_values = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=3) | st.sampled_from(["Feature", "Point", "Polygon"]),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from(["type", "geometry", "coordinates", "crs"]), inner)
    ),
    max_leaves=12,
)


@given(json_values, json_values)
def test_any_json_is_read_whole_or_refused(geometry: Any, crs: Any) -> None:
    document = {"type": "Feature", "geometry": geometry, "properties": crs}
    try:
        layer = read_geojson(json.dumps(document).encode(), "a.geojson", "")
    except GeoFileError as error:
        assert error.what.startswith("a.geojson: ")
        assert error.advice.endswith(".")
    else:
        assert layer.features
