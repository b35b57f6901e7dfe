"""The energy of one battery over the outing: its load and harvest step by step, and what follows from them."""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan
from typing import TYPE_CHECKING, Any, NamedTuple

from afield.plugins.power.energy.feeds import USB_V, Fed
from afield.plugins.power.energy.loads import Draws, Values
from afield.plugins.power.energy.slots import STEP_H, OnAir, Steps
from afield.plugins.power.energy.store import Store
from afield.plugins.power.energy.sun import Harvest
from afield.plugins.power.stated import Figure, Thing

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from afield.plugins.power.computations.charge import Battery

    Series = NDArray[Any]

HORIZON_H = 240.0
"""How far ahead a battery's end is looked for."""


class Answers(NamedTuple):
    """What follows from the balance; not a number where there is no answer.

    Attributes:
        used: energy taken from the battery until leaving, Wh.
        reserve: the least charge until leaving, per cent of the usable charge.
        left: charge at leaving, per cent of the usable charge.
        lasts: hours after arrival until the usable charge ends, the time on the air going on.
        least_capacity: Ah of the same chemistry with which nothing is lacking.
        longest_on_air: hours on the air until then.
        ends: hours after arrival at which the usable charge ends before leaving, as planned.
        charge: usable charge before each step and after the last, per cent.

    """

    used: float
    reserve: float
    left: float
    lasts: float
    least_capacity: float
    longest_on_air: float
    ends: float
    charge: Series


@dataclass
class Model:
    """One battery with all that it feeds."""

    thing: Thing
    store: Store
    draws: Draws
    fed: tuple[Fed, ...]
    steps: Steps
    harvest: Harvest

    @property
    def figures(self) -> dict[str, Figure]:
        """Every figure that has been used, by origin."""
        return {**self.draws.figures, **self.store.figures, self.harvest.share.origin: self.harvest.share}

    def watts(self, slot: OnAir | None, values: Values) -> float:
        """Power taken from the battery in a slot, or while receiving (None)."""
        out = sum(self.draws.watts(fed, slot, values) for fed in self.fed)
        converts = "converter" in self.thing.data or all(fed.volts == USB_V for fed in self.fed)
        return self.draws.converted(self.thing, out, values) if converts else out

    def load(self, values: Values) -> Series:
        """Power taken from the battery in each step: nothing off the air; where slots overlap, the greater."""
        import numpy as np

        load = np.zeros(self.steps.count)
        receiving = self.watts(None, values)
        for first, after in self.steps.on_air:
            load[first:after] = receiving
        for slot in self.steps.slots:
            load[slot.first : slot.after] = np.maximum(load[slot.first : slot.after], self.watts(slot, values))
        return load

    def on_air(self) -> NDArray[Any]:
        """Which steps are on the air."""
        import numpy as np

        mask = np.zeros(self.steps.count, dtype=bool)
        for first, after in (*self.steps.on_air, *((slot.first, slot.after) for slot in self.steps.slots)):
            mask[first:after] = True
        return mask

    def battery(self, values: Values) -> Battery:
        """The battery with the values, each kept to what there can be."""
        from afield.plugins.power.computations.charge import Battery

        def value(figure: Figure, low: float, high: float) -> float:
            return min(max(values.get(figure.origin, figure.value), low), high)

        store = self.store
        capacity_ah = value(store.capacity, 1e-3, 1e6)
        shares = value(store.usable, 0.01, 1.0), value(store.charged, 0.0, 1.0)
        peukert, cold = value(store.peukert, 1.0, 2.0), value(store.cold, 0.05, 1.0)
        return Battery(store.nominal_v, capacity_ah, *shares, store.rated_h, peukert, store.charging, cold)

    def answers(self, values: Values) -> Answers:
        """What follows with these values; figures that are not among them have their own."""
        from afield.plugins.power.computations.charge import balance_of

        share = self.harvest.share
        load, battery = self.load(values), self.battery(values)
        harvest = self.harvest.watts * max(values.get(share.origin, share.value), 0.0)
        balance = balance_of(load, harvest, STEP_H, battery)
        lasts, longest = self._ends(load, harvest, battery)
        percent = 100 * balance.charge
        least = _least(load, harvest, battery)
        left, ends = float(percent[-1]), balance.ends_h
        return Answers(balance.used_wh, 100 * balance.least, left, lasts, least, longest, ends, percent)

    def _ends(self, load: Series, harvest: Series, battery: Battery) -> tuple[float, float]:
        """Hours until the usable charge ends if the time on the air goes on, and the hours on the air by then."""
        from afield.plugins.power.computations.charge import balance_of, hours_until_empty

        end, on_air = self.steps.end, self.on_air()
        mean_w, mean_sun_w = float(load[on_air].mean()), float(harvest[on_air].mean())
        balance = balance_of(load[:end], harvest[:end], STEP_H, battery)
        lasts = hours_until_empty(balance, STEP_H, mean_w, mean_sun_w, battery)
        lasts = HORIZON_H if isnan(lasts) else min(lasts, HORIZON_H)
        whole = int(lasts / STEP_H)
        inside = float(on_air[: min(whole, end)].sum()) * STEP_H
        part = (lasts - whole * STEP_H) if whole < end and on_air[whole] else 0.0
        return lasts, inside + part + max(0.0, lasts - end * STEP_H)


def _least(load: Series, harvest: Series, battery: Battery) -> float:
    from afield.plugins.power.computations.charge import least_capacity_of

    try:
        return least_capacity_of(load, harvest, STEP_H, battery)
    except ValueError:
        return float("nan")
