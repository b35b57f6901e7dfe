"""An invented butte as a terrain grid in several forms, and an outing to it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pyproj
import pytest

from afield.core.api import Engine, InputError, Measured, load

LAT, LON = 39.90412, -117.30288
STEP_M, POSTS = 5.0, 121
ZONE = "EPSG:32611"
PACK = """\
id: my-tops
version: "1.0.0"
title: My Tops
publisher: nobody
licence: MIT
judges: program
needs: [outing, geometry]
date_basis: local
review_every: 365 days
sources: [{document: Rules, edition: "1", grade: invented}]
references: references.yaml
facts:
  program.summit_drop: 17 m
  program.connectivity: edge
  program.counted_roles: [operating position]
  program.required_roles: [operating position]
"""
SOURCE = '{document: Rules, section: "1", grade: invented, last_checked: 2026-05-02}'
REFERENCES = f"""\
references:
  - id: ochre-butte
    title: Ochre Butte
    from: 2021-01-01
    kind: summit
    geometry:
      file: butte.tif
      summit: {{lat: {LAT}, lon: {LON}}}
      elevation: 1893 m
      elevation_accuracy: 1 m
      elevation_level: 95 %
      height_accuracy: 1 m
      height_level: 95 %
      source: register
      map_accuracy: 3 m
      level: 95 %
    source: {SOURCE}
"""
RULES = f"""\
rules:
  - id: near-the-top
    title: The operator sits near the top
    why: The award is for the summit.
    severity: required
    for_each: claim
    require: {{fact: place.margin_inside_zone, at_least: 0 m}}
    source: {SOURCE}
"""
TRIP = f"""\
trip: Ochre Butte
date: 2026-06-27
station:
  at: {{lat: {LAT}, lon: {LON}, accuracy: 5 m, level: 68 %}}
  parts: [{{name: table, role: operating position}}]
claims: [{{program: my-tops, reference: ochre-butte}}]
"""
CLAIM = "claim:my-tops/ochre-butte"
Heights = Any
Write = Callable[..., Path]


def centre_m() -> tuple[float, float]:
    x, y = pyproj.Transformer.from_crs("EPSG:4326", ZONE, always_xy=True).transform(LON, LAT)
    return float(x), float(y)


def butte(posts: int = POSTS, step_m: float = STEP_M, top_m: float = 1893.0) -> Heights:
    """A round hill that falls 30 m in the first 150 m."""
    row, column = np.indices((posts, posts))
    middle = (posts - 1) / 2
    away = np.hypot(row - middle, column - middle) * step_m
    return (top_m - 30 * (away / 150) ** 1.5).astype("float32")


def write_tif(path: Path, heights: Heights, step_m: float = STEP_M, crs: str | None = ZONE, **more: Any) -> Path:
    """A GeoTIFF centred on the summit; `unit` and `point` say what a file may say of itself."""
    import warnings

    import rasterio
    from rasterio.transform import from_origin

    x, y = centre_m()
    rows, columns = heights.shape
    unit, point = more.pop("unit", "m"), more.pop("point", False)
    tie = {"transform": from_origin(x - columns / 2 * step_m, y + rows / 2 * step_m, step_m, step_m), "crs": crs}
    shape = {"height": rows, "width": columns, "count": 1, "dtype": str(heights.dtype)}
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with rasterio.open(path, "w", driver="GTiff", **shape, **({} if crs is None else tie), **more) as raster:
            raster.write(heights, 1)
            raster.units = (unit,)
            if point:
                raster.update_tags(AREA_OR_POINT="Point")
    return path


@pytest.fixture
def outing(tmp_path: Path) -> Path:
    """A folder with the plan, the pack and the grid; returns the plan."""
    pack = tmp_path / "my-tops"
    pack.mkdir()
    files = {"pack.yaml": PACK, "references.yaml": REFERENCES, "rules.yaml": RULES, "cases.yaml": "cases: []\n"}
    for name, text in files.items():
        (pack / name).write_text(text, encoding="utf-8")
    write_tif(pack / "butte.tif", butte())
    plan = tmp_path / "trip.yaml"
    plan.write_text(TRIP, encoding="utf-8")
    return plan


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def asked(plan: Path, fact: str, key: str = CLAIM) -> Measured:
    """The record of a fact; each call reads everything anew."""
    from afield.plugins.geometry.terrain import stating

    stating._grid.cache_clear()
    return load(plan, Engine()).world.value(key, fact)


def complaint(plan: Path, fact: str = "place.margin_inside_zone") -> str:
    """What is said of wrong input: place, what, advice."""
    with pytest.raises(InputError) as caught:
        asked(plan, fact)
    [problem] = caught.value.problems
    return f"{problem.place}: {problem.what}\n{problem.advice}"
