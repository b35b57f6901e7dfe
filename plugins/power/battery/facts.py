"""Facts of one battery: what its label says, and what follows from its chemistry."""

from __future__ import annotations

from afield.core.api import Estimate, Fact, Subject, _, amount_in, fact, marked
from afield.plugins.power.battery.cells import (
    AS_STATED,
    CHEMISTRIES,
    DISCHARGE_FROM_C,
    capacity_of,
    chemistry_of,
    end_voltage_of,
    full_voltage_of,
    has_battery,
    least_charge_temperature,
    nominal_of,
    usable_of,
)
from afield.plugins.power.computations.batteries import watt_hours
from afield.plugins.power.stated import COMMON, Figure, number, thing_of

CELLS_AS_AIR = marked("The cells are taken to have the temperature of the air, which they follow within hours.")
CHARGED_FROM = marked("Lowest temperature for charging by chemistry: {source}.")
USED_FROM = marked("{least} °C is taken as the lowest temperature for use ({common}).")
AIR_LESS_LOWEST = marked("air less lowest temperature")
FULL_ORIGIN = marked("full voltage of {name}")


def estimate(figure: Figure, method: str) -> Estimate:
    """The figure as the answer of a fact."""
    parts = {figure.origin: figure.around} if figure.around else {}
    return Estimate(figure.value, parts=parts, method=method, notes=figure.notes)


@fact("battery.present", kind="item", type="bool", title="whether it is or holds a battery", exact=True)
def battery_present(subject: Subject) -> bool:
    """Whether it is a battery by its class, or a battery in it is described; a name alone is a box to tick."""
    return has_battery(thing_of(subject))


@fact(
    "battery.chemistry", kind="item", type="text", title="chemistry of the battery", exact=True,
    choices=tuple(CHEMISTRIES),
)  # fmt: skip
def battery_chemistry(subject: Subject) -> str:
    """As stated."""
    return chemistry_of(thing_of(subject))


@fact("battery.capacity", kind="item", unit="Ah", title="rated capacity", owns_uncertainty=True)
def battery_capacity(subject: Subject) -> Estimate:
    """As stated, for the hours of its rating."""
    return estimate(capacity_of(thing_of(subject)), _(AS_STATED))


@fact("battery.rated_hours", kind="item", unit="h", title="hours of the rating", exact=True)
def battery_rated_hours(subject: Subject) -> float:
    """The hours over which the capacity is rated, as stated."""
    thing = thing_of(subject)
    chemistry_of(thing)
    if "rated_hours" not in thing.part("battery"):
        raise thing.silent(marked("the discharge time of the rating of {name} is not stated"), "battery.rated_hours")
    return amount_in(thing.part("battery")["rated_hours"], "h")


@fact("battery.nominal_voltage", kind="item", unit="V", title="nominal voltage", exact=True)
def battery_nominal_voltage(subject: Subject) -> float:
    """As the label states it, else the number of cells times the nominal voltage of one."""
    return nominal_of(thing_of(subject))


@fact("battery.energy", kind="item", unit="Wh", title="rated energy", owns_uncertainty=True)
def battery_energy(subject: Subject) -> Estimate:
    """Nominal voltage times capacity."""
    thing = thing_of(subject)
    capacity, nominal = capacity_of(thing), nominal_of(thing)
    parts = {capacity.origin: capacity.around * nominal}
    energy = watt_hours(nominal, capacity.value)
    return Estimate(energy, parts=parts, method=_("nominal voltage x capacity"), notes=capacity.notes)


@fact("battery.usable_share", kind="item", unit="%", title="usable share of the capacity", owns_uncertainty=True)
def battery_usable_share(subject: Subject) -> Estimate:
    """As stated; else by chemistry, by common practice without a source, and less in the cold."""
    thing = thing_of(subject)
    stated = "usable" in thing.part("battery") and not thing.typical("battery.usable")
    return estimate(usable_of(thing), _(AS_STATED) if stated else _("by chemistry"))


@fact(
    "battery.label_energy", kind="item", unit="Wh", title="watt-hours on the label", exact=True,
)  # fmt: skip
def battery_label_energy(subject: Subject) -> Estimate:
    """Exactly as the battery is marked; what is not marked is not computed, as a carrier reads the label."""
    thing = thing_of(subject)
    chemistry_of(thing)
    if "label_energy" not in thing.part("battery") or thing.typical("battery.label_energy"):
        raise thing.silent(marked("the energy on the label of {name} is not stated"), "battery.label_energy")
    return Estimate(amount_in(thing.part("battery")["label_energy"], "Wh"), method=_("as marked"))


@fact("battery.end_voltage", kind="item", unit="V", title="voltage where its use ends", owns_uncertainty=True)
def battery_end_voltage(subject: Subject) -> Estimate:
    """Under load, at its terminals: as stated, else the lowest that its port gives, else by chemistry and cells."""
    thing = thing_of(subject)
    chemistry_of(thing)
    stated = "end_voltage" in thing.part("battery")
    return estimate(end_voltage_of(thing), _(AS_STATED) if stated else _("by its port or its chemistry"))


@fact(
    "battery.full_voltage", kind="item", unit="V", title="voltage of the charged battery", owns_uncertainty=True,
)  # fmt: skip
def battery_full_voltage(subject: Subject) -> Estimate:
    """At rest, by chemistry and number of cells."""
    value, source = full_voltage_of(thing_of(subject))
    note = _("Full voltages by chemistry: {source}.").format(source=_(source))
    parts = {FULL_ORIGIN.format(name=subject.label): 0.02 * value}
    return Estimate(value, parts=parts, method=_("cells x voltage of a charged cell"), notes=(note,))


@fact(
    "battery.charge_least_temperature", kind="item", unit="degC", title="lowest temperature for charging", exact=True,
    detail={"chemistry": "of the cells", "source": "where the temperature is from"},
)  # fmt: skip
def battery_charge_least_temperature(subject: Subject) -> Estimate:
    """As stated, else by chemistry.

    Source: lithium iron phosphate: one published operation manual, table 4.3, and two cell notes; else common practice.
    """
    thing = thing_of(subject)
    value, source = least_charge_temperature(thing)
    notes = () if source == AS_STATED else (_(CHARGED_FROM).format(source=_(source)),)
    detail = {"chemistry": _(chemistry_of(thing)), "source": _(source)}
    return Estimate(value, detail=detail, method=_(AS_STATED) if not notes else _("by chemistry"), notes=notes)


@fact(
    "battery.charge_temperature_room", kind="item", unit="degC", title="air above the lowest temperature for charging",
    below_zero=marked("too cold"),
    detail={"chemistry": "of the cells", "least": "lowest temperature for charging, °C"},
)  # fmt: skip
def battery_charge_temperature_room(
    conditions_temperature: float, battery_charge_least_temperature: float, subject: Subject
) -> Estimate:
    """Air temperature less the lowest at which the battery may be charged."""
    room = conditions_temperature - battery_charge_least_temperature
    least = number(battery_charge_least_temperature)
    detail = {"chemistry": _(chemistry_of(thing_of(subject))), "least": least}
    return Estimate(room, detail=detail, method=_(AIR_LESS_LOWEST), notes=(_(CELLS_AS_AIR),))


@fact(
    "battery.discharge_temperature_room", kind="item", unit="degC", below_zero=marked("too cold"),
    title="air above the lowest temperature for use", detail={"least": "lowest temperature for use, °C"},
)  # fmt: skip
def battery_discharge_temperature_room(conditions_temperature: float, subject: Subject) -> Estimate:
    """Air temperature less the lowest at which the battery may be used: as stated, else -20 °C."""
    thing = thing_of(subject)
    chemistry_of(thing)
    stated = thing.part("battery").get("discharge_from")
    least = amount_in(stated, "degC") if stated else DISCHARGE_FROM_C
    taken = _(USED_FROM).format(least=number(least), common=_(COMMON))
    notes = (_(CELLS_AS_AIR),) if stated else (taken, _(CELLS_AS_AIR))
    detail, method = {"least": number(least)}, _(AIR_LESS_LOWEST)
    return Estimate(conditions_temperature - least, detail=detail, method=method, notes=notes)


FACTS: list[Fact] = [
    battery_present, battery_chemistry, battery_capacity, battery_rated_hours, battery_nominal_voltage, battery_energy,
    battery_usable_share, battery_label_energy, battery_end_voltage, battery_full_voltage,
    battery_charge_least_temperature, battery_charge_temperature_room, battery_discharge_temperature_room,
]  # fmt: skip
