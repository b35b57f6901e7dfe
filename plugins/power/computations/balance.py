"""How a battery's charge runs down over an outing, how large it has to be, and how long it could go on."""

from __future__ import annotations

from math import isnan
from typing import TYPE_CHECKING

from afield.plugins.power.computations.amounts import not_negative, positive
from afield.plugins.power.computations.charge import (
    Balance,
    Battery,
    balance_of,
    checked,
    hours_until_empty,
    least_capacity_of,
    series_of,
)

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def energy_balance(
    load_w: ArrayLike,
    harvest_w: ArrayLike,
    step_h: float,
    nominal_v: float,
    capacity_ah: float,
    usable_fraction: float = 1.0,
    charged_fraction: float = 1.0,
    rated_hours: float = 20.0,
    k: float = 1.0,
    charging_efficiency: float = 1.0,
    cold_factor: float = 1.0,
) -> Balance:
    """State of charge of a battery through a series of steps.

    Formula: net current I = (load - harvest) / V. Out of the battery it counts as I_eff = C / t, t = H (C / (I H))^k
    (Peukert's law in its rated form), and as I itself up to the rated current C / H; into it it counts times the
    charging efficiency. Charge left = start - sum(I_eff dt) / usable charge, at most full.
    Source: conservation of charge; Peukert (1897) with the rating's own hours, as in `peukert_rated_form`.
    Valid: load and harvest are constant within a step. The voltage is taken as the nominal one: that of lithium iron
    phosphate is flat, that of others falls by about a tenth. After the end the balance runs on below 0, which shows
    what is lacking.

    Args:
        load_w: power taken from the battery in each step.
        harvest_w: power of the sun in each step; one number for all, 0 for none.
        step_h: length of a step.
        nominal_v: nominal voltage of the battery.
        capacity_ah: rated capacity.
        usable_fraction: share of it that may be drawn, above 0 and up to 1.
        charged_fraction: state of charge at the start, 0 to 1.
        rated_hours: hours over which the capacity is rated.
        k: Peukert's exponent, 1 to 2.
        charging_efficiency: charge kept of that put in, above 0 and up to 1.
        cold_factor: share of the capacity that is left in the cold, above 0 and up to 1.

    Raises:
        ValueError: an amount is out of range, or there is no step.

    """
    shares = usable_fraction, charged_fraction
    battery = Battery(nominal_v, capacity_ah, *shares, rated_hours, k, charging_efficiency, cold_factor)
    load, harvest = series_of(load_w, harvest_w)
    return balance_of(load, harvest, positive(step_h, "step", "h"), checked(battery))


def least_capacity(
    load_w: ArrayLike,
    harvest_w: ArrayLike,
    step_h: float,
    nominal_v: float,
    usable_fraction: float = 1.0,
    charged_fraction: float = 1.0,
    rated_hours: float = 20.0,
    k: float = 1.0,
    charging_efficiency: float = 1.0,
    cold_factor: float = 1.0,
) -> float:
    """The smallest rated capacity, in Ah, with which the usable charge lasts through all steps.

    Formula: the capacity at which the least charge of `energy_balance` is 0, found by false position (Illinois).
    Source: as for `energy_balance`.
    Valid: as for `energy_balance`; up to a million Ah.

    Args:
        load_w: power taken from the battery in each step.
        harvest_w: power of the sun in each step; one number for all, 0 for none.
        step_h: length of a step.
        nominal_v: nominal voltage of the battery.
        usable_fraction: share of the capacity that may be drawn, above 0 and up to 1.
        charged_fraction: state of charge at the start, 0 to 1.
        rated_hours: hours over which the capacity is rated.
        k: Peukert's exponent, 1 to 2.
        charging_efficiency: charge kept of that put in, above 0 and up to 1.
        cold_factor: share of the capacity that is left in the cold, above 0 and up to 1.

    Raises:
        ValueError: an amount is out of range, or no capacity is enough.

    """
    shares = usable_fraction, charged_fraction
    battery = Battery(nominal_v, 1.0, *shares, rated_hours, k, charging_efficiency, cold_factor)
    load, harvest = series_of(load_w, harvest_w)
    return least_capacity_of(load, harvest, positive(step_h, "step", "h"), checked(battery))


def longest_on_air(
    load_w: ArrayLike,
    then_w: float,
    step_h: float,
    nominal_v: float,
    capacity_ah: float,
    usable_fraction: float = 1.0,
    charged_fraction: float = 1.0,
    rated_hours: float = 20.0,
    k: float = 1.0,
    cold_factor: float = 1.0,
) -> float:
    """Hours until the usable charge ends, if a constant load goes on after the last step; without sun.

    Formula: as for `energy_balance`; after the last step, charge left / I_eff.
    Source: as for `energy_balance`.
    Valid: as for `energy_balance`.

    Args:
        load_w: power taken from the battery in each planned step.
        then_w: power taken after the last of them.
        step_h: length of a step.
        nominal_v: nominal voltage of the battery.
        capacity_ah: rated capacity.
        usable_fraction: share of it that may be drawn, above 0 and up to 1.
        charged_fraction: state of charge at the start, 0 to 1.
        rated_hours: hours over which the capacity is rated.
        k: Peukert's exponent, 1 to 2.
        cold_factor: share of the capacity that is left in the cold, above 0 and up to 1.

    Raises:
        ValueError: an amount is out of range, or nothing is drawn in the end.

    """
    shares = usable_fraction, charged_fraction
    battery = checked(Battery(nominal_v, capacity_ah, *shares, rated_hours, k, cold=cold_factor))
    balance = balance_of(*series_of(load_w, 0.0), positive(step_h, "step", "h"), battery)
    hours = hours_until_empty(balance, step_h, not_negative(then_w, "load", "W"), 0.0, battery)
    if isnan(hours):
        raise ValueError("nothing is drawn after the last step, so that the battery would last for ever")
    return hours
