import json
from pathlib import Path

import pytest

from afield.plugins.geometry.readers import GeoFileError, contents, read_layer

NOT_READ = "GeoJSON, GPX, KML, shapefile (.shp), GeoPackage and FlatGeobuf files are read."
SAVE_AS_GEOJSON = "Save it again as GeoJSON from the program that made it."
COPY_AGAIN = "Copy or download it again, or save it again from the program that made it."
IS_GEOJSON = 'A GeoJSON file says "type": "FeatureCollection" and has a list of "features".'
ORDER = "A position is [longitude, latitude] in degrees."
NO_FEATURES = "Save the file again with the points, lines or areas in it."


def refusal(path: Path, layer: str | None = None) -> tuple[str, str]:
    with pytest.raises(GeoFileError) as caught:
        read_layer(path, f"maps/{path.name}", layer)
    return caught.value.what, caught.value.advice


def refusal_of(folder: Path, name: str, content: str | bytes, layer: str | None = None) -> tuple[str, str]:
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return refusal(path, layer)


def point_file(coordinates: str) -> str:
    return f'{{"type": "Feature", "properties": {{}}, "geometry": {{"type": "Point", "coordinates": {coordinates}}}}}'


def test_an_absent_file_is_answered_with_a_near_name(tmp_path: Path) -> None:
    (tmp_path / "units.geojson").write_text("{}")
    what, advice = refusal(tmp_path / "unit.geojson")
    assert what == "maps/unit.geojson: there is no such file"
    assert advice == 'Did you mean "units.geojson"? Write its path as seen from the folder of the file that names it.'


def test_an_absent_folder_is_an_absent_file(tmp_path: Path) -> None:
    what, advice = refusal(tmp_path / "nowhere" / "unit.geojson")
    assert what == "maps/unit.geojson: there is no such file"
    assert advice == "Write its path as seen from the folder of the file that names it."


def test_a_name_that_the_system_refuses_is_no_crash(tmp_path: Path) -> None:
    what, advice = refusal(tmp_path / ("x" * 400))
    assert what == f"maps/{'x' * 400}: the file cannot be read (file name too long)"
    assert advice == "Check its permissions."


def test_a_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "units").mkdir()
    assert refusal(tmp_path / "units") == ("maps/units: this is a folder", "Name a file in it.")


def test_a_file_beyond_the_bound_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert contents.LARGEST_BYTES == 200_000_000
    with (tmp_path / "big.geojson").open("wb") as stream:
        stream.truncate(201_400_000)  # sparse: no disk is filled
    monkeypatch.setattr(Path, "read_bytes", lambda _: pytest.fail("the file was read"))
    what, advice = refusal(tmp_path / "big.geojson")
    assert what == "maps/big.geojson: 201 MB is more than the 200 MB that are read"
    assert advice == "Cut out the features that you need and save them as a GeoJSON file."


def test_the_companions_of_a_shapefile_count_for_its_size(tmp_path: Path) -> None:
    (tmp_path / "big.shp").write_bytes(b"\x00\x00\x27\x0a")
    with (tmp_path / "big.dbf").open("wb") as stream:
        stream.truncate(250_000_000)
    assert refusal(tmp_path / "big.shp")[0] == "maps/big.shp: 250 MB is more than the 200 MB that are read"


@pytest.mark.parametrize(
    ("name", "content", "what", "advice"),
    [
        ("empty.gpx", "", "the file is empty", "Save it again from the program that made it."),
        ("notes.txt", "a walk by the river", "this is not a GIS file", NOT_READ),
        ("photo.jpg", b"\xff\xd8\xff\xe0\x00\x10JFIF", "this is not a GIS file", NOT_READ),
        ("blank.geojson", " \n ", "this is not a GIS file", NOT_READ),
        (
            "doc.kmz",
            b"PK\x03\x04rest",
            "this is a zip archive",
            "Unpack it and name the file inside (a .kmz holds a .kml).",
        ),
        ("list.json", "[1, 2]", "this is JSON but not GeoJSON", IS_GEOJSON),
        ("settings.json", '{"name": "x"}', "this is JSON but not GeoJSON", IS_GEOJSON),
        ("odd.json", '{"type": "FeatureCollection"}', "this is JSON but not GeoJSON", IS_GEOJSON),
        ("topo.json", '{"type": "Topology", "arcs": []}', "this is TopoJSON", "Convert it to GeoJSON."),
        ("latin.json", b'{"type": "\xe9"}', "the text is not UTF-8", SAVE_AS_GEOJSON),
        ("deep.json", "[" * 200_000, "the JSON is nested too deeply", SAVE_AS_GEOJSON),
        ("digits.json", point_file(f"[{'1' * 5000}, 0]"), "a number has too many digits", SAVE_AS_GEOJSON),
        (
            "cut.geojson",
            '{"type": "FeatureCollection",\n "features": [{"type": "Fea',
            "the file breaks off in line 2: it is cut short",
            "Copy or download it again.",
        ),
        (
            "cut2.geojson",
            '{"type": "FeatureCollection",\n "features": [\n',
            "the file breaks off in line 2: it is cut short",
            "Copy or download it again.",
        ),
        ("none.geojson", '{"type": "FeatureCollection", "features": []}', "there are no features in it", NO_FEATURES),
        ("none.gpx", "<gpx/>", "there are no features in it", NO_FEATURES),
        ("page.html", "<html><body/></html>", "this is XML (html), but neither GPX nor KML", NOT_READ),
        (
            "odd.gpx",
            b'<?xml version="1.0" encoding="x-none"?><gpx/>',
            "the XML is in an encoding that is not known",
            COPY_AGAIN,
        ),
        (
            "feature.geojson",
            '{"type": "FeatureCollection", "features": [7]}',
            "feature 1 is not a GeoJSON feature",
            'Each member of "features" says "type": "Feature" and has a "geometry".',
        ),
    ],
)
def test_a_file_that_is_no_map_is_refused(
    tmp_path: Path, name: str, content: str | bytes, what: str, advice: str
) -> None:
    assert refusal_of(tmp_path, name, content) == (f"maps/{name}: {what}", advice)


def test_json_that_is_wrong_is_pointed_at_by_line_and_column(tmp_path: Path) -> None:
    found = refusal_of(tmp_path, "a.geojson", '{"type": "Feature",\n "id": nope}')
    assert found == ("maps/a.geojson:2:8: this is not JSON (expecting value)", SAVE_AS_GEOJSON)


def test_xml_that_breaks_off_is_pointed_at_by_line_and_column(tmp_path: Path) -> None:
    found = refusal_of(tmp_path, "a.gpx", "<gpx>\n<trk>")
    assert found == ("maps/a.gpx:2:6: this is not whole XML (no element found)", COPY_AGAIN)


DOCTYPE = "this XML declares a document type (DOCTYPE), which can hide other files in it"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
@pytest.mark.parametrize(
    "declared",
    [
        "<!DOCTYPE gpx>",
        '<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/hostname">]>',
        '<!DOCTYPE gpx [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>',
        '<!DOCTYPE gpx SYSTEM "http://example.org/x.dtd">',
    ],
)
def test_xml_with_a_doctype_is_refused_in_any_encoding(tmp_path: Path, declared: str, encoding: str) -> None:
    content = f"<?xml version='1.0' encoding='{encoding}'?>{declared}<gpx><wpt lat='1' lon='2'/></gpx>"
    found = refusal_of(tmp_path, "trap.gpx", content.encode(encoding))
    advice = "Remove the DOCTYPE, or save the file again from the program that made it."
    assert found == (f"maps/trap.gpx: {DOCTYPE}", advice)


def test_xml_nested_without_end_is_refused(tmp_path: Path) -> None:
    found = refusal_of(tmp_path, "deep.kml", "<kml>" + "<Folder>" * 100_000)
    advice = "Save the file again from the program that made it."
    assert found == ("maps/deep.kml: elements are nested more than 100 deep", advice)


PROJECTED = (
    "These look like metres or feet of a projected map, not degrees. Save the file in WGS 84 (EPSG:4326), or with its "
    "coordinate reference system."
)
NOT_FINITE = "a coordinate is not a finite number (NaN or infinity)"
MEND = "Remove or mend that position."
COORDINATES_LIST = "Compare it with RFC 7946, section 3.1."


@pytest.mark.parametrize(
    ("coordinates", "what", "advice"),
    [
        ("[39.9, -117.3]", "latitude -117.3 is outside -90 to 90", f"Are latitude and longitude swapped? {ORDER}"),
        ("[117.3, 95]", "latitude 95 is outside -90 to 90", ORDER),
        ("[474110, 4417159]", "longitude 474110, latitude 4.41716e+06 is no place on earth", PROJECTED),
        ("[NaN, 1]", NOT_FINITE, MEND),
        ("[1, NaN]", NOT_FINITE, MEND),
        ("[1e999, 1]", NOT_FINITE, MEND),
        (f"[1{'0' * 400}, 1]", NOT_FINITE, MEND),
        ('["1", 2]', "\"['1', 2]\" is not a position", ORDER),
        ("[true, 2]", "'[True, 2]' is not a position", ORDER),
        ("[1]", "'[1]' is not a position", ORDER),
    ],
)
def test_a_position_that_is_no_place_is_refused(tmp_path: Path, coordinates: str, what: str, advice: str) -> None:
    found = refusal_of(tmp_path, "a.geojson", point_file(coordinates))
    assert found == (f"maps/a.geojson: feature 1: {what}", advice)


def test_coordinates_that_are_no_list_are_refused(tmp_path: Path) -> None:
    found = refusal_of(tmp_path, "a.geojson", point_file('"here"'))
    assert found == ('maps/a.geojson: feature 1: "coordinates" is not a list', COORDINATES_LIST)


def test_the_feature_with_the_wrong_position_is_named(tmp_path: Path) -> None:
    features = [
        {"type": "Feature", "properties": {}, "geometry": {"type": "Point", "coordinates": [1, 2]}},
        {
            "type": "Feature",
            "properties": {"name": "Low Meadow"},
            "geometry": {"type": "Point", "coordinates": [1, 99]},
        },
    ]
    found = refusal_of(tmp_path, "a.geojson", json.dumps({"type": "FeatureCollection", "features": features}))
    assert found == ('maps/a.geojson: feature 2 ("Low Meadow"): latitude 99 is outside -90 to 90', _swapped())


def _swapped() -> str:
    return f"Are latitude and longitude swapped? {ORDER}"


def test_a_layer_of_a_file_with_one_layer_is_named_right(tmp_path: Path) -> None:
    found = refusal_of(tmp_path, "units.geojson", point_file("[1, 2]"), layer="parks")
    advice = 'It has one layer, "units": leave the layer out.'
    assert found == ('maps/units.geojson: there is no layer "parks" in it', advice)


def test_an_error_reads_as_what_and_advice() -> None:
    assert str(GeoFileError("a.gpx: the file is empty", "Save it again.")) == "a.gpx: the file is empty\nSave it again."
