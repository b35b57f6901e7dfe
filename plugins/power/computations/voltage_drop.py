"""Voltage lost in the wires, and the wire that loses little enough.

Lengths are in print both one way and out and back, even for one formula; here the parameter's name says which it is.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from afield.plugins.power.computations.amounts import not_negative, positive, within
from afield.plugins.power.computations.wire_sizes import SAE_CIRCULAR_MILS, awg_circular_mils

Wire = Literal["SAE", "AWG"]
"""Whose areas the gauges stand for: SAE wire (marine, automotive) or ASTM B258, which is about 10 % larger."""

K_OHM_CMIL_PER_FT = 10.75
"""Resistance of a copper wire of one circular mil and one foot, warm, as marine practice takes it."""


class VoltageDrop(NamedTuple):
    """Voltage lost on the way and what is left at the load."""

    drop_v: float
    drop_percent: float
    load_v: float


class SelectedWire(NamedTuple):
    """A gauge, what it has to have and has, and whose areas its number stands for."""

    awg: int
    required_cmil: float
    area_cmil: float
    wire: str


def dc_voltage_drop(
    current_a: float, one_way_length_m: float, resistance_ohm_per_m: float, source_v: float
) -> VoltageDrop:
    """Voltage lost in a pair of wires, also in per cent of the source, and the voltage left at the load.

    Formula: 2 L I r, L one way and r for one conductor.
    Source: Ohm's law for two equal conductors; NFPA 70 (NEC), chapter 9, table 8 for r.
    Valid: direct current, both conductors alike. Take the battery's voltage at the END of the outing: many radios stop
    at a voltage, not at a percentage. Fuses and connectors come on top.

    Args:
        current_a: current.
        one_way_length_m: length of the cable from source to load, not out and back.
        resistance_ohm_per_m: resistance of one conductor; 1 ohm per 1,000 ft is 0.00328 ohm per m.
        source_v: voltage at the source.

    Raises:
        ValueError: an amount is negative, the voltage is not above 0, or nothing would be left at the load.

    """
    current = not_negative(current_a, "current", "A")
    length = not_negative(one_way_length_m, "one-way length", "m")
    drop = 2 * length * current * positive(resistance_ohm_per_m, "resistance", "ohm per m")
    source = positive(source_v, "source voltage", "V")
    if drop >= source:
        raise ValueError(f"a drop of {drop:.4g} V leaves nothing of {source:.4g} V: that current cannot flow")
    return VoltageDrop(drop, 100 * drop / source, source - drop)


def dc_voltage_drop_metric(
    current_a: float, round_trip_m: float, area_mm2: float, resistivity_ohm_mm2_per_m: float = 0.017241
) -> float:
    """Voltage lost along the whole way out and back, from the area of the wire.

    Formula: k I L / S, L out and back.
    Source: Ohm's law; copper at 20 °C has k = 0.017241 (100 % IACS). Pages on low-voltage supplies print 0.0164, which
    is copper at 8 °C.
    Valid: direct current; k of 0.015 to 0.03 (cold copper to warm aluminium).

    Args:
        current_a: current.
        round_trip_m: length out and back, twice that of the cable.
        area_mm2: area of one conductor.
        resistivity_ohm_mm2_per_m: resistivity k.

    Raises:
        ValueError: an amount is negative or k is out of range.

    """
    current, length = not_negative(current_a, "current", "A"), not_negative(round_trip_m, "round trip", "m")
    resistivity = within(resistivity_ohm_mm2_per_m, 0.015, 0.03, "resistivity", "ohm mm2 per m")
    return resistivity * current * length / positive(area_mm2, "area", "mm2")


def required_circular_mils(
    current_a: float, round_trip_ft: float, drop_v: float, k_ohm_cmil_per_ft: float = K_OHM_CMIL_PER_FT
) -> float:
    """Area of copper that keeps a voltage drop, in circular mils.

    Formula: K I L / E, L out and back.
    Source: ABYC E-11, with K = 10.75 (the formula read in a public copy).
    Valid: direct current; K of 9 to 14 (cold to hot copper). Says nothing of how warm the wire gets.

    Args:
        current_a: current.
        round_trip_ft: length out and back, in feet.
        drop_v: voltage that may be lost.
        k_ohm_cmil_per_ft: resistance of one circular mil foot.

    Raises:
        ValueError: an amount is negative, or K is out of range.

    """
    k = within(k_ohm_cmil_per_ft, 9, 14, "K", "ohm cmil per ft")
    current, length = not_negative(current_a, "current", "A"), not_negative(round_trip_ft, "round trip", "ft")
    return k * current * length / positive(drop_v, "voltage drop", "V")


def select_awg_for_drop(
    current_a: float, round_trip_ft: float, system_v: float, max_drop_percent: float, wire: Wire = "SAE"
) -> SelectedWire:
    """The thinnest wire that keeps a voltage drop; by default by the areas of SAE wire, the smaller ones.

    Formula: the first trade size from 18 AWG up with an area of `required_circular_mils` or more.
    Source: ABYC E-11, and its areas of SAE conductors; ASTM B258 for AWG.
    Valid: up to 4/0. For voltage drop alone: the fuse and the warmth of the wire ask for their own size.

    Args:
        current_a: current.
        round_trip_ft: length out and back, in feet.
        system_v: voltage at the source.
        max_drop_percent: share of it that may be lost.
        wire: SAE or AWG; says whose areas count.

    Raises:
        ValueError: an amount is negative, more than 50 % may be lost, or 4/0 is too thin.

    """
    if wire not in ("SAE", "AWG"):
        raise ValueError(f'wire "{wire}" is not known; known are SAE and AWG')
    percent = within(positive(max_drop_percent, "voltage drop", "%"), 0, 50, "voltage drop", "%")
    needed = required_circular_mils(current_a, round_trip_ft, positive(system_v, "voltage", "V") * percent / 100)
    for gauge, area in _trade_sizes(wire).items():
        if area >= needed:
            return SelectedWire(gauge, needed, area, wire)
    raise ValueError(f"{needed:.0f} circular mils are needed and 4/0 AWG is too thin; shorten the way or lay two wires")


def _trade_sizes(wire: Wire) -> dict[int, float]:
    if wire == "SAE":
        return {gauge: float(area) for gauge, area in SAE_CIRCULAR_MILS.items()}
    return {gauge: awg_circular_mils(gauge) for gauge in SAE_CIRCULAR_MILS}
