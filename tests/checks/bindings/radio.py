"""Cases of power_rf.yaml about powers, standing waves and lines, adapted to the computations."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.radio.computations.decibels import pep_from_vpp
from afield.plugins.radio.computations.lines import coax_matched_loss, input_swr_of_lossy_line, line_total_loss
from afield.plugins.radio.computations.mismatch import swr_from_powers

CHECK_FILE = "power_rf.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]

FOOT_M = 0.3048
INFINITE = {"open": float("inf")}


def _pep_from_vpp(inputs: Inputs) -> Answer:
    return {"pep_w": pep_from_vpp(inputs["vpp"], inputs["ohm"])}


def _swr_at_load(inputs: Inputs) -> float:
    if "swr_at_load" in inputs:
        return float(inputs["swr_at_load"])
    return swr_from_powers(1.0, inputs["gamma_squared_at_load"])


def _line_total_loss(inputs: Inputs) -> Answer:
    power = inputs.get("power_in_w", 1.0)
    return line_total_loss(inputs["matched_loss_db"], _swr_at_load(inputs), power)._asdict()


def _input_swr_of_lossy_line(inputs: Inputs) -> Answer:
    return {"swr_in": input_swr_of_lossy_line(inputs["matched_loss_db"], INFINITE[inputs["load"]])}


def _coax_matched_loss(inputs: Inputs) -> Answer:
    cable, length_m = inputs["type"], inputs["length_ft"] * FOOT_M
    return {"loss_db": [coax_matched_loss(cable, mhz, length_m).loss_db for mhz in inputs["frequency_mhz"]]}


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {
    "pep_from_vpp": _pep_from_vpp,
    "line_total_loss": _line_total_loss,
    "input_swr_of_lossy_line": _input_swr_of_lossy_line,
    "coax_matched_loss": _coax_matched_loss,
}
