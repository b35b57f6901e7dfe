"""A summit's area on a terrain grid of 3601 x 3601 posts, from a compressed GeoTIFF to its three outlines.

Run: python tests/bench/terrain.py

Ridges and hollows a few hundred metres across, highest in the middle. Three drops: one hill, a ridge, and the whole
massif of a million posts.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from time import perf_counter

import numpy as np
import rasterio
from rasterio.transform import from_origin

from afield.plugins.geometry.terrain.reading import read_grid
from afield.plugins.geometry.terrain.zone import ZoneAreas, zone_areas

POSTS, STEP = 3601, 1 / 3600
SOUTH, WEST = 39.0, -118.0
BUDGET_S = 2.0


def ground() -> np.ndarray:
    """Heights in whole decimetres."""
    rng = np.random.default_rng(11)
    rows, columns = np.indices((POSTS, POSTS), dtype="float32")
    rough = sum(
        rng.uniform(4, 14)
        * np.sin(rows * np.float32(down) + columns * np.float32(aside) + np.float32(rng.uniform(0, 6)))
        for down, aside in rng.uniform(-0.12, 0.12, (14, 2))
    )
    away = np.hypot(rows - POSTS // 2, columns - POSTS // 2)
    return np.round(2400 - 0.35 * away + rough, 1).astype("float32")


def write(path: Path, heights: np.ndarray) -> tuple[float, float, float]:
    """The grid as a GeoTIFF; returns latitude, longitude and height of its highest post."""
    corner = from_origin(WEST - STEP / 2, SOUTH + 1 + STEP / 2, STEP, STEP)
    shape = {"height": POSTS, "width": POSTS, "count": 1, "dtype": "float32", "crs": "EPSG:4326", "transform": corner}
    packing = {"compress": "deflate", "predictor": 3, "tiled": True}
    with rasterio.open(path, "w", driver="GTiff", **shape, **packing) as raster:
        raster.write(heights, 1)
        raster.units = ("m",)
    row, column = np.unravel_index(np.argmax(heights), heights.shape)
    return SOUTH + 1 - float(row) * STEP, WEST + float(column) * STEP, float(heights[row, column])


def found(path: Path, summit: tuple[float, float, float], drop_m: float) -> tuple[ZoneAreas, float]:
    """The area, and the least of three timings of reading the file and finding it."""
    spans = []
    for _ in range(3):
        start = perf_counter()
        areas = zone_areas(read_grid(path, path.name, None), summit[:2], summit[2], drop_m, 1.0, None)
        spans.append(perf_counter() - start)
    return areas, min(spans)


def main() -> None:
    """Prints the figures."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "hills.tif")
        summit = write(path, ground())
        for drop_m in (25.0, 150.0, 250.0):
            areas, seconds = found(path, summit, drop_m)
            corners = sum(len(ring) for polygon in areas.likely for ring in polygon)
            size = f"{areas.posts:,} posts, {corners:,} corners"
            title = f"summit area, {POSTS} x {POSTS} posts, drop {drop_m:3.0f} m"
            print(f"{title}: {seconds:6.3f} s (budget {BUDGET_S:.0f} s); {size}", flush=True)


if __name__ == "__main__":
    main()
