"""What converters leave of a battery's energy."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod
from typing import NamedTuple

from afield.plugins.power.computations.amounts import not_negative, positive, share

REFERENCE_EFFICIENCY = 0.9637
"""Nominal efficiency of the inverter whose measured curve PVWatts scales."""


class Chain(NamedTuple):
    """How long a load runs, what is drawn from the battery for it, and the energy that reaches it."""

    runtime_h: float
    drawn_w: float
    delivered_wh: float


def inverter_ac_power(pdc_w: float, pdc0_w: float, eta_nominal: float = 0.96) -> float:
    """Alternating-current power of an inverter at part load, in watts.

    Formula: with z = P / P0, P eta_nom / 0.9637 (-0.0162 z - 0.0059 / z + 0.9858), not below 0 nor above eta_nom P0.
    Source: Dobos, PVWatts Version 5 Manual, NREL/TP-6A20-62641 (2014), inverter model; as in pvlib.
    Valid: inverters of photovoltaic plants. Small portable ones have no published curve: makers' pages give 0.85 to
    0.95, far less below a tenth of their rating. At low load take this curve as an upper bound.

    Args:
        pdc_w: direct-current power that goes in.
        pdc0_w: direct-current power at which the inverter reaches its rating.
        eta_nominal: efficiency there, above 0 and up to 1.

    Raises:
        ValueError: an amount is negative, the rating is 0, or the efficiency is no share.

    """
    power, rated = not_negative(pdc_w, "power", "W"), positive(pdc0_w, "rated power", "W")
    nominal = share(eta_nominal, "nominal efficiency")
    load = power / rated
    # P (0.0059 / z) is 0.0059 P0: written so, no load is too small to divide by.
    output = nominal / REFERENCE_EFFICIENCY * (power * (-0.0162 * load + 0.9858) - 0.0059 * rated)
    return min(max(output, 0.0), nominal * rated)


def conversion_chain(battery_wh: float, usable_fraction: float, efficiencies: Sequence[float], load_w: float) -> Chain:
    """How long a battery feeds a load through converters, one after the other.

    Formula: battery x usable share x product of efficiencies / load.
    Source: product of efficiencies. None has a standard figure: practice is 0.9 for a converter of direct current and
    0.85 to 0.95 for an inverter, both falling steeply at light load.
    Valid: efficiencies at this load, idle currents included.

    Args:
        battery_wh: rated energy of the battery.
        usable_fraction: share of it that is taken, above 0 and up to 1.
        efficiencies: that of each converter, above 0 and up to 1; none for a load on the battery itself.
        load_w: power of the load.

    Raises:
        ValueError: an amount is not above 0, or a share is above 1.

    """
    efficiency = prod(share(one, "efficiency") for one in efficiencies)
    usable = positive(battery_wh, "battery", "Wh") * share(usable_fraction, "usable fraction")
    drawn = positive(load_w, "load", "W") / efficiency
    return Chain(usable / drawn, drawn, usable * efficiency)
