"""Energy of a battery, how long it lasts, and what lithium iron phosphate cells allow.

Nothing here reads the charge from the voltage: that of lithium iron phosphate is flat, and a load bends it.
"""

from __future__ import annotations

from typing import NamedTuple

from afield.plugins.power.computations.amounts import not_negative, positive, share, within

LFP_CHARGE = ((0, 5, 0.1), (5, 10, 0.2), (10, 25, 1.0), (25, 50, 0.75), (50, 60, 0.1))
"""From and to which cell temperature in °C a charge of how many times the capacity an hour is allowed."""


class Budget(NamedTuple):
    """What a station draws, what an outing needs, and what the battery gives."""

    average_a: float
    needed_ah: float
    needed_wh: float
    usable_ah: float
    runtime_h: float


class LfpCharge(NamedTuple):
    """Whether cells may be charged, how fast, and whether every maker's window of 0 to 45 °C holds the temperature."""

    charge_allowed: bool
    max_c_rate: float
    within_common_window: bool


class LfpPack(NamedTuple):
    """Voltages of a pack, charged, by its name and discharged."""

    full_v: float
    nominal_v: float
    empty_v: float


def watt_hours(nominal_v: float, capacity_ah: float) -> float:
    """Energy that a battery is rated with, in watt-hours.

    Formula: nominal voltage x capacity, cleared of the rounding of binary numbers (9 decimals).
    Source: the definition; it is the rating that transport rules mean.
    Valid: the voltage for which the capacity is stated. A power bank's is that of its cells, 3.6 or 3.7 V, not 5 V.

    Args:
        nominal_v: nominal voltage of the cells or of the pack.
        capacity_ah: capacity.

    Raises:
        ValueError: an amount is not above 0.

    """
    return round(positive(nominal_v, "nominal voltage", "V") * positive(capacity_ah, "capacity", "Ah"), 9)


def average_current_and_runtime(
    receive_a: float,
    transmit_a: float,
    transmit_fraction: float,
    hours: float,
    nominal_v: float,
    capacity_ah: float,
    usable_fraction: float,
) -> Budget:
    """Average current of a station, charge and energy that hours of it need, and how long a battery lasts.

    Formula: I = I_rx (1 - d) + I_tx d; needed I t; usable share x capacity; runtime usable / I.
    Source: definition of the mean. The usable share is the user's policy and has no standard: practice is 0.5 for lead
    acid and 0.8 to 0.9 for lithium iron phosphate, less in the cold.
    Valid: a capacity that holds at this current; lead acid at more than its rated current needs `peukert_rated_form`.

    Args:
        receive_a: current while receiving.
        transmit_a: average current while transmitting.
        transmit_fraction: share of the time spent transmitting, 0 to 1.
        hours: length of the operation.
        nominal_v: nominal voltage of the battery.
        capacity_ah: its capacity.
        usable_fraction: share of it that is taken, above 0 and up to 1.

    Raises:
        ValueError: an amount is out of range, or nothing is drawn.

    """
    transmitting = within(transmit_fraction, 0, 1, "transmit fraction", "")
    average = not_negative(receive_a, "receive current", "A") * (1 - transmitting)
    average += not_negative(transmit_a, "transmit current", "A") * transmitting
    if average == 0:
        raise ValueError("the station draws nothing, so that its battery would last for ever")
    needed = average * not_negative(hours, "operation", "h")
    usable = positive(capacity_ah, "capacity", "Ah") * share(usable_fraction, "usable fraction")
    return Budget(average, needed, needed * positive(nominal_v, "nominal voltage", "V"), usable, usable / average)


def lfp_charge_limit(cell_temperature_c: float) -> LfpCharge:
    """How fast lithium iron phosphate cells may be charged at a temperature, in capacities an hour.

    Formula: by table, in °C: below 0 not at all; from 0 to 5 0.1; to 10 0.2; to 25 1.0; to 50 0.75; to 60 0.1; above 60
    not at all. Where two ranges meet the slower one counts.
    Source: one published operation manual of a lithium iron phosphate battery, table 4.3 (the faster of standard and
    continuous charge); two cell notes allow 0 to 45 °C only, which the result states.
    Valid: -60 to 100 °C of the CELL, which lags the air by hours. The battery's own manual goes before this.

    Args:
        cell_temperature_c: temperature of the cells.

    Raises:
        ValueError: the temperature is out of range.

    """
    temperature = within(cell_temperature_c, -60, 100, "cell temperature", "°C")
    rates = [rate for low, high, rate in LFP_CHARGE if low <= temperature <= high]
    return LfpCharge(bool(rates), min(rates, default=0.0), 0 <= temperature <= 45)


def lfp_pack_voltages(series_cells: int) -> LfpPack:
    """Voltages of a pack of lithium iron phosphate cells: full, nominal and empty.

    Formula: 3.65, 3.2 and 2.5 V for each cell in series.
    Source: makers' cell notes that agree.
    Valid: 1 to 32 cells in series, at rest. Between full and empty the voltage says little of the charge.

    Args:
        series_cells: cells in series, 4 in a battery of 12.8 V.

    Raises:
        ValueError: no such number of cells.

    """
    if series_cells not in range(1, 33):
        raise ValueError(f"{series_cells} cells in series: 1 to 32 are possible")
    return LfpPack(3.65 * series_cells, 3.2 * series_cells, 2.5 * series_cells)
