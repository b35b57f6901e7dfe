import sqlite3
import struct
from hashlib import sha256
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from pyogrio import raw
from pyproj import Proj
from shapely.geometry import GeometryCollection, LineString, MultiPolygon, Point, Polygon

from afield.plugins.geometry.readers import GeoFileError, Layer, read_layer
from afield.plugins.geometry.readers.gis import curve_notes
from afield.plugins.geometry.readers.wkb import is_collection, shapes_at

SAVE_AGAIN = "Save it again from the program that made it, best as GeoJSON or GeoPackage."
SQUARE = Polygon([(0, 10), (0, 11), (1, 11), (1, 10)], [[(0.4, 10.4), (0.6, 10.4), (0.6, 10.6)]])


def written(
    path: Path, shapes: list[Any], crs: str | None = "EPSG:4326", kind: str = "Polygon", **options: Any
) -> Path:
    names = np.array([f"unit {number}" for number, _ in enumerate(shapes)], dtype=object)
    wkbs = np.array([None if shape is None else shapely.to_wkb(shape) for shape in shapes], dtype=object)
    raw.write(path, wkbs, [names], ["NAME"], geometry_type=kind, crs=crs, **options)
    return path


def refusal(path: Path, layer: str | None = None) -> tuple[str, str]:
    with pytest.raises(GeoFileError) as caught:
        read_layer(path, path.name, layer)
    return caught.value.what, caught.value.advice


@pytest.mark.parametrize("name", ["units.shp", "units.gpkg", "units.fgb", "units.sqlite"])
def test_every_format_gives_the_same_layer(tmp_path: Path, name: str) -> None:
    path = written(tmp_path / name, [SQUARE])
    layer = read_layer(path, name)
    (feature,) = layer.features
    assert (layer.name, layer.file, layer.sha256) == ("units", name, sha256(path.read_bytes()).hexdigest())
    assert (layer.edge_model, layer.crs, layer.datum_accuracy_m, layer.notes) == (
        "lonlat",
        "WGS 84 (EPSG:4326)",
        0.0,
        [],
    )
    assert (feature.kind, feature.name, feature.id, list(feature.properties.values())) == (
        "area",
        "unit 0",
        None,
        ["unit 0"],
    )
    outer, hole = feature.areas[0]
    assert set(outer) == {(10, 0), (11, 0), (11, 1), (10, 1)}
    assert (len(outer), outer[0], len(hole), hole[0]) == (5, outer[-1], 4, hole[-1])


def test_a_shapefile_without_prj_has_no_crs(tmp_path: Path) -> None:
    path = written(tmp_path / "units.shp", [SQUARE])
    path.with_suffix(".prj").unlink()
    assert refusal(path) == (
        "units.shp: the file does not say in which coordinate reference system (CRS) it is",
        "Copy units.prj beside it, or save the file again with its coordinate reference system.",
    )


def test_a_geopackage_without_crs_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "units.fgb"
    with pytest.warns(UserWarning, match="crs"):
        written(path, [SQUARE], crs=None)
    assert refusal(path) == (
        "units.fgb: the file does not say in which coordinate reference system (CRS) it is",
        "Save the file again with its coordinate reference system.",
    )


def test_a_shapefile_without_its_index_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path / "units.shp", [SQUARE])
    path.with_suffix(".shx").unlink()
    assert refusal(path) == (
        "units.shp: the index of this shapefile (units.shx) is not beside it",
        "Copy all files of the shapefile: .shp, .shx, .dbf and .prj.",
    )
    assert not path.with_suffix(".shx").exists()


def test_a_shapefile_that_is_cut_short_is_not_half_read(tmp_path: Path) -> None:
    path = written(tmp_path / "units.shp", [SQUARE, SQUARE])
    content = path.read_bytes()
    path.write_bytes(content[:-30])
    assert refusal(path) == (
        f"units.shp: the file is cut short: it has {len(content) - 30} bytes of {len(content)}",
        "Copy or download it again.",
    )


def test_a_shapefile_without_its_table_has_no_names_and_says_so(tmp_path: Path) -> None:
    path = written(tmp_path / "units.shp", [SQUARE])
    path.with_suffix(".dbf").unlink()
    layer = read_layer(path, "units.shp")
    assert [feature.properties for feature in layer.features] == [{}]
    note = "units.shp: the table of this shapefile (units.dbf) is not beside it: its features have no names."
    assert layer.notes == [note]


def test_a_shapefile_with_a_broken_prj_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path / "units.shp", [SQUARE])
    path.with_suffix(".prj").write_text('GEOGCS["GCS_WGS_1984",DATUM["D_WGS_')
    what, advice = refusal(path)
    assert what == "units.shp: its coordinate reference system (CRS) cannot be understood"
    assert advice == f"{SAVE_AGAIN} Of a shapefile, copy the .prj again."


def test_layers_are_listed_where_there_are_several(tmp_path: Path) -> None:
    path = written(tmp_path / "units.gpkg", [SQUARE], layer="units")
    written(path, [LineString([(1, 2), (3, 4)])], kind="LineString", layer="trails", append=True)
    assert refusal(path) == (
        "units.gpkg: there are 2 layers in it",
        'Name one as layer: "units", "trails".',
    )
    assert refusal(path, "trail") == (
        'units.gpkg: there is no layer "trail" in it',
        'Did you mean "trails"? Its layers are "units", "trails".',
    )
    assert read_layer(path, "units.gpkg", "trails").features[0].lines == [[(2, 1), (4, 3)]]


def test_a_database_that_is_no_map_is_refused(tmp_path: Path) -> None:
    for name, what in (
        ("notes.gpkg", "the file is damaged, or holds no map"),
        ("notes.sqlite", "there is no layer with a geometry in it"),
    ):
        with sqlite3.connect(tmp_path / name) as database:
            database.execute("create table notes (words text)")
        assert refusal(tmp_path / name) == (f"{name}: {what}", SAVE_AGAIN)


@pytest.mark.parametrize("magic", [b"\x00\x00\x27\x0a", b"SQLite format 3\x00"])
def test_a_damaged_file_is_refused(tmp_path: Path, magic: bytes) -> None:
    (tmp_path / "units.shx").write_bytes(b"")
    (tmp_path / "units.shp").write_bytes(magic + b"\x00" * 300)
    assert refusal(tmp_path / "units.shp") == ("units.shp: the file is damaged, or holds no map", SAVE_AGAIN)


@pytest.mark.parametrize(
    "content",
    [
        "<OGRVRTDataSource><OGRVRTLayer name='x'><SrcDataSource>b.shp</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>",
        "<gml:FeatureCollection xmlns:gml='http://www.opengis.net/gml'/>",
    ],
)
def test_formats_that_name_other_files_are_not_opened(tmp_path: Path, content: str) -> None:
    (tmp_path / "trap.shp").write_text(content)
    what, advice = refusal(tmp_path / "trap.shp")
    assert what.startswith("trap.shp: this is XML (")
    assert advice == "GeoJSON, GPX, KML, shapefile (.shp), GeoPackage and FlatGeobuf files are read."


def test_null_and_empty_geometries_are_left_out_and_said(tmp_path: Path) -> None:
    path = written(tmp_path / "a.gpkg", [None, Point(), Point(1, 2)], kind="Point")
    layer = read_layer(path, "a.gpkg")
    assert [feature.points for feature in layer.features] == [[(2, 1)]]
    assert layer.notes == ["a.gpkg: 2 features without a geometry were left out."]


def test_a_collection_is_taken_apart(tmp_path: Path) -> None:
    shapes = [GeometryCollection([Point(1, 2), MultiPolygon([SQUARE])])]
    layer = read_layer(written(tmp_path / "a.gpkg", shapes, kind="GeometryCollection"), "a.gpkg")
    assert [feature.kind for feature in layer.features] == ["point", "area"]
    assert layer.notes == ["a.gpkg: 1 GeometryCollection was taken apart into points, lines and areas."]


def test_a_layer_without_features_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path / "a.gpkg", [])
    advice = "Save the file again with the points, lines or areas in it."
    assert refusal(path) == ("a.gpkg: there are no features in it", advice)


def test_a_file_whose_crs_does_not_fit_its_coordinates_is_refused(tmp_path: Path) -> None:
    what, advice = refusal(written(tmp_path / "a.gpkg", [Point(474110, 4417159)], kind="Point"))
    assert what == 'a.gpkg: feature 1 ("unit 0"): longitude 474110, latitude 4.41716e+06 is no place on earth'
    assert advice.startswith("These look like metres or feet of a projected map, not degrees.")


def test_columns_come_out_as_plain_values(tmp_path: Path) -> None:
    columns = [np.array([7]), np.array([np.nan]), np.array(["2026-06-27T15:30:00"], dtype="datetime64[s]")]
    wkbs = np.array([shapely.to_wkb(Point(1, 2))], dtype=object)
    raw.write(tmp_path / "a.gpkg", wkbs, columns, ["ID", "size", "seen"], geometry_type="Point", crs="EPSG:4326")
    (feature,) = read_layer(tmp_path / "a.gpkg", "a.gpkg").features
    assert feature.id == "7"
    assert (feature.properties["ID"], feature.properties["size"]) == (7, None)
    assert feature.properties["seen"].startswith("2026-06-27T15:30:00")


def layer_in(folder: Path, crs: str, shape: Any, kind: str) -> Layer:
    return read_layer(written(folder / "a.gpkg", [shape], crs=crs, kind=kind), "a.gpkg")


def test_a_projected_layer_in_feet_is_taken_to_degrees(tmp_path: Path) -> None:
    feet = Proj("EPSG:2263")(-74.0112, 40.7034)
    layer = layer_in(tmp_path, "EPSG:2263", Point(*feet), "Point")
    assert layer.features[0].points[0] == pytest.approx((40.7034, -74.0112), abs=1e-9)
    assert (layer.crs, layer.datum_accuracy_m) == ("NAD83 / New York Long Island (ftUS) (EPSG:2263)", 4.0)


def test_long_edges_of_a_projected_map_are_cut_before_the_step(tmp_path: Path) -> None:
    layer = layer_in(tmp_path, "EPSG:32611", LineString([(400_000, 4_400_000), (402_000, 4_400_000)]), "LineString")
    (line,) = layer.features[0].lines
    assert (layer.edge_model, len(line)) == ("geodesic", 5)


def test_short_rings_are_judged_before_their_edges_are_cut(tmp_path: Path) -> None:
    slit = struct.pack("<BIII", 1, 3, 1, 3) + struct.pack("<6d", 4e5, 4e6, 4.1e5, 4e6, 4e5, 4e6)
    raw.write(
        tmp_path / "a.gpkg",
        np.array([slit, shapely.to_wkb(shapely.box(4e5, 4e6, 4.001e5, 4.0001e6))], dtype=object),
        [],
        [],
        geometry_type="Polygon",
        crs="EPSG:32611",
    )
    layer = read_layer(tmp_path / "a.gpkg", "a.gpkg")
    assert len(layer.features) == 1
    assert layer.notes == ["a.gpkg: 1 ring of fewer than three points was left out."]


def test_curved_edges_are_said() -> None:
    note = "a.gpkg: curved edges were cut into straight ones, off by up to 0.06 % of their radius."
    assert curve_notes("CurvePolygon", "a.gpkg") == [note]
    assert curve_notes("MultiPolygon", "a.gpkg") == []


@pytest.mark.parametrize("order", [0, 1])
def test_wkb_of_either_byte_order_is_read(order: int) -> None:
    wkb = shapely.to_wkb(MultiPolygon([SQUARE, SQUARE]), byte_order=order)
    shapes, end = shapes_at(wkb, 0)
    assert ([shape.kind for shape in shapes], end) == (["area", "area"], len(wkb))
    assert [list(ring) for ring in shapes[0].strings] == [
        list(SQUARE.exterior.coords),
        list(SQUARE.interiors[0].coords),
    ]
    assert not is_collection(wkb)


def test_wkb_of_a_curve_is_refused() -> None:
    with pytest.raises(ValueError, match="geometry type 8"):
        shapes_at(struct.pack("<BI", 1, 8), 0)
