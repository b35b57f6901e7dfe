"""Terrain grids from their files: where the posts are, heights in metres, and every refusal whole."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pyproj
import pytest

from afield.plugins.geometry.readers import GeoFileError
from afield.plugins.geometry.terrain.grid import Grid
from afield.plugins.geometry.terrain.reading import read_grid

from .conftest import STEP_M, ZONE, butte, centre_m, write_tif

SMALL = np.arange(20, dtype="float32").reshape(4, 5) + 100


def all_of(grid: Grid) -> Any:
    return grid.heights_m(0, grid.rows, 0, grid.columns)


def ascii_grid(folder: Path, prj: str | None = ZONE) -> Path:
    x, y = centre_m()
    corner = f"xllcorner {x - 12.5}\nyllcorner {y - 10}\ncellsize 5\nNODATA_value -9999\n"
    rows = "\n".join(" ".join(str(height) for height in row) for row in SMALL.tolist())
    (folder / "hill.asc").write_text(f"ncols 5\nnrows 4\n{corner}{rows}\n", encoding="ascii")
    if prj:
        (folder / "hill.prj").write_text(pyproj.CRS(prj).to_wkt("WKT1_ESRI"), encoding="ascii")
    return folder / "hill.asc"


def npz(path: Path, **changed: Any) -> Path:
    x, y = centre_m()
    held = {"heights": SMALL, "x": x - 10, "y": y + 7.5, "step_x": 5.0, "step_y": -5.0, "crs": ZONE, "unit": "m"}
    held |= changed
    np.savez(path, **{key: value for key, value in held.items() if value is not None})
    return path


def test_three_formats_give_the_same_grid(tmp_path: Path) -> None:
    paths = (write_tif(tmp_path / "a.tif", SMALL), ascii_grid(tmp_path), npz(tmp_path / "a.npz"))
    grids = [read_grid(path, path.name, "m" if path.suffix == ".asc" else None) for path in paths]
    x, y = centre_m()
    for grid in grids:
        assert np.array_equal(all_of(grid), SMALL)
        assert (grid.x, grid.y) == pytest.approx((x - 10, y + 7.5), abs=1e-6)
        assert (grid.step_x, grid.step_y, grid.notes) == (5, -5, ())


@pytest.mark.parametrize("point", [False, True])
def test_posts_are_the_middles_of_cells_whether_of_points_or_of_areas(tmp_path: Path, point: bool) -> None:
    grid = read_grid(write_tif(tmp_path / "a.tif", butte(), point=point), "a.tif", None)
    assert (grid.x + 60 * STEP_M, grid.y - 60 * STEP_M) == pytest.approx(centre_m(), abs=1e-6)


@pytest.mark.parametrize("more", [{"compress": "lzw", "predictor": 3}, {"compress": "deflate", "tiled": True}, {}])
def test_a_window_is_read_from_every_packing(tmp_path: Path, more: dict[str, Any]) -> None:
    if more.get("tiled"):
        more |= {"blockxsize": 16, "blockysize": 16}
    grid = read_grid(write_tif(tmp_path / "a.tif", butte(), **more), "a.tif", None)
    assert np.array_equal(grid.heights_m(50, 60, 3, 9), butte()[50:60, 3:9])


@pytest.mark.parametrize(("unit", "metres"), [("ft", 0.3048), ("US survey foot", 1200 / 3937), ("metre", 1.0)])
def test_heights_in_feet_are_taken_to_metres_and_said(tmp_path: Path, unit: str, metres: float) -> None:
    grid = read_grid(write_tif(tmp_path / "a.tif", SMALL, unit=unit), "a.tif", None)
    assert np.allclose(all_of(grid), SMALL * metres, rtol=1e-6)
    names = {"ft": "ft", "US survey foot": "US survey ft"}
    assert grid.notes == ((f"a.tif: heights were taken from {names[unit]} to metres.",) if metres != 1 else ())


def test_the_unit_is_that_of_a_vertical_system(tmp_path: Path) -> None:
    # EPSG:6360 is a height in US survey feet.
    path = write_tif(tmp_path / "a.tif", SMALL, crs="EPSG:32611+6360", unit="")
    assert read_grid(path, "a.tif", None).unit == "US survey ft"


def test_no_data_and_what_no_land_has_are_gaps(tmp_path: Path) -> None:
    heights = SMALL.copy()
    heights[0, :3] = (-32768, -9999, 1e30)
    heights[1, 1] = 7
    grid = read_grid(write_tif(tmp_path / "a.tif", heights, nodata=7), "a.tif", None)
    assert np.argwhere(np.isnan(all_of(grid))).tolist() == [[0, 0], [0, 1], [0, 2], [1, 1]]


def test_scaled_heights_are_unscaled(tmp_path: Path) -> None:
    import rasterio

    path = write_tif(tmp_path / "a.tif", SMALL.astype("int16"))
    with rasterio.open(path, "r+") as raster:
        raster.scales, raster.offsets = (0.1,), (1000,)
    assert np.allclose(all_of(read_grid(path, "a.tif", None)), SMALL * 0.1 + 1000)


def refusal(path: Path, heights_in: str | None = None) -> str:
    with pytest.raises(GeoFileError) as caught:
        read_grid(path, path.name, heights_in)
    return f"{caught.value.what}\n{caught.value.advice}"


TIE = (
    "Export it again with its coordinate reference system (a GeoTIFF holds it, an ESRI ASCII grid needs its .prj file "
    "beside it)."
)
AGAIN = "Export it again as a GeoTIFF of one band from the program that made it."
KINDS = "GeoTIFF, ESRI ASCII grid and NumPy (.npz) files are read."


def test_refuses_a_grid_without_georeference(tmp_path: Path) -> None:
    for path in (write_tif(tmp_path / "a.tif", SMALL, crs=None), ascii_grid(tmp_path, prj=None)):
        assert refusal(path, "m") == f"{path.name}: the grid does not say where on the earth it lies\n{TIE}"


def test_refuses_a_grid_whose_unit_nobody_says(tmp_path: Path) -> None:
    assert refusal(write_tif(tmp_path / "a.tif", SMALL, unit="")) == (
        "a.tif: the grid does not say the unit of its heights\n"
        "Write it in the geometry: `heights_in: m` (or ft, or US survey ft)."
    )


def test_refuses_units_that_disagree_or_are_not_known(tmp_path: Path) -> None:
    path = write_tif(tmp_path / "a.tif", SMALL, unit="ft")
    assert refusal(path, "m") == (
        "a.tif: its heights are in ft, `heights_in` says m\nLeave `heights_in` out, or correct the file."
    )
    assert refusal(write_tif(tmp_path / "b.tif", SMALL, unit="ell")) == (
        'b.tif: its heights are in "ell", which is not known\nSave the grid with its heights in metres.'
    )


def test_refuses_what_is_no_single_band_of_heights(tmp_path: Path) -> None:
    import rasterio

    path = write_tif(tmp_path / "a.tif", SMALL)
    with rasterio.open(path) as raster:
        profile = raster.profile | {"count": 3}
    with rasterio.open(tmp_path / "b.tif", "w", **profile) as raster:
        raster.write(np.stack([SMALL] * 3))
    assert refusal(tmp_path / "b.tif") == f"b.tif: it has 3 bands: a grid of heights has one\n{AGAIN}"
    assert refusal(write_tif(tmp_path / "c.tif", SMALL.astype("complex64"))) == (
        f"c.tif: its values are complex64, which are no heights\n{AGAIN}"
    )


def test_refuses_a_turned_grid(tmp_path: Path) -> None:
    import rasterio
    from rasterio.transform import Affine

    path = write_tif(tmp_path / "a.tif", SMALL)
    with rasterio.open(path, "r+") as raster:
        raster.transform = Affine(5, 1, 5e5, 1, -5, 4e6)
    assert refusal(path) == "a.tif: the grid is turned against its coordinates\nExport it again with north up."


def test_refuses_a_grid_that_is_too_small_or_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert refusal(write_tif(tmp_path / "a.tif", SMALL[:2])) == (
        "a.tif: the grid has 2 x 5 posts\nAt least 3 x 3 are needed; export the terrain around it too."
    )
    monkeypatch.setattr("afield.plugins.geometry.terrain.grid.MOST_POSTS", 10)
    assert refusal(write_tif(tmp_path / "b.tif", SMALL)) == (
        "b.tif: 20 posts are more than the 10 that are read\nCut out a few kilometres around the summit."
    )


def test_refuses_files_that_are_broken_or_no_grids(tmp_path: Path) -> None:
    (tmp_path / "a.tif").write_bytes(write_tif(tmp_path / "b.tif", butte()).read_bytes()[:3000])
    (tmp_path / "c.tif").write_bytes(b"II*\0 but nothing more")
    (tmp_path / "d.txt").write_bytes(b"a hill")
    assert refusal(tmp_path / "c.tif") == f"c.tif: this GeoTIFF cannot be read\n{AGAIN}"
    assert refusal(tmp_path / "d.txt") == f"d.txt: this is not a terrain grid\n{KINDS}"
    with pytest.raises(GeoFileError) as caught:
        all_of(read_grid(tmp_path / "a.tif", "a.tif", None))
    assert caught.value.what == "a.tif: this GeoTIFF cannot be read"
    assert refusal(tmp_path / "e.tif").startswith("e.tif: there is no such file\n")


FORM = (
    "A NumPy archive holds `heights` (rows, columns; no data as NaN), `x` and `y` of the first post, `step_x` and "
    "`step_y` to the next (step_y below 0 where the first row is the north), `crs` as text and, if it is known, `unit`."
)
ARCHIVES: dict[str, tuple[dict[str, Any], str]] = {
    "keys": ({"crs": None, "x": None}, 'the archive has no "x", "crs"'),
    "shape": ({"heights": SMALL.ravel()}, "`heights` is 1-dimensional float32, not rows of numbers"),
    "kind": ({"heights": SMALL.astype(str)}, "`heights` is 2-dimensional <U32, not rows of numbers"),
    "number": ({"x": [1.0, 2.0]}, "`x` is not one number"),
    "finite": ({"y": float("nan")}, "`y` is not one number"),
    "step": ({"step_y": 0.0}, "a step of 0 puts all posts in one place"),
}


@pytest.mark.parametrize("name", ARCHIVES)
def test_refuses_a_numpy_archive_that_does_not_hold_a_grid(tmp_path: Path, name: str) -> None:
    changed, what = ARCHIVES[name]
    assert refusal(npz(tmp_path / "a.npz", **changed)) == f"a.npz: {what}\n{FORM}"


def test_refuses_an_archive_with_objects_in_it(tmp_path: Path) -> None:
    path = npz(tmp_path / "a.npz", unit=np.array([object()], dtype=object))
    assert refusal(path) == f"a.npz: this NumPy archive cannot be read\n{FORM}"


def test_refuses_an_archive_that_unpacks_to_too_much(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("afield.plugins.geometry.terrain.numpy_grid._MOST_BYTES", 100)
    assert refusal(npz(tmp_path / "a.npz")) == (
        "a.npz: the archive is too large\nCut out a few kilometres around the summit."
    )
