"""Cases of geometry_time.yaml about the names of bands, adapted to the computation."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.radio.computations.band_names import band_of_frequency

CHECK_FILE = "geometry_time.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]


def _band_of_frequency(inputs: Inputs) -> Answer:
    return {"band": [band_of_frequency(mhz) for mhz in inputs["mhz"]]}


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {"band_of_frequency": _band_of_frequency}
