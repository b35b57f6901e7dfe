"""Makes the demo's terrain: `python tests/project/demo_terrain.py` writes the invented butte's GeoTIFF anew."""

from __future__ import annotations

from math import radians
from pathlib import Path
from typing import Any

import numpy as np

GRID = Path(__file__).parents[2] / "programs" / "lantern-hills" / "clinker-butte.tif"
STATION = (39.90412, -117.30288)
TOP = (-110.0, 230.0)
"""Of the butte, metres east and north of the demo's station."""
TOP_M, DROP_M, RADIUS_M = 1892.6, 17.0, 232.0
"""Height of the top as the grid has it, how far below it the award's ground goes, and how far out that is."""
SPUR, SPUR_WIDTH, SPUR_LENGTH = radians(-75.5), radians(14), 0.7
"""The spur that comes down to the road: its direction from the top, half its width, and by how much it is longer."""
POSTS, STEP_M = 121, 10.0
ZONE = "EPSG:32611+5714"
"""UTM zone 11 north on WGS 84, with heights above mean sea level."""
UNIT_M = 0.125
TOLD = "Clinker Butte, an invented place made by tests/project/demo_terrain.py for the demonstration of afield."


def heights_m(east_m: Any, north_m: Any) -> Any:
    """Heights of the invented ground, by metres east and north of the demo's station."""
    east, north = east_m - TOP[0], north_m - TOP[1]
    bearing = np.arctan2(north, east)
    off_spur = np.angle(np.exp(1j * (bearing - SPUR)))
    lobes = 1 + 0.05 * np.sin(3 * bearing + 0.7) + 0.03 * np.sin(5 * bearing)
    reach = RADIUS_M * (lobes + SPUR_LENGTH * np.exp(-((off_spur / SPUR_WIDTH) ** 2)))
    fall = (np.hypot(east, north) / reach) ** 1.5
    foot = np.maximum(fall - 1.3, 0)
    down = DROP_M * (np.minimum(fall, 1.3) + 0.9 * (1 - np.exp(-foot / 0.9)))
    rough = 0.25 * np.sin(east / 37) * np.cos(north / 29)
    return TOP_M - down + rough * np.minimum(fall, 1)


def corner_m() -> tuple[float, float]:
    """Easting and northing of the grid's north-west corner: whole metres, so that nothing is rounded."""
    x, y = _zone_m(*STATION)
    half = POSTS * STEP_M / 2
    return round(x + TOP[0] - half), round(y + TOP[1] + half)


def rows_m() -> Any:
    """Rows of heights from north to south, in whole eighths of a metre."""
    west, north = corner_m()
    rows, columns = np.indices((POSTS, POSTS))
    x, y = _zone_m(*STATION)
    east_m, north_m = west + (columns + 0.5) * STEP_M - x, north - (rows + 0.5) * STEP_M - y
    return (np.round(heights_m(east_m, north_m) / UNIT_M) * UNIT_M).astype("float32")


def write(path: Path) -> None:
    """Write the GeoTIFF."""
    import rasterio
    from rasterio.transform import from_origin

    shape = {"height": POSTS, "width": POSTS, "count": 1, "dtype": "float32", "crs": ZONE}
    packed = {"compress": "deflate", "zlevel": 9}
    with rasterio.open(
        path, "w", driver="GTiff", transform=from_origin(*corner_m(), STEP_M, STEP_M), **shape, **packed
    ) as raster:
        raster.write(rows_m(), 1)
        raster.update_tags(TIFFTAG_IMAGEDESCRIPTION=TOLD)
        raster.units = ("m",)


def _zone_m(lat_deg: float, lon_deg: float) -> tuple[float, float]:
    import pyproj

    x, y = pyproj.Transformer.from_crs("EPSG:4326", "EPSG:32611", always_xy=True).transform(lon_deg, lat_deg)
    return float(x), float(y)


if __name__ == "__main__":
    write(GRID)
