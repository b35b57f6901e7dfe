"""The plainest GeoTIFFs without GDAL: the same grid as by GDAL, and every other file left to it."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
import pyproj
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.readers import GeoFileError
from afield.plugins.geometry.terrain import plain_tiff
from afield.plugins.geometry.terrain.plain_tiff import read_plain
from afield.plugins.geometry.terrain.raster import read_raster

from .conftest import butte, write_tif

PLAIN = [
    {},
    {"compress": "deflate"},
    {"compress": "deflate", "crs": "EPSG:32611+5714"},
    {"crs": "EPSG:2154", "step_m": 2.5},
]
OTHER = {
    "another packing": {"compress": "lzw"},
    "a predictor": {"compress": "deflate", "predictor": 3},
    "tiles": {"tiled": True, "blockxsize": 16, "blockysize": 16},
    "posts as points": {"point": True},
    "degrees": {"crs": "EPSG:4326", "step_m": 0.0001},
    "a plane in feet": {"crs": "EPSG:2225"},
    "no place on earth": {"crs": None},
    "a mark for gaps": {"nodata": -9999},
    "big-endian": {"ENDIANNESS": "BIG"},
    "a large file": {"BIGTIFF": "YES"},
}
LENGTH = b"\x01\x01\x03\x00\x01\x00\x00\x00"
"""The tag of an image's length, before its value."""
SIDES = st.integers(3, 40)


def differences(path: Path) -> list[str]:
    """In what the two readers do not tell the same of a file."""
    plain, whole = read_plain(path, "a.tif", None), read_raster(path, "a.tif", "GTiff", None)
    if plain is None:
        return ["it is left to GDAL"]
    windows = ((0, whole.rows, 0, whole.columns), (1, 3, 2, 3))
    agree = {
        "heights": all(
            np.array_equal(plain.heights_m(*window), whole.heights_m(*window), equal_nan=True) for window in windows
        ),
        "places": (plain.x, plain.y, plain.step_x, plain.step_y) == (whole.x, whole.y, whole.step_x, whole.step_y),
        "unit": (plain.unit, plain.notes, plain.bounds) == (whole.unit, whole.notes, whole.bounds),
        "system": pyproj.CRS(plain.crs).equals(pyproj.CRS(whole.crs), ignore_axis_order=True),
    }
    return [name for name, same in agree.items() if not same]


@pytest.mark.parametrize("more", PLAIN)
def test_it_tells_what_gdal_tells(tmp_path: Path, more: dict[str, Any]) -> None:
    assert differences(write_tif(tmp_path / "a.tif", butte(), **more)) == []


def test_feet_are_told_alike(tmp_path: Path) -> None:
    assert differences(write_tif(tmp_path / "a.tif", butte(), unit="ft")) == []


@given(rows=SIDES, columns=SIDES, packed=st.booleans(), seed=st.integers(0, 9))
@settings(max_examples=40, deadline=None)
def test_whatever_its_size_it_tells_what_gdal_tells(rows: int, columns: int, packed: bool, seed: int) -> None:
    heights = np.random.default_rng(seed).uniform(0, 3000, (rows, columns)).astype("float32")
    heights[0, 0] = np.nan
    with tempfile.TemporaryDirectory() as folder:
        more = {"compress": "deflate"} if packed else {}
        assert differences(write_tif(Path(folder) / "a.tif", heights, **more)) == []


@pytest.mark.parametrize("name", OTHER)
def test_every_other_form_is_left_to_gdal(tmp_path: Path, name: str) -> None:
    assert read_plain(write_tif(tmp_path / "a.tif", butte(), **OTHER[name]), "a.tif", None) is None


@pytest.mark.parametrize("kind", ["int16", "uint8", "float64"])
def test_every_other_number_is_left_to_gdal(tmp_path: Path, kind: str) -> None:
    assert read_plain(write_tif(tmp_path / "a.tif", butte().astype(kind)), "a.tif", "m") is None


def test_scaled_heights_are_left_to_gdal(tmp_path: Path) -> None:
    import rasterio

    path = write_tif(tmp_path / "a.tif", butte())
    with rasterio.open(path, "r+") as raster:
        raster.scales = (0.1,)
    assert read_plain(path, "a.tif", "m") is None


def test_a_vertical_system_alone_is_left_to_gdal(tmp_path: Path) -> None:
    path = write_tif(tmp_path / "a.tif", butte(), crs="EPSG:32611+6360", unit="")
    assert read_plain(path, "a.tif", None) is None


def test_what_is_too_large_is_left_to_gdal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write_tif(tmp_path / "a.tif", np.zeros((200, 200), "float32"), compress="deflate")
    assert read_plain(path, "a.tif", None) is not None
    monkeypatch.setattr(plain_tiff, "MOST_BYTES", 4 * 200 * 200 - 1)
    assert read_plain(path, "a.tif", None) is None


def test_a_strip_that_opens_into_more_than_is_due_is_left_to_gdal(tmp_path: Path) -> None:
    path = write_tif(tmp_path / "a.tif", np.zeros((64, 48), "float32"), compress="deflate")
    content = path.read_bytes()
    assert read_plain(path, "a.tif", None) is not None
    # The directory that counts is the last: the unit was written after the heights.
    before, after = content.rsplit(LENGTH + b"\x40", 1)
    path.write_bytes(before + LENGTH + b"\x3f" + after)
    assert read_plain(path, "a.tif", None) is None


def test_too_small_a_grid_is_refused(tmp_path: Path) -> None:
    with pytest.raises(GeoFileError) as caught:
        read_plain(write_tif(tmp_path / "a.tif", np.zeros((2, 5), "float32")), "a.tif", None)
    assert caught.value.what == "a.tif: the grid has 2 x 5 posts"


@pytest.fixture(scope="module")
def plain_bytes(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return write_tif(tmp_path_factory.mktemp("plain") / "a.tif", butte(posts=9), compress="deflate").read_bytes()


@given(st.data())
@settings(max_examples=300, deadline=None)
def test_a_damaged_file_is_never_half_read(plain_bytes: bytes, data: st.DataObject) -> None:
    content = bytearray(plain_bytes)
    for _ in range(data.draw(st.integers(1, 3))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    del content[data.draw(st.integers(len(content) // 2, len(content))) :]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.tif"
        path.write_bytes(content)
        try:
            grid = read_plain(path, "a.tif", None)
        except GeoFileError:
            return
        if grid is not None:
            assert grid.heights_m(0, grid.rows, 0, grid.columns).shape == (grid.rows, grid.columns)


def test_no_gdal_is_imported_for_it(tmp_path: Path) -> None:
    path = write_tif(tmp_path / "a.tif", butte())
    code = (
        "import sys; from pathlib import Path; from afield.plugins.geometry.terrain.reading import read_grid; "
        f"read_grid(Path({str(path)!r}), 'a.tif', None).heights_m(0, 5, 0, 5); print('rasterio' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"
