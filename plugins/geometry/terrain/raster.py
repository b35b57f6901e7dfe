"""GeoTIFF and ESRI ASCII grids, by rasterio (GDAL)."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from afield.plugins.geometry.readers.layer import GeoFileError
from afield.plugins.geometry.terrain.grid import Grid, Heights, checked_size, unit_of

if TYPE_CHECKING:
    from pyproj import CRS

AGAIN = "Export it again as a GeoTIFF of one band from the program that made it."
TIE = (
    "Export it again with its coordinate reference system (a GeoTIFF holds it, an ESRI ASCII grid needs its .prj file "
    "beside it)."
)


def read_raster(path: Path, shown: str, driver: str, heights_in: str | None) -> Grid:
    """The grid of a raster file; its heights are read later, where they are needed.

    Args:
        path, shown: the file, and how messages call it.
        driver: GDAL's name of the format; no other is tried.
        heights_in: the unit of the heights, where the file does not say it.

    Raises:
        GeoFileError: it cannot be read, holds no single band of heights, or is not tied to the earth.

    """
    with _opened(path, shown, driver) as raster:
        _check(raster, shown)
        crs = _crs(raster, shown)
        unit, notes = unit_of(raster.units[0] or _vertical_unit(crs), heights_in, shown)
        step_x, step_y = float(raster.transform.a), float(raster.transform.e)
        # The transform is that of the cells' corners, whether the file speaks of points or of areas.
        x, y = raster.xy(0, 0)
        return Grid(
            shown, raster.height, raster.width, float(x), float(y), step_x, step_y, _horizontal(crs).to_wkt(), unit,
            lambda *window: _block(path, shown, driver, window), notes,
        )  # fmt: skip


@contextmanager
def _opened(path: Path, shown: str, driver: str) -> Iterator[Any]:
    import rasterio
    from rasterio.errors import RasterioError

    # A .prj file beside an ASCII grid is part of it; nothing else beside a file is looked at.
    beside = {} if driver == "AAIGrid" else {"GDAL_DISABLE_READDIR_ON_OPEN": "EMPTY_DIR"}
    try:
        with warnings.catch_warnings(), rasterio.Env(**beside):
            warnings.simplefilter("ignore", rasterio.errors.NotGeoreferencedWarning)
            with rasterio.open(path, driver=driver) as raster:
                yield raster
    except (RasterioError, OSError) as error:
        kind = {"GTiff": "GeoTIFF", "AAIGrid": "ESRI ASCII grid"}[driver]
        raise GeoFileError(f"{shown}: this {kind} cannot be read", AGAIN) from error


def _check(raster: Any, shown: str) -> None:
    if raster.count != 1:
        raise GeoFileError(f"{shown}: it has {raster.count} bands: a grid of heights has one", AGAIN)
    if np.dtype(raster.dtypes[0]).kind not in "iuf":
        raise GeoFileError(f"{shown}: its values are {raster.dtypes[0]}, which are no heights", AGAIN)
    checked_size(raster.height, raster.width, shown)
    if raster.crs is None or raster.transform.is_identity:
        raise GeoFileError(f"{shown}: the grid does not say where on the earth it lies", TIE)
    if not raster.transform.is_rectilinear or raster.transform.a == 0:
        raise GeoFileError(f"{shown}: the grid is turned against its coordinates", "Export it again with north up.")


def _crs(raster: Any, shown: str) -> CRS:
    from afield.plugins.geometry.readers.datums import crs_of

    return crs_of(raster.crs.to_wkt(), shown)


def _horizontal(crs: CRS) -> CRS:
    return crs.sub_crs_list[0] if crs.is_compound else crs


def _vertical_unit(crs: CRS) -> str | None:
    if not crs.is_compound:
        return None
    return str(crs.sub_crs_list[1].axis_info[0].unit_name)


def _block(path: Path, shown: str, driver: str, window: tuple[int, ...]) -> Heights:
    from rasterio.windows import Window

    first_row, last_row, first_column, last_column = window
    with _opened(path, shown, driver) as raster:
        part = Window.from_slices((first_row, last_row), (first_column, last_column))
        stored = raster.read(1, window=part, masked=True)
        heights: Heights = stored.astype(np.float32).filled(np.nan)
        scale, offset = raster.scales[0], raster.offsets[0]
    return heights if (scale, offset) == (1.0, 0.0) else (heights * scale + offset).astype(np.float32)
