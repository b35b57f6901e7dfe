"""Cases of power_rf.yaml about the sun and solar panels, adapted to the computations."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.power.computations.clear_sky import clear_sky_haurwitz
from afield.plugins.power.computations.solar import (
    pv_clear_day_energy,
    pv_dc_power,
    pv_system_losses,
)

CHECK_FILE = "power_rf.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]


def _clear_sky_haurwitz(inputs: Inputs) -> Answer:
    return {"ghi_w_m2": clear_sky_haurwitz(inputs["apparent_zenith_deg"])}


def _pv_dc_power(inputs: Inputs) -> Answer:
    return {"pdc_w": pv_dc_power(**inputs)}


def _pv_system_losses(inputs: Inputs) -> Answer:
    return {"loss_percent": pv_system_losses()}


def _pv_clear_day_energy(inputs: Inputs) -> Answer:
    return pv_clear_day_energy(**inputs)._asdict()


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {
    "clear_sky_haurwitz": _clear_sky_haurwitz,
    "pv_dc_power": _pv_dc_power,
    "pv_system_losses": _pv_system_losses,
    "pv_clear_day_energy": _pv_clear_day_energy,
}

IGNORED: dict[str, set[str]] = {"pv_system_losses": {"defaults"}}
