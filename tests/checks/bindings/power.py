"""Cases of power_rf.yaml about wires, batteries, USB supplies and converters, adapted to the computations."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.power.computations.air_transport import air_transport_class
from afield.plugins.power.computations.conductors import nec_table8_dc_resistance
from afield.plugins.power.computations.converters import conversion_chain
from afield.plugins.power.computations.peukert import peukert_one_hour_form
from afield.plugins.power.computations.usb_power import usb_pd_fixed_supplies
from afield.plugins.power.computations.voltage_drop import dc_voltage_drop, dc_voltage_drop_metric

CHECK_FILE = "power_rf.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]

M_PER_FT = 0.3048


def _nec_table8_dc_resistance(inputs: Inputs) -> Answer:
    # The case's own note: its figure is that of the table's solid wire.
    found = nec_table8_dc_resistance(inputs["awg"], inputs["temperature_c"], inputs["material"], stranded=False)
    return {"ohm_per_kft": found}


def _ohm_per_m(inputs: Inputs) -> float:
    if "ohm_per_100ft" in inputs:
        return float(inputs["ohm_per_100ft"]) / (100 * M_PER_FT)
    # The published table does not state a temperature; that of a room is taken.
    return nec_table8_dc_resistance(inputs["awg"], temperature_c=20) / (1000 * M_PER_FT)


def _dc_voltage_drop(inputs: Inputs) -> Answer:
    length_m = inputs["one_way_ft"] * M_PER_FT
    return dc_voltage_drop(inputs["current_a"], length_m, _ohm_per_m(inputs), inputs["system_v"])._asdict()


def _dc_voltage_drop_metric(inputs: Inputs) -> Answer:
    drop = dc_voltage_drop_metric(inputs["current_a"], inputs["total_length_m"], inputs["area_mm2"], inputs["k"])
    return {"drop_v": drop}


def _peukert_one_hour_form(inputs: Inputs) -> Answer:
    return {"hours": peukert_one_hour_form(inputs["capacity_ah"], inputs["k"], inputs["current_a"])}


def _air_transport_class(inputs: Inputs) -> Answer:
    found = air_transport_class(**inputs)._asdict()
    return {**found, "class": found["category"]}


def _usb_pd_fixed_supplies(inputs: Inputs) -> Answer:
    offer = usb_pd_fixed_supplies(inputs["pdp_w"])
    return {**offer._asdict(), "supplies": [supply._asdict() for supply in offer.supplies]}


def _conversion_chain(inputs: Inputs) -> Answer:
    efficiencies = [inputs["dcdc_efficiency"]]
    return conversion_chain(inputs["battery_wh"], inputs["usable_fraction"], efficiencies, inputs["load_w"])._asdict()


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {
    "nec_table8_dc_resistance": _nec_table8_dc_resistance,
    "dc_voltage_drop": _dc_voltage_drop,
    "dc_voltage_drop_metric": _dc_voltage_drop_metric,
    "peukert_one_hour_form": _peukert_one_hour_form,
    "air_transport_class": _air_transport_class,
    "usb_pd_fixed_supplies": _usb_pd_fixed_supplies,
    "conversion_chain": _conversion_chain,
}
