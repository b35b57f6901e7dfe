"""Case of power_rf.yaml about the sun's place in the sky, adapted to the computation."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.timing.computations.sun import sun_position

CHECK_FILE = "power_rf.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]

# The height stands in the case for the air pressure, which it also gives; the library knows the difference of times.
IGNORED: dict[str, set[str]] = {"solar_position": {"elevation_m", "delta_t_s"}}


def _solar_position(inputs: Inputs) -> Answer:
    found = sun_position(
        inputs["lat"], inputs["lon"], f"{inputs['utc']}Z", inputs["pressure_pa"] / 100, inputs["temperature_c"]
    )
    return found._asdict()


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {"solar_position": _solar_position}
