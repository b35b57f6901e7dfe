"""Cases of geometry_time.yaml about terrain and air pressure, with readers of their grids."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from afield.plugins.geometry.computations.altimeter import altimeter_error, isa_pressure
from afield.plugins.geometry.computations.terrain_zone import dem_zone_below_summit

CHECK_FILE = "geometry_time.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]

DATA = Path(__file__).parents[2] / "data"
POST_M2 = {"volcano.json": 100.0}
"""Ground that one post stands for: the posts are 10 m apart."""
IGNORED: dict[str, set[str]] = {}


def _volcano() -> Any:
    found = json.loads((DATA / "volcano_grid/volcano.json").read_text(encoding="utf-8"))
    return np.reshape(found["values"], (found["height"], found["width"]))


READERS: dict[str, Callable[[], Any]] = {
    "volcano.json": _volcano,
    "jacksboro_fault_dem.npz": lambda: np.load(DATA / "jacksboro_grid/jacksboro_fault_dem.npz")["elevation"],
}


@lru_cache
def _grid(dataset: str) -> Any:
    return READERS[dataset]()


def _zone(inputs: Inputs) -> Answer:
    heights = _grid(inputs["dataset"]) if "dataset" in inputs else inputs["grid_rows"]
    area = POST_M2.get(inputs.get("dataset", ""), 1.0)
    found = dem_zone_below_summit(
        heights, *inputs["summit_row_col"], inputs["drop_m"], inputs.get("summit_m"), cell_area_m2=area
    )
    return found._asdict()


def _standard_air(inputs: Inputs) -> Answer:
    found = [isa_pressure(height)._asdict() for height in inputs["geometric_height_m"]]
    return {name: [one[name] for one in found] for name in found[0]}


def _altimeter(inputs: Inputs) -> Answer:
    change = inputs["true_pressure_change_hpa"]
    return {"height_change_m": [altimeter_error(change, height) for height in inputs["at_m"]]}


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {
    "dem_zone_below_summit": _zone,
    "isa_pressure": _standard_air,
    "altimeter_error": _altimeter,
}
