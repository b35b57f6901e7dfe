"""A catalogue is written whole or not at all, and holds what its files said."""

from __future__ import annotations

import hashlib
import sqlite3
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from afield.plugins.geometry.catalogue import geojson_stream, rows
from afield.plugins.geometry.catalogue.building import Wanted, build
from afield.plugins.geometry.catalogue.layout import APPLICATION_ID, PIECE_VERTICES, VERSION, CatalogueError
from afield.plugins.geometry.catalogue.naming import Naming
from afield.plugins.geometry.catalogue.opening import opened
from afield.plugins.geometry.catalogue.packing import unpacked
from afield.plugins.geometry.catalogue.reading import catalogue_layer
from afield.plugins.geometry.catalogue.rows import Provenance
from afield.plugins.geometry.readers import GeoFileError, read_layer

from .conftest import Made, collection, feature, square

GPX = """<gpx version="1.1"><wpt lat="39.9" lon="-117.3"><name>post</name></wpt>
<trk><name>trail</name><trkseg><trkpt lat="39.9" lon="-117.3"/><trkpt lat="39.91" lon="-117.3"/></trkseg>
<trkseg><trkpt lat="39.92" lon="-117.3"/><trkpt lat="39.93" lon="-117.3"/></trkseg></trk></gpx>"""
KML = """<kml xmlns="http://www.opengis.net/kml/2.2"><Document><Placemark><name>butte</name>
<Point><coordinates>-117.3,39.9</coordinates></Point></Placemark></Document></kml>"""
CSV = "name,lat,lon\npeak,39.9,-117.3\nsaddle,39 54.6 N,117 18.0 W\n"


def rows_of(path: Path, sql: str) -> list[tuple[Any, ...]]:
    with opened(path, path.name) as connection:
        return connection.execute(sql).fetchall()


def areas(*names: str, **properties: str) -> str:
    return collection([feature(name, "Polygon", [square(-117.3, 39.9, 0.01)], **properties) for name in names])


def test_what_is_stated_is_kept_by_layer_with_the_checksum_of_each_file(made: Made, tmp_path: Path) -> None:
    counts = made({"areas.geojson": areas("juniper"), "walk.gpx": GPX, "marks.kml": KML, "peaks.csv": CSV})
    assert (counts.layers, counts.kinds) == (4, {"area": 1, "line": 1, "point": 4})
    found = rows_of(
        tmp_path / "refs.sqlite",
        "SELECT file, sha256, edge_model, source, licence, dated, map_accuracy_m, level FROM layer",
    )
    digests = {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in tmp_path.iterdir()}
    stated = ("county survey", "open", "2021", 5.0, 68)
    assert found == [
        ("areas.geojson", digests["areas.geojson"], "lonlat", *stated),
        ("walk.gpx", digests["walk.gpx"], "geodesic", *stated),
        ("marks.kml", digests["marks.kml"], "geodesic", *stated),
        ("peaks.csv", digests["peaks.csv"], "geodesic", *stated),
    ]


def test_its_kind_of_file_and_version_are_in_the_header(made: Made, tmp_path: Path) -> None:
    made({"areas.geojson": areas("juniper")})
    with sqlite3.connect(tmp_path / "refs.sqlite") as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    connection.close()


def test_every_kind_of_shape_comes_back_as_its_reader_gave_it(made: Made, tmp_path: Path) -> None:
    hole = [square(-117.3, 39.9, 0.02), square(-117.3, 39.9, 0.01)]
    shapes = [
        feature("holed", "Polygon", hole),
        feature("apart", "MultiPolygon", [[square(-117.3, 39.9, 0.01)], [square(-117.2, 39.9, 0.01)]]),
        feature(
            "long",
            "MultiLineString",
            [[[-117.3 + k / 999, 39.9] for k in range(200)], [[-117.0, 39.0], [-117.1, 39.1]]],
        ),
        feature("turned", "LineString", [[179.9, 60.0], [-179.9, 60.1], [179.8, 60.2]]),
        feature("spots", "MultiPoint", [[-117.3, 39.9], [-117.2, 39.9]]),
    ]
    made({"all.geojson": collection(shapes)})
    for wanted in read_layer(tmp_path / "all.geojson", "all.geojson").features:
        layer, _ = catalogue_layer(tmp_path / "refs.sqlite", "refs.sqlite", wanted.name, None)
        (found,) = layer.features
        assert (found.kind, found.areas, found.points) == (wanted.kind, wanted.areas, wanted.points)
        # Past 180 degrees a turn is added and taken away again, which may cost the last bit.
        assert [[pytest.approx(point, abs=1e-12) for point in line] for line in found.lines] == wanted.lines


def test_lines_are_cut_into_small_pieces_that_share_their_ends(made: Made, tmp_path: Path) -> None:
    made({"line.geojson": collection([feature("long", "LineString", [[k / 99, 39.9] for k in range(500)])])})
    pieces = [
        unpacked(*row)[0] for row in rows_of(tmp_path / "refs.sqlite", "SELECT rings, degrees FROM shape ORDER BY id")
    ]
    assert len(pieces) == 8
    assert all(2 <= len(piece.lats) <= PIECE_VERTICES for piece in pieces)
    assert all((a.lats[-1], a.lons[-1]) == (b.lats[0], b.lons[0]) for a, b in pairwise(pieces))


def test_boxes_are_cut_at_180_degrees(made: Made, tmp_path: Path) -> None:
    ring = [[179.5, 60.0], [-179.5, 60.0], [-179.5, 61.0], [179.5, 61.0], [179.5, 60.0]]
    made({"areas.geojson": collection([feature("across", "Polygon", [ring])])})
    boxes = rows_of(tmp_path / "refs.sqlite", "SELECT west, east FROM box ORDER BY west")
    assert boxes == [pytest.approx((-180.0, -179.5)), pytest.approx((179.5, 180.0))]


@pytest.mark.parametrize(
    ("naming", "properties", "wanted"),
    [
        (Naming(), {}, ("", "juniper")),
        (Naming(program="basin"), {}, ("basin", "juniper")),
        (Naming(), {"program": "road"}, ("road", "juniper")),
        (Naming(name_field="UNIT"), {"UNIT": "upper wash"}, ("", "upper wash")),
        (Naming(program_field="AWARD"), {"AWARD": "road"}, ("road", "juniper")),
    ],
)
def test_references_are_named_by_their_fields(
    made: Made, tmp_path: Path, naming: Naming, properties: dict[str, str], wanted: tuple[str, str]
) -> None:
    made({"areas.geojson": areas("juniper", **properties)}, naming)
    assert rows_of(tmp_path / "refs.sqlite", "SELECT program, name FROM reference") == [wanted]


def test_parts_of_one_name_are_joined_where_asked(made: Made, tmp_path: Path) -> None:
    counts = made({"areas.geojson": areas("juniper", "juniper")}, join=True)
    assert counts.kinds == {"area": 1}
    layer, _ = catalogue_layer(tmp_path / "refs.sqlite", "refs.sqlite", "juniper", None)
    assert len(layer.features[0].areas) == 2


def test_lines_that_are_joined_stay_apart(made: Made, tmp_path: Path) -> None:
    lines = [feature("trail", "LineString", [[lon, 39.9], [lon + 0.01, 39.9]]) for lon in (-117.3, -117.2)]
    made({"lines.geojson": collection(lines)}, join=True)
    layer, _ = catalogue_layer(tmp_path / "refs.sqlite", "refs.sqlite", "trail", None)
    assert [len(line) for line in layer.features[0].lines] == [2, 2]


def test_features_without_a_name_are_left_out_where_asked_and_counted(made: Made) -> None:
    nameless = feature(None, "Point", [-117.3, 39.9])
    counts = made(
        {"a.geojson": collection([nameless, feature("post", "Point", [-117.3, 39.9])])}, Naming(skip_unnamed=True)
    )
    assert (counts.unnamed, counts.kinds) == (1, {"point": 1})


REFUSED = [
    (
        {"a.geojson": areas("juniper", "juniper")},
        Naming(program="basin"),
        'a.geojson: feature 2 is a second reference of the name "juniper" in the program basin',
        "Give each a name of its own, or another field that tells them apart with --name-field. "
        "Parts of one reference, of one kind and in one layer, are put together with --join.",
    ),
    (
        {"a.geojson": areas("juniper"), "b.geojson": areas("upper", "juniper")},
        Naming(),
        'b.geojson: feature 2 is a second reference of the name "juniper"; the first is in a.geojson',
        "Give each a name of its own, or another field that tells them apart with --name-field. "
        "Parts of one reference, of one kind and in one layer, are put together with --join.",
    ),
    (
        {"a.geojson": collection([feature(None, "Point", [0, 0], unit="x", size=3)])},
        Naming(),
        "a.geojson: feature 1 has no name",
        'Its fields are "unit", "size". Name the field that holds it with --name-field, or add --skip-unnamed.',
    ),
    (
        {"a.geojson": areas("juniper", UNIT_NAME="wash")},
        Naming(name_field="UNIT_NAM"),
        'a.geojson: feature 1 has no "UNIT_NAM" that names it',
        'Did you mean "UNIT_NAME"? Its fields are "name", "UNIT_NAME". Name another field, or add --skip-unnamed.',
    ),
    (
        {"a.geojson": areas("juniper")},
        Naming(program_field="award"),
        'a.geojson: feature 1 has no "award" that names its program',
        'Its fields are "name". Or write --program NAME for all.',
    ),
    (
        {"a.geojson": collection([feature(None, "Point", [0, 0])])},
        Naming(skip_unnamed=True),
        "a.geojson: no feature has a name in it",
        "Name the field that holds the names with --name-field.",
    ),
    ({"a.geojson": ""}, Naming(), "a.geojson: the file is empty", "Save it again from the program that made it."),
    (
        {"a.txt": "hello"},
        Naming(),
        "a.txt: this is not a GIS file",
        "GeoJSON, GPX, KML, shapefile (.shp), GeoPackage and FlatGeobuf files are read.",
    ),
]


@pytest.mark.parametrize(("files", "naming", "what", "advice"), REFUSED)
def test_what_cannot_go_in_is_refused(
    made: Made, tmp_path: Path, files: dict[str, str], naming: Naming, what: str, advice: str
) -> None:
    with pytest.raises((GeoFileError, CatalogueError)) as error:
        made(files, naming)
    assert str(error.value) == f"{what}\n{advice}"
    assert not list(tmp_path.glob("*.sqlite")) + list(tmp_path.glob(".afield-*"))


def test_nothing_to_build_from_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError) as error:
        build([], tmp_path / "refs.sqlite", Naming())
    assert str(error.value) == "refs.sqlite: there is nothing to build it from\nName one or more files."


@pytest.mark.parametrize("raised", [KeyboardInterrupt, OSError("no space"), sqlite3.OperationalError("disk full")])
def test_an_interrupted_build_leaves_the_old_catalogue_as_it_was(
    made: Made, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, raised: BaseException
) -> None:
    made({"areas.geojson": areas("juniper")})
    before = (tmp_path / "refs.sqlite").read_bytes()
    written = rows.Writer._write_shapes

    def stop_late(writer: rows.Writer, reference: int, shapes: object) -> None:
        written(writer, reference, shapes)
        if reference == 3:
            raise raised

    monkeypatch.setattr(rows.Writer, "_write_shapes", stop_late)
    with pytest.raises((KeyboardInterrupt, OSError, CatalogueError)):
        made({"more.geojson": areas("one", "two", "three", "four")})
    assert (tmp_path / "refs.sqlite").read_bytes() == before
    assert not list(tmp_path.glob(".afield-*"))


def test_a_disk_without_room_is_said(made: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(rows.Writer, "_write_shapes", full)
    with pytest.raises(CatalogueError) as error:
        made({"areas.geojson": areas("juniper")})
    assert str(error.value) == (
        "refs.sqlite: the catalogue cannot be written (database or disk is full); nothing was changed\n"
        "Make room there, or name another place with -o."
    )


def test_a_build_tells_how_far_it_is(made: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(geojson_stream, "_CHUNK", 10_000)
    told: list[tuple[str, int, float]] = []
    files = {"a.geojson": areas(*map(str, range(1200))), "b.csv": CSV}
    made(files, progress=lambda *how_far: told.append(how_far))
    assert [each[:2] for each in told] == [("a.geojson", 500), ("a.geojson", 1000), ("a.geojson", 1200), ("b.csv", 2)]
    assert [each[2] for each in told] == pytest.approx([500 / 1200, 1000 / 1200, 1, 1], abs=0.1)


def test_what_is_stated_of_a_file_is_its_own(made: Made, tmp_path: Path) -> None:
    made({"a.geojson": areas("juniper")}, stated=Provenance(source="a club"))
    assert rows_of(tmp_path / "refs.sqlite", "SELECT source, map_accuracy_m, level FROM layer") == [
        ("a club", None, None)
    ]


def test_every_layer_of_a_geopackage_and_a_shapefile_of_another_datum_go_in(tmp_path: Path) -> None:
    import numpy as np
    import shapely
    from pyogrio import raw

    def write(name: str, crs: str, layer: str | None, shapes: list[Any], names: list[str]) -> None:
        kind = shapes[0].geom_type
        wkb = np.array([shape.wkb for shape in shapes], object)
        raw.write(tmp_path / name, wkb, [np.array(names, object)], ["name"], layer=layer, geometry_type=kind, crs=crs)

    write("both.gpkg", "EPSG:4326", "areas", [shapely.box(-117.4, 39.8, -117.3, 39.9)], ["wash"])
    wkb = np.array([shapely.Point(-117.3, 39.9).wkb], object)
    raw.write(
        tmp_path / "both.gpkg", wkb, [np.array(["peak"], object)], ["name"], layer="points", geometry_type="Point",
        crs="EPSG:4326", append=True,
    )  # fmt: skip
    write("old.shp", "EPSG:4269", None, [shapely.LineString([(-117.3, 39.9), (-117.2, 39.9)])], ["trail"])
    wanted = [Wanted(tmp_path / name, name, Provenance()) for name in ("both.gpkg", "old.shp")]
    counts = build(wanted, tmp_path / "refs.sqlite", Naming())
    assert counts.kinds == {"area": 1, "point": 1, "line": 1}
    found = rows_of(tmp_path / "refs.sqlite", "SELECT file, name, crs, datum_accuracy_m > 0 FROM layer")
    assert found == [
        ("both.gpkg", "areas", "WGS 84 (EPSG:4326)", 0),
        ("both.gpkg", "points", "WGS 84 (EPSG:4326)", 0),
        ("old.shp", "old", "NAD83 (EPSG:4269)", 1),
    ]
    assert any(note.startswith("old.shp: coordinates rest on North American Datum 1983") for note in counts.notes)


def test_geojson_of_another_reference_system_is_taken_to_wgs_84(made: Made, tmp_path: Path) -> None:
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::32611"}}
    made({"a.geojson": collection([feature("post", "Point", [474110.0, 4417159.0])], crs=crs)})
    layer, _ = catalogue_layer(tmp_path / "refs.sqlite", "refs.sqlite", "post", None)
    assert layer.features[0].points == [pytest.approx((39.9041, -117.3029), abs=1e-4)]
    assert rows_of(tmp_path / "refs.sqlite", "SELECT edge_model FROM layer") == [("geodesic",)]
