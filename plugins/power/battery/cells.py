"""What follows from the chemistry of a battery where its description does not say it."""

from __future__ import annotations

from afield.core.api import CannotTell, _, amount_in, frozen, marked
from afield.plugins.power.stated import COMMON, Figure, Thing, number, voltages

AS_STATED = marked("as stated")
NO_WHOLE_NUMBER = marked("{volts} V of {name} is no whole number of {chemistry} cells")
USABLE_NOTE = marked("{usable} % ± {around} % of a {chemistry} battery are usable ({common}).")
END_TAKEN = marked(
    "The end voltage of {name} is not stated: {cell} V a cell under load, {volts} V ± {around} V, is taken ({common})."
)
END_OF_CATALOGUE = marked("The end voltage of {name}, {volts} V, is the catalogue's: ± {percent} % (95 %; {common}).")
END_STATED = marked("The end voltage of {name}, {volts} V, is as stated: ± {percent} % (95 %; {common}).")
USABLE_ORIGIN, END_ORIGIN = marked("usable share of {name}"), marked("end voltage of {name}")
MOST_OFF = 0.12
"""How far, as a share, a nominal voltage may be from a whole number of cells."""


@frozen
class Cells:
    """One cell of a chemistry.

    Attributes:
        full_v, nominal_v: charged, and by its name.
        end_v, end_around_v: under load where its use ends, and how far that differs between makers and users.
        usable, usable_around: per cent of the capacity that is drawn.
        charge_from_c: lowest temperature at which it is charged; None = it is not charged.
        full_source, charge_source: where full voltage and least temperature are from.

    """

    full_v: float
    nominal_v: float
    end_v: float
    end_around_v: float
    usable: float
    usable_around: float
    charge_from_c: float | None
    full_source: str = COMMON
    charge_source: str = COMMON


CHEMISTRIES = {
    marked("lithium iron phosphate"): Cells(
        3.65, 3.2, 2.8, 0.3, 85, 5, 0.0, marked("makers' cell notes that agree"),
        marked("one published operation manual, table 4.3, and two cell notes of 0 to 45 °C"),
    ),
    marked("lithium ion"): Cells(4.2, 3.7, 3.25, 0.25, 80, 10, 0.0),
    marked("lead acid"): Cells(2.15, 2.0, 1.9, 0.15, 50, 10, -20.0),
    marked("nickel metal hydride"): Cells(1.4, 1.2, 1.05, 0.1, 80, 10, 0.0),
    marked("alkaline"): Cells(1.6, 1.5, 1.0, 0.2, 70, 20, None),
}  # fmt: skip
"""Chemistry -> its cell. End voltages, usable shares and, where no source is named, the rest are common practice."""

DISCHARGE_FROM_C = -20.0
"""Lowest temperature at which a battery is discharged where none is stated: makers' notes of lithium iron phosphate."""

OF_A_STATED_VOLTAGE, OF_A_TYPICAL_VOLTAGE = 0.01, 0.05
"""95 %, of a voltage: as the user states it, and as the catalogue has it; common practice, no source."""


def has_battery(thing: Thing) -> bool:
    """Whether the item is a battery, or holds one that is described."""
    return thing.class_ == "battery" or "battery" in thing.data


def chemistry_of(thing: Thing) -> str:
    """Its chemistry.

    Raises:
        CannotTell: the battery is not described.

    """
    if "battery" not in thing.data:
        raise thing.silent(marked("the battery of {name} is not described"), "battery")
    return str(thing.data["battery"]["chemistry"])


def cell_of(thing: Thing) -> Cells:
    """A cell of its chemistry; raises as `chemistry_of`."""
    return CHEMISTRIES[chemistry_of(thing)]


def capacity_of(thing: Thing) -> Figure:
    """Rated capacity in Ah; raises as `chemistry_of`."""
    chemistry_of(thing)
    return thing.figure("capacity", amount_in(thing.part("battery")["capacity"], "Ah"), "battery.capacity")


def nominal_of(thing: Thing) -> float:
    """Nominal voltage in V: as the label states it, else that of its cells.

    Raises:
        CannotTell: neither the voltage nor the number of cells is stated.

    """
    cell, battery = cell_of(thing), thing.part("battery")
    if "nominal" in battery:
        return amount_in(battery["nominal"], "V")
    if "cells" in battery:
        return float(battery["cells"]) * cell.nominal_v
    raise thing.silent(marked("the nominal voltage of the battery of {name} is not stated"), "battery.nominal")


def cells_of(thing: Thing) -> int:
    """Cells in series: as stated, else as many as the nominal voltage comes to.

    Raises:
        CannotTell: the nominal voltage is not one of whole cells.

    """
    cell, battery = cell_of(thing), thing.part("battery")
    if "cells" in battery:
        return int(battery["cells"])
    nominal = nominal_of(thing)
    cells = max(1, round(nominal / cell.nominal_v))
    if abs(cells * cell.nominal_v - nominal) > MOST_OFF * nominal:
        raise thing.silent(NO_WHOLE_NUMBER, "battery.cells", volts=number(nominal), chemistry=_(chemistry_of(thing)))
    return cells


def usable_of(thing: Thing) -> Figure:
    """Per cent of the capacity that may be drawn: as stated, else by chemistry."""
    cell, battery = cell_of(thing), thing.part("battery")
    origin = USABLE_ORIGIN.format(name=thing.name)
    if "usable" in battery and not thing.typical("battery.usable"):
        return Figure(amount_in(battery["usable"], "%"), 0.0, origin)
    usable = amount_in(battery["usable"], "%") if "usable" in battery else cell.usable
    figures = {"usable": number(usable), "around": number(cell.usable_around), "common": _(COMMON)}
    note = _(USABLE_NOTE).format(chemistry=_(chemistry_of(thing)), **figures)
    return Figure(usable, cell.usable_around, origin, (note,))


def end_voltage_of(thing: Thing, port: str | None = None) -> Figure:
    """Voltage at its terminals under load where its use ends, in V.

    As stated, else the lowest that its port gives, else by chemistry and cells.

    Raises:
        CannotTell: none of these is known.

    """
    origin, battery = END_ORIGIN.format(name=thing.name), thing.part("battery")
    if "end_voltage" in battery:
        return _stated_voltage(thing, amount_in(battery["end_voltage"], "V"), "battery.end_voltage", origin)
    ends = voltages(thing.port(port)) if port else lowest_port(thing)
    if ends is not None and ends[0] < ends[1]:
        return _stated_voltage(thing, ends[0], "ports", origin)
    if not has_battery(thing):
        raise thing.silent(marked("the lowest voltage of {name} is not stated"), _("volts of the port"))
    return _usual_end(thing, origin)


def _usual_end(thing: Thing, origin: str) -> Figure:
    """By chemistry and cells."""
    cells, cell = cells_of(thing), cell_of(thing)
    volts, around = cells * cell.end_v, cells * cell.end_around_v
    figures = {"cell": number(cell.end_v), "volts": number(volts, ".1f"), "around": number(around, ".1f")}
    note = _(END_TAKEN).format(name=thing.name, common=_(COMMON), **figures)
    return Figure(volts, around, origin, (note,))


def lowest_port(thing: Thing) -> tuple[float, float] | None:
    """Voltages of the port that gives direct current, if it has one and states them."""
    ports = thing.data.get("ports", ())
    gives = [port for port in ports if port.get("role") == "DC" and port.get("direction") == "source"]
    return voltages(gives[0]) if gives else None


def _stated_voltage(thing: Thing, value: float, key: str, origin: str) -> Figure:
    share = OF_A_TYPICAL_VOLTAGE if thing.typical(key) else OF_A_STATED_VOLTAGE
    figures = {"volts": number(value), "percent": number(100 * share), "common": _(COMMON)}
    note = _(END_OF_CATALOGUE if thing.typical(key) else END_STATED).format(name=thing.name, **figures)
    return Figure(value, share * value, origin, (note,))


def full_voltage_of(thing: Thing) -> tuple[float, str]:
    """Voltage of the charged battery at rest in V, and its source."""
    cells, cell = cells_of(thing), cell_of(thing)
    return cells * cell.full_v, cell.full_source


def least_charge_temperature(thing: Thing) -> tuple[float, str]:
    """Lowest temperature in °C at which it may be charged, and its source.

    Raises:
        CannotTell: its cells are not charged at all, or it is not described.

    """
    cell, battery = cell_of(thing), thing.part("battery")
    if "charge_from" in battery:
        return amount_in(battery["charge_from"], "degC"), AS_STATED
    if cell.charge_from_c is None:
        what = _("{chemistry} cells such as {name} are not charged")
        raise CannotTell(what.format(chemistry=_(chemistry_of(thing)), name=thing.name))
    return cell.charge_from_c, cell.charge_source
