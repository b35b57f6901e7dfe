"""Batteries whose figures contradict each other: a slip of unit, of chemistry, or of a digit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import floor, log10
from typing import Any

from afield.core.api import amount_in, parse_quantity, trimmed

Wrong = tuple[tuple[str | int, ...], str, str]
"""Where in the item, what is wrong, and what to do."""

CELL_VOLTS = {
    "lithium iron phosphate": 3.2, "lithium ion": 3.7, "lead acid": 2.0, "nickel metal hydride": 1.2, "alkaline": 1.5,
}  # fmt: skip
"""Nominal volts of a cell (common practice, no source)."""
DUE = {"chemistry": "lithium iron phosphate", "capacity": "6 Ah"}
"""What a battery cannot do without, each with an example."""
LEAST_DENSITY, MOST_DENSITY = 5.0, 400.0
"""Wh/kg, between which lie all batteries that are sold (common practice, no source): lead acid 25, lithium ion 270."""
MOST_CAPACITY_AH = 2000.0
APART = 0.1
"""How far, of themselves, two statements of one figure may differ: labels round, nominal voltages are conventions."""
OTHER_UNITS = {"Ah": "mAh", "mAh": "Ah", "kg": "g", "g": "kg"}
"""What a unit is most often written for."""


def wrong_battery(data: Mapping[str, Any], own: Mapping[str, Any]) -> Iterator[Wrong]:
    """What contradicts itself in the battery of an item, as far as it is the item's own and not the catalogue's."""
    battery = data.get("battery")
    if battery is None:
        return
    lacking = [(key, example) for key, example in DUE.items() if key not in battery]
    for key, example in lacking:
        yield ("battery",), f'battery has no key "{key}"', f"Add it, for example: {key}: {example}"
    if lacking:
        return
    if "battery" in own:
        yield from _nominal(battery)
        yield from _label(battery)
        yield from _end(battery)
    if "battery" in own or "mass" in own:
        yield from _density(data, own)


def nominal_volts(battery: Mapping[str, Any]) -> float | None:
    """Nominal volts as stated, else by cells and chemistry; None if neither is known."""
    if "nominal" in battery:
        return amount_in(battery["nominal"], "V")
    return battery["cells"] * CELL_VOLTS[battery["chemistry"]] if "cells" in battery else None


def _nominal(battery: Mapping[str, Any]) -> Iterator[Wrong]:
    if "nominal" not in battery or "cells" not in battery:
        return
    cells, chemistry, stated = battery["cells"], battery["chemistry"], amount_in(battery["nominal"], "V")
    if _near(stated, cells * CELL_VOLTS[chemistry]):
        return
    what = f"{battery['nominal']} is not the nominal voltage of {_cells(cells, chemistry)}, which make "
    what += f"{trimmed(cells * CELL_VOLTS[chemistry])} V"
    others = [name for name, volts in CELL_VOLTS.items() if _near(stated, cells * volts)]
    count = round(stated / CELL_VOLTS[chemistry])
    fitting = count > 0 and _near(stated, count * CELL_VOLTS[chemistry])
    guesses = [_cells(cells, name) for name in others] + ([_cells(count, chemistry)] if fitting else [])
    guess = f"; {battery['nominal']} would be {' or '.join(guesses)}" if guesses else ""
    yield ("battery", "nominal"), what, f"Check the chemistry, the cells in series and the label{guess}."


def _cells(count: int, chemistry: str) -> str:
    return f"{count} cell{'s' if count > 1 else ''} of {chemistry}"


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= APART * other


def _label(battery: Mapping[str, Any]) -> Iterator[Wrong]:
    volts = nominal_volts(battery)
    if "label_energy" not in battery or volts is None:
        return
    made, label = amount_in(battery["capacity"], "Ah") * volts, amount_in(battery["label_energy"], "Wh")
    if not _near(label, made):
        what = f"the label says {battery['label_energy']}, but {battery['capacity']} at {trimmed(volts)} V make "
        advice = "Read capacity, nominal voltage and watt-hours off the label again; write the watt-hours as printed."
        yield ("battery", "label_energy"), f"{what}{_two_digits(made)} Wh", advice


def _end(battery: Mapping[str, Any]) -> Iterator[Wrong]:
    """An end voltage at or above the nominal one: the battery would be empty before it is begun."""
    volts = nominal_volts(battery)
    if volts is None or "end_voltage" not in battery or amount_in(battery["end_voltage"], "V") < volts:
        return
    what = f"the end voltage {battery['end_voltage']} is not below the nominal {trimmed(volts)} V"
    yield ("battery", "end_voltage"), what, "Write the volts under load at which its use ends, or leave it out."


def _density(data: Mapping[str, Any], own: Mapping[str, Any]) -> Iterator[Wrong]:
    """An energy that its mass cannot hold; an item that is more than a battery may be heavier than any."""
    battery, at = data["battery"], ("battery", "capacity") if "battery" in own else ("mass",)
    capacity, volts = battery["capacity"], nominal_volts(battery)
    found = _wh_per_kg(capacity, volts, data.get("mass"))
    if found is not None and not _holds(found, data):
        what = f"{capacity} at {trimmed(volts or 0)} V in {data['mass']} would be {_density_words(found)}"
        advice = f"Batteries hold {LEAST_DENSITY:.0f} to {MOST_DENSITY:.0f} Wh/kg (common practice, no source). "
        yield at, what, advice + _meant(data, own, volts)
    elif found is None and amount_in(capacity, "Ah") > MOST_CAPACITY_AH:
        what = f"{capacity} is more than the {MOST_CAPACITY_AH:.0f} Ah that a battery is taken to hold at most"
        yield at, what, _meant(data, own, volts)


def _wh_per_kg(capacity: str, volts: float | None, mass: str | None) -> float | None:
    kilograms = amount_in(mass, "kg") if mass else 0.0
    return amount_in(capacity, "Ah") * volts / kilograms if volts and kilograms else None


def _holds(density: float, data: Mapping[str, Any]) -> bool:
    least = LEAST_DENSITY if data.get("class") == "battery" else 0.0
    return least <= density <= MOST_DENSITY


def _meant(data: Mapping[str, Any], own: Mapping[str, Any], volts: float | None) -> str:
    """The capacity or the mass with another unit, where that would do."""
    capacity, mass = data["battery"]["capacity"], data.get("mass")
    others = [(_other_unit(capacity, "charge"), mass)] if "battery" in own else []
    others += [(capacity, _other_unit(own["mass"], "mass"))] if "mass" in own else []
    for other_capacity, other_mass in others:
        density = _wh_per_kg(other_capacity, volts, other_mass)
        fits = _holds(density, data) if density is not None else amount_in(other_capacity, "Ah") <= MOST_CAPACITY_AH
        if fits:
            return f'Did you mean "{other_capacity if other_capacity != capacity else other_mass}"?'
    return "Check capacity, nominal voltage and mass, with their units."


def _other_unit(text: str, dimension: str) -> str:
    quantity = parse_quantity(text, dimension)
    return f"{quantity.digits} {OTHER_UNITS.get(quantity.unit, quantity.unit)}"


def _density_words(wh_per_kg: float) -> str:
    thousands = wh_per_kg >= 1000
    return f"{_two_digits(wh_per_kg / 1000 if thousands else wh_per_kg)} {'kWh' if thousands else 'Wh'}/kg"


def _two_digits(value: float) -> str:
    """Rounded to two significant digits, three where the first is 1 (76.8 -> 77, 118 -> 118)."""
    places = 1 - floor(log10(value)) + (f"{value:e}"[0] == "1")
    return trimmed(round(value, places))
