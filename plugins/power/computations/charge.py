"""The charge of a battery from step to step: what `energy_balance` and its relatives share, on checked inputs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import isnan, nan
from typing import TYPE_CHECKING, Any, NamedTuple

from afield.core.api import frozen
from afield.plugins.power.computations.amounts import positive, share, within

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Series = NDArray[Any]

CLOSE = 1e-9
"""Share of the usable charge that counts as nought."""
ROUNDS = 100
LARGEST_AH = 1e6


class Balance(NamedTuple):
    """A battery's charge over time.

    Attributes:
        charge: usable charge left before each step and after the last, as a share of the usable charge of the full
            battery; below 0 is what is lacking.
        ends_h: when the usable charge ends, in hours after the start; not a number if it does not.
        least: the smallest of `charge`.
        used_wh: energy that the loads take.
        harvested_wh: energy of the sun that was taken up; what a full battery leaves is not in it.

    """

    charge: Series
    ends_h: float
    least: float
    used_wh: float
    harvested_wh: float


@frozen
class Battery:
    """What the balance needs to know of a battery; shares are 0 to 1."""

    nominal_v: float
    capacity_ah: float
    usable: float = 1.0
    charged: float = 1.0
    rated_h: float = 20.0
    peukert: float = 1.0
    charging: float = 1.0
    cold: float = 1.0

    @property
    def usable_ah(self) -> float:
        """Charge that may be drawn from the full battery."""
        return self.capacity_ah * self.usable * self.cold

    @property
    def start(self) -> float:
        """Usable charge in it at the start, as a share of that of the full battery; below 0 if it is too empty."""
        return (self.charged - (1 - self.usable)) / self.usable


def checked(battery: Battery) -> Battery:
    """The same battery.

    Raises:
        ValueError: an amount is out of range.

    """
    positive(battery.nominal_v, "nominal voltage", "V")
    positive(battery.capacity_ah, "capacity", "Ah")
    positive(battery.rated_h, "rating", "h")
    within(battery.charged, 0, 1, "charged fraction", "")
    within(battery.peukert, 1, 2, "Peukert's exponent", "")
    share(battery.usable, "usable fraction")
    share(battery.charging, "charging efficiency")
    share(battery.cold, "cold factor")
    return battery


def series_of(load_w: ArrayLike, harvest_w: ArrayLike) -> tuple[Series, Series]:
    """Load and harvest of each step.

    Raises:
        ValueError: there is no step, or a power is negative or not finite.

    """
    import numpy as np

    load = np.atleast_1d(np.asarray(load_w, dtype=float))
    harvest = np.broadcast_to(np.asarray(harvest_w, dtype=float), load.shape)
    for series, what in ((load, "load"), (harvest, "harvest")):
        if not (series.size and np.all(np.isfinite(series)) and np.all(series >= 0)):
            raise ValueError(f"{what} must be a finite power of 0 W or more for each step, and there must be a step")
    return load, harvest


def balance_of(load: Series, harvest: Series, step_h: float, battery: Battery) -> Balance:
    """The balance of checked inputs; as `energy_balance`."""
    import numpy as np

    change = -charge_flow(load - harvest, battery) * step_h / battery.usable_ah
    run = np.concatenate(([battery.start], battery.start + np.cumsum(change)))
    # A full battery takes no more: what would overflow is taken away from there on (a reflected sum).
    spilt = np.maximum(0.0, np.maximum.accumulate(run) - 1.0)
    charge = run - spilt
    unused_wh = float(spilt[-1]) * battery.usable_ah / battery.charging * battery.nominal_v
    harvested = max(0.0, float(np.sum(harvest)) * step_h - unused_wh)
    return Balance(charge, _end(charge, step_h), float(np.min(charge)), float(np.sum(load)) * step_h, harvested)


def charge_flow(net_w: Series, battery: Battery) -> Series:
    """Amperes by which the charge shrinks in each step, Peukert's law in it; negative where it grows."""
    import numpy as np

    net_a = net_w / battery.nominal_v
    rated_a = battery.capacity_ah / battery.rated_h
    # C / t with the t of `peukert_rated_form`, where the current is above the rated one.
    over = np.maximum(net_a / rated_a, 1.0)
    out = np.where(net_a > rated_a, rated_a * over**battery.peukert, net_a) if battery.peukert > 1 else net_a
    return np.where(out < 0, out * battery.charging, out)


def _end(charge: Series, step_h: float) -> float:
    """When the charge passes nought on its way down; a battery that starts empty ends at once."""
    import numpy as np

    if charge[0] <= 0:
        return 0.0
    below = np.nonzero(charge < -CLOSE)[0]
    if not below.size:
        return nan
    after = int(below[0])
    before = float(charge[after - 1])
    return float((after - 1 + before / (before - float(charge[after]))) * step_h)


def hours_until_empty(balance: Balance, step_h: float, then_w: float, then_sun_w: float, battery: Battery) -> float:
    """Hours after the start until the usable charge ends, if load and sun go on after the last step.

    Not a number if the sun then gives what is drawn.
    """
    import numpy as np

    if not isnan(balance.ends_h):
        return balance.ends_h
    flow = float(charge_flow(np.asarray([then_w - then_sun_w]), battery)[0])
    whole = (len(balance.charge) - 1) * step_h
    return whole + float(balance.charge[-1]) * battery.usable_ah / flow if flow > 0 else nan


def least_capacity_of(load: Series, harvest: Series, step_h: float, battery: Battery) -> float:
    """The least capacity of checked inputs, whatever that of the battery itself; raises as `least_capacity`."""
    if battery.start <= CLOSE:
        raise ValueError("no capacity is enough: the battery starts with no usable charge")
    drawn_ah = float(load.sum()) * step_h / battery.nominal_v
    if drawn_ah == 0:
        return 0.0

    def spare_ah(capacity_ah: float) -> float:
        # In Ah, not as a share: nearly straight in the capacity, so that few rounds are needed.
        sized = replace(battery, capacity_ah=capacity_ah)
        return balance_of(load, harvest, step_h, sized).least * sized.usable_ah

    high = drawn_ah / (battery.usable * battery.cold * battery.start)
    while spare_ah(high) < 0:
        high *= 2
        if high > LARGEST_AH:
            raise ValueError("no capacity up to a million Ah is enough")
    return _root(spare_ah, high * 1e-6, high)


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a growing function passes nought between two places, by false position (Illinois)."""
    at_low, at_high, close = function(low), function(high), CLOSE * high
    if at_low >= 0:
        return low
    for _ in range(ROUNDS):
        middle = high - at_high * (high - low) / (at_high - at_low) if at_high else high
        at_middle = function(middle)
        if abs(at_middle) <= close or high - low <= close:
            return middle
        if at_middle < 0:
            low, at_low, at_high = middle, at_middle, at_high / 2
        else:
            high, at_high, at_low = middle, at_middle, at_low / 2
    return high
