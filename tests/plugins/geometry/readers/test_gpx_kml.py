from pathlib import Path

import pytest

from afield.plugins.geometry.readers import GeoFileError, Layer, read_layer

GPX = """<?xml version="1.0"?>
<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">
 <metadata><name>Old freight road</name></metadata>
 <wpt lat="39.5" lon="-117.5"><name>Ford</name><ele>1700</ele></wpt>
 <rte><name>Short cut</name><rtept lat="1" lon="2"/><rtept lat="3" lon="4"/></rte>
 <trk><name>Road</name>
  <trkseg><trkpt lat="39" lon="-117"/><trkpt lat="39.1" lon="-117.1"/></trkseg>
  <trkseg><trkpt lat="40" lon="-118"/></trkseg>
  <trkseg/>
  <trkseg><trkpt lat="41" lon="-118"><ele>1</ele></trkpt><trkpt lat="41.1" lon="-118.1"/></trkseg>
 </trk>
</gpx>"""

KML = """<kml xmlns="http://www.opengis.net/kml/2.2"><Document><name>Basin</name><Folder>
<Placemark id="p1"><name>Spring</name><description>wet</description>
 <Point><coordinates> -117.3,39.9,1500 </coordinates></Point></Placemark>
<Placemark><name>Unit</name><ExtendedData><Data name="code"><value>17</value></Data>
 <SchemaData><SimpleData name="acres">40</SimpleData></SchemaData></ExtendedData>
 <Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 4,0 4,4 0,0</coordinates></LinearRing></outerBoundaryIs>
 <innerBoundaryIs><LinearRing><coordinates>2,1 3,1 3,2 2,1</coordinates></LinearRing></innerBoundaryIs>
 <innerBoundaryIs><LinearRing><coordinates>1,.1 1.2,.1 1.2,.2 1,.1</coordinates></LinearRing></innerBoundaryIs>
 </Polygon></Placemark>
<Placemark><MultiGeometry><LineString><coordinates>1,2 3,4</coordinates></LineString>
 <MultiGeometry><LineString><coordinates>5,6
 7,8</coordinates></LineString></MultiGeometry></MultiGeometry></Placemark>
</Folder><NetworkLink><Link><href>http://example.org/x.kml</href></Link></NetworkLink></Document></kml>"""


def layer_of(folder: Path, name: str, content: str, layer: str | None = None) -> Layer:
    path = folder / name
    path.write_text(content, encoding="utf-8")
    return read_layer(path, name, layer)


def refusal_of(folder: Path, name: str, content: str, layer: str | None = None) -> tuple[str, str]:
    with pytest.raises(GeoFileError) as caught:
        layer_of(folder, name, content, layer)
    return caught.value.what, caught.value.advice


def test_a_gpx_file_gives_waypoints_routes_and_tracks(tmp_path: Path) -> None:
    layer = layer_of(tmp_path, "road.gpx", GPX)
    assert [(feature.kind, feature.name) for feature in layer.features] == [
        ("point", "Ford"),
        ("line", "Short cut"),
        ("line", "Road"),
    ]
    assert (layer.name, layer.edge_model, layer.datum_accuracy_m) == ("Old freight road", "geodesic", 0.0)
    assert layer.features[0].properties == {"ele": "1700"}


def test_the_segments_of_a_track_are_never_joined(tmp_path: Path) -> None:
    layer = layer_of(tmp_path, "road.gpx", GPX)
    assert layer.features[2].lines == [[(39, -117), (39.1, -117.1)], [(41, -118), (41.1, -118.1)]]
    assert layer.notes == ["road.gpx: 2 lines of fewer than two points were left out."]


@pytest.mark.parametrize(("layer", "names"), [("tracks", ["Road"]), ("routes", ["Short cut"]), ("waypoints", ["Ford"])])
def test_a_layer_of_a_gpx_file_is_one_sort_of_thing(tmp_path: Path, layer: str, names: list[str]) -> None:
    read = layer_of(tmp_path, "road.gpx", GPX, layer)
    assert (read.name, [feature.name for feature in read.features]) == (layer, names)


def test_another_layer_of_a_gpx_file_is_refused(tmp_path: Path) -> None:
    assert refusal_of(tmp_path, "road.gpx", GPX, "track") == (
        'road.gpx: there is no layer "track" in it',
        'Did you mean "tracks"? Its layers are "tracks", "routes", "waypoints".',
    )


@pytest.mark.parametrize(
    ("attributes", "said"),
    [('lat="39"', "lat='39' and lon=None"), ('lat="x" lon="2"', "lat='x' and lon='2'")],
)
def test_a_gpx_point_without_two_numbers_is_refused(tmp_path: Path, attributes: str, said: str) -> None:
    assert refusal_of(tmp_path, "a.gpx", f"<gpx><wpt {attributes}/></gpx>") == (
        f"a.gpx: a wpt has {said}: not two numbers",
        'A point is written <trkpt lat="39.9" lon="-117.3">, in degrees.',
    )


def test_a_gpx_point_of_nan_is_refused(tmp_path: Path) -> None:
    assert refusal_of(tmp_path, "a.gpx", '<gpx><wpt lat="nan" lon="2"><name>Ford</name></wpt></gpx>') == (
        'a.gpx: feature 1 ("Ford"): a coordinate is not a finite number (NaN or infinity)',
        "Remove or mend that position.",
    )


def test_kml_placemarks_are_read_at_any_depth(tmp_path: Path) -> None:
    layer = layer_of(tmp_path, "basin.kml", KML)
    spring, unit, lines = layer.features
    assert (layer.name, layer.edge_model, layer.datum_accuracy_m) == ("Basin", "geodesic", 0.0)
    assert (spring.id, spring.name, spring.points, spring.properties) == (
        "p1",
        "Spring",
        [(39.9, -117.3)],
        {"description": "wet"},
    )
    assert lines.lines == [[(2, 1), (4, 3)], [(6, 5), (8, 7)]]
    assert (unit.kind, unit.properties) == ("area", {"code": "17", "acres": "40"})


def test_both_holes_of_a_kml_polygon_are_kept(tmp_path: Path) -> None:
    (polygon,) = layer_of(tmp_path, "basin.kml", KML).features[1].areas
    assert [ring[0] for ring in polygon] == [(0, 0), (1, 2), (0.1, 1)]


def test_what_kml_links_to_is_not_followed_and_said(tmp_path: Path) -> None:
    assert layer_of(tmp_path, "basin.kml", KML).notes == ["basin.kml: not read: 1 NetworkLink."]


def test_kml_coordinates_that_are_no_pairs_are_refused(tmp_path: Path) -> None:
    mark = "<kml><Placemark><Point><coordinates>-117.3, 39.9</coordinates></Point></Placemark></kml>"
    assert refusal_of(tmp_path, "a.kml", mark) == (
        'a.kml: coordinates "-117.3, 39.9" are not pairs of numbers',
        'Write each position "longitude,latitude" without blanks in it: "-117.3,39.9 -117.2,39.9".',
    )


def test_a_point_keeps_the_digits_of_its_text(tmp_path: Path) -> None:
    gpx = layer_of(tmp_path, "a.gpx", GPX.replace('lat="39.5"', 'lat="39.500000"'))
    kml = layer_of(tmp_path, "a.kml", KML.replace("-117.3,39.9,", "-117.300,39.9,"))
    assert [getattr(angle, "written", None) for angle in gpx.features[0].points[0]] == ["39.500000", "-117.5"]
    assert [getattr(angle, "written", None) for angle in kml.features[0].points[0]] == ["39.9", "-117.300"]
