"""How one gets to the position, and what feeds the station: what awards for summits and parks often ask."""

from __future__ import annotations

from typing import Any

from afield.core.api import marked

MEANS = (
    marked("on foot"), marked("ski"), marked("bicycle"), marked("horse"), marked("paddle"), marked("sail"),
    marked("motor boat"), marked("motor vehicle"), marked("cable car"), marked("aircraft"),
)  # fmt: skip
SUPPLIES = (
    marked("battery"), marked("battery and solar"), marked("solar"), marked("hand generator"),
    marked("fuel generator"), marked("vehicle"), marked("mains"),
)  # fmt: skip


def _choice(title: str, fact: str, choices: tuple[str, ...]) -> dict[str, Any]:
    return {"type": "string", "enum": list(choices), "title": title, "x-fact": fact, "x-example": choices[0]}


ACCESS: dict[str, Any] = {
    "type": "object",
    "title": "access",
    "properties": {"means": _choice("means of the last stretch to the position", "access.means", MEANS)},
}

SUPPLY: dict[str, Any] = {
    "type": "object",
    "title": "supply of the station",
    "properties": {"kind": _choice("kind of supply", "supply.kind", SUPPLIES)},
}

IN_VEHICLE: dict[str, Any] = {
    "type": "boolean",
    "title": "station operated from within a vehicle",
    "x-fact": "station.in_vehicle",
    "x-example": False,
}
