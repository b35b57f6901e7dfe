"""GeoJSON read feature by feature says the same as GeoJSON read whole."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.catalogue import geojson_stream
from afield.plugins.geometry.catalogue.geojson_stream import FeatureStream
from afield.plugins.geometry.readers import GeoFileError, read_layer

from .conftest import collection, feature, square

POINT = feature("post", "Point", [-117.3, 39.9])


def read(path: Path, text: str) -> list[Any]:
    path.write_text(text, encoding="utf-8")
    return [found for _, found in FeatureStream(path, "a.geojson")]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
@given(
    chunk=st.integers(1, 200),
    indent=st.sampled_from([None, 0, 2]),
    names=st.lists(st.text(max_size=8), min_size=1, max_size=6),
    tail=st.booleans(),
    mark=st.booleans(),
)
def test_wherever_the_window_ends(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    chunk: int,
    indent: int | None,
    names: list[str],
    tail: bool,
    mark: bool,
) -> None:
    monkeypatch.setattr(geojson_stream, "_CHUNK", chunk)
    features = [feature(name, "Polygon", [square(-117.3, 39.9, 0.01)], note='},]"\\') for name in names]
    members: dict[str, Any] = {"type": "FeatureCollection", "bbox": [-1, 2, 3, 44]}
    whole = {"features": features, **members} if tail else {**members, "features": features}
    text = json.dumps(whole, indent=indent, ensure_ascii=False) + "\n"
    path = tmp_path / "a.geojson"
    path.write_bytes((b"\xef\xbb\xbf" if mark else b"") + text.encode("utf-8", "surrogatepass"))
    stream = FeatureStream(path, "a.geojson")
    assert [found for _, found in stream] == read_layer(path, "a.geojson").features
    assert stream.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()


def test_numbers_and_title_come_from_the_file(tmp_path: Path) -> None:
    text = collection([POINT, {**POINT, "geometry": None}, POINT], name="posts")
    (tmp_path / "a.geojson").write_text(text)
    stream = FeatureStream(tmp_path / "a.geojson", "a.geojson")
    assert [number for number, _ in stream] == [1, 3]
    assert (stream.title, stream.notes) == ("posts", ["a.geojson: 1 feature without a geometry was left out."])


@pytest.mark.parametrize(
    "coordinates",
    [
        [-117, 39.9],
        [-117.3, 39.9, 1200.0],
        [190.0, 39.9],
        [-117.3, 91.0],
        [True, 39.9],
        ["1", 2.0],
        [float("nan"), 1.0],
        [1.0],
    ],
)
def test_positions_are_taken_and_refused_as_by_the_whole_reader(tmp_path: Path, coordinates: list[Any]) -> None:
    text = collection([feature("post", "MultiPoint", [coordinates])])

    def outcome(work: Any) -> Any:
        try:
            return work()
        except GeoFileError as error:
            return str(error)

    streamed = outcome(lambda: read(tmp_path / "a.geojson", text))
    assert streamed == outcome(lambda: read_layer(tmp_path / "a.geojson", "a.geojson").features)


WRONG = [
    (
        '{"type": "FeatureCollection", "features": [{"type": "Fea',
        "a.geojson: the file breaks off in line 1: it is cut short",
        "Copy or download it again.",
    ),
    (
        '{"type": "FeatureCollection",\n"features": [\n',
        "a.geojson: the file breaks off in line 2: it is cut short",
        "Copy or download it again.",
    ),
    (
        '{"type": "FeatureCollection",\n "features": [}]}',
        "a.geojson:2:15: this is not JSON (expecting value)",
        "Save it again as GeoJSON from the program that made it.",
    ),
    (
        '{"type": "FeatureCollection", "features": []} []',
        "a.geojson:1:47: this is not JSON (extra data)",
        "Save it again as GeoJSON from the program that made it.",
    ),
    (
        '{"type": "FeatureCollection", "features": [1]}',
        "a.geojson: feature 1 is not a GeoJSON feature",
        'Each member of "features" says "type": "Feature" and has a "geometry".',
    ),
    (
        '{"type": "Thing", "features": []}',
        "a.geojson: this is JSON but not GeoJSON",
        'A GeoJSON file says "type": "FeatureCollection" and has a list of "features".',
    ),
    (
        '{"type": "FeatureCollection", "features": 5}',
        "a.geojson: this is JSON but not GeoJSON",
        'A GeoJSON file says "type": "FeatureCollection" and has a list of "features".',
    ),
    (
        '{"type": "FeatureCollection", "features": [], "crs": {"type": "name", "properties": {"name": "EPSG:26911"}}}',
        "a.geojson: a coordinate reference system other than WGS 84 stands behind the features",
        "Save the file in WGS 84 (EPSG:4326).",
    ),
]


@pytest.mark.parametrize(("text", "what", "advice"), WRONG)
@pytest.mark.parametrize("chunk", [3, 1 << 20])
def test_what_is_not_geojson_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, what: str, advice: str, chunk: int
) -> None:
    monkeypatch.setattr(geojson_stream, "_CHUNK", chunk)
    with pytest.raises(GeoFileError) as error:
        read(tmp_path / "a.geojson", text)
    assert str(error.value) == f"{what}\n{advice}"


def test_text_that_is_not_utf_8_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.geojson").write_bytes(collection([POINT]).replace("post", "p\xf6st").encode("latin-1"))
    with pytest.raises(GeoFileError) as error:
        list(FeatureStream(tmp_path / "a.geojson", "a.geojson"))
    assert error.value.what == "a.geojson: the text is not UTF-8"
