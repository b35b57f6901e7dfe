"""What the balance needs to know of a battery: capacity, usable share, charge at arrival, Peukert's exponent, cold."""

from __future__ import annotations

from itertools import pairwise

from afield.core.api import _, amount_in, frozen, marked
from afield.plugins.power.battery.cells import capacity_of, chemistry_of, nominal_of, usable_of
from afield.plugins.power.energy.slots import percent
from afield.plugins.power.stated import COMMON, Figure, Thing, number

CHARGED_AROUND = 0.05
AIR_AROUND_C = 3.0


@frozen
class Habits:
    """How a chemistry behaves, by common practice.

    Attributes:
        peukert, peukert_around: exponent where none is stated.
        rated_h: hours of the rating where they are not stated.
        charging: charge kept of that put in.
        cold: air temperature in °C -> share of the capacity that is left, from warm to cold.

    """

    peukert: float
    peukert_around: float
    rated_h: float
    charging: float
    cold: tuple[tuple[float, float], ...]


HABITS = {
    "lithium iron phosphate": Habits(1.03, 0.03, 5, 0.98, ((20, 1.0), (0, 0.85), (-18, 0.7), (-30, 0.4))),
    "lithium ion": Habits(1.03, 0.03, 5, 0.98, ((20, 1.0), (0, 0.85), (-18, 0.65), (-30, 0.4))),
    "lead acid": Habits(1.2, 0.15, 20, 0.85, ((20, 1.0), (0, 0.8), (-18, 0.45), (-30, 0.3))),
    "nickel metal hydride": Habits(1.05, 0.05, 5, 0.7, ((20, 1.0), (0, 0.8), (-18, 0.5), (-30, 0.2))),
    "alkaline": Habits(1.3, 0.2, 20, 0.5, ((20, 1.0), (0, 0.6), (-18, 0.25), (-30, 0.1))),
}
"""By chemistry. Exponents of lead acid: a seller's page (AGM 1.05 to 1.15, gel 1.1 to 1.25, flooded 1.2 to 1.6).
Capacity at -18 °C of lithium iron phosphate and lead acid: one seller's page. All else is common practice."""
COLD_SOURCE = marked("one seller's page and common practice, no published source")
FULL = marked("{name} is taken to be full at arrival, within {around} ({common}).")
CHARGED = marked("{name} is {share} full at arrival, within {around} ({common}).")
EXPONENT = marked("Peukert's exponent of {name}: {value} ± {around} ({common}).")
NO_AIR = marked("The air temperature is not stated: no loss by cold is taken.")
COLD = marked("At {air} °C {name} is taken to give {share} ± {around} of its capacity ({source}).")
CHARGE_ORIGIN, EXPONENT_ORIGIN = marked("charge at arrival of {name}"), marked("Peukert's exponent of {name}")
COLD_ORIGIN = marked("capacity of {name} in the cold")


@frozen
class Store:
    """A battery's figures, by the name of what they are; capacity in Ah, the rest shares of one."""

    nominal_v: float
    rated_h: float
    charging: float
    capacity: Figure
    usable: Figure
    charged: Figure
    peukert: Figure
    cold: Figure

    @property
    def figures(self) -> dict[str, Figure]:
        """The figures by origin."""
        return {each.origin: each for each in (self.capacity, self.usable, self.charged, self.peukert, self.cold)}


def store_of(thing: Thing, air_c: float | None) -> Store:
    """The battery's figures.

    Raises:
        CannotTell: it is not described, or its voltage is not known.

    """
    habits, stated = HABITS[chemistry_of(thing)], thing.part("battery")
    usable = usable_of(thing)
    share = Figure(usable.value / 100, usable.around / 100, usable.origin, usable.notes)
    rated_h = amount_in(stated["rated_hours"], "h") if "rated_hours" in stated else habits.rated_h
    figures = capacity_of(thing), share, _charged(thing), _peukert(thing, habits), _cold(thing, habits, air_c)
    return Store(nominal_of(thing), rated_h, habits.charging, *figures)


def _charged(thing: Thing) -> Figure:
    stated = thing.part("battery").get("charged")
    value = 1.0 if stated is None else amount_in(stated, "%") / 100
    figures = {"share": percent(value), "around": percent(CHARGED_AROUND)}
    note = _(FULL if stated is None else CHARGED).format(name=thing.name, common=_(COMMON), **figures)
    return Figure(value, CHARGED_AROUND, CHARGE_ORIGIN.format(name=thing.name), (note,))


def _peukert(thing: Thing, habits: Habits) -> Figure:
    stated, origin = thing.part("battery").get("peukert"), EXPONENT_ORIGIN.format(name=thing.name)
    if stated is not None and not thing.typical("battery.peukert"):
        return Figure(float(stated), 0.0, origin)
    value = habits.peukert if stated is None else float(stated)
    figures = {"value": number(value), "around": number(habits.peukert_around)}
    note = _(EXPONENT).format(name=thing.name, common=_(COMMON), **figures)
    return Figure(value, habits.peukert_around, origin, (note,))


def _cold(thing: Thing, habits: Habits, air_c: float | None) -> Figure:
    origin = COLD_ORIGIN.format(name=thing.name)
    if air_c is None:
        return Figure(1.0, 0.0, origin, (_(NO_AIR),))
    left = capacity_left(habits, air_c)
    if left == 1.0:
        return Figure(1.0, 0.0, origin)
    # What the temperature's own uncertainty does, and half of the loss for the cells that differ.
    around = (1 - left) / 2 + abs(left - capacity_left(habits, air_c - AIR_AROUND_C))
    figures = {"air": number(air_c), "share": percent(left), "around": percent(around)}
    note = _(COLD).format(name=thing.name, source=_(COLD_SOURCE), **figures)
    return Figure(left, around, origin, (note,))


def capacity_left(habits: Habits, air_c: float) -> float:
    """Share of the capacity that is left at an air temperature in °C, straight between the table's points."""
    points = habits.cold
    if air_c >= points[0][0]:
        return 1.0
    for (warm, at_warm), (cool, at_cool) in pairwise(points):
        if air_c >= cool:
            return at_cool + (at_warm - at_cool) * (air_c - cool) / (warm - cool)
    return points[-1][1]
