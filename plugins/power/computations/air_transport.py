"""Batteries in a passenger's baggage.

The limits are those of United States law and of the international rules for passengers; a carrier may be stricter, and
many have tightened their rules for power banks since 2025: ask the carrier before each trip.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from afield.plugins.power.computations.amounts import positive
from afield.plugins.power.computations.batteries import watt_hours

Chemistry = Literal["lithium-ion", "non-spillable lead-acid"]
"""Lithium-ion takes in lithium iron phosphate; sealed gel and AGM batteries are non-spillable lead-acid."""

Category = Literal["allowed", "airline-approval", "forbidden"]
Baggage = Literal["carry-on only", "carry-on or checked", "none"]

ALLOWED_WH = 100.0
WITH_APPROVAL_WH = 160.0
LEAD_ACID_GREATEST_V = 12.0
SPARES_WITH_APPROVAL = 2


class AirTransport(NamedTuple):
    """Energy of a battery, whether a passenger may take it, and where."""

    energy_wh: float
    category: Category
    baggage: Baggage


class SpareLimit(NamedTuple):
    """Whether so many spare batteries are permitted, and the most that are; None where the rule has no number."""

    permitted: bool
    max_spares: int | None


def air_transport_class(
    nominal_v: float, capacity_ah: float, chemistry: Chemistry = "lithium-ion", spare: bool = True
) -> AirTransport:
    """Whether a passenger may take a battery on an aircraft, and in which baggage.

    Formula: lithium-ion up to 100 Wh is allowed, above it and up to 160 Wh the airline must approve, above that it is
    forbidden; spares and power banks in the cabin only. Non-spillable lead-acid is allowed up to 12 V and 100 Wh.
    Source: 49 CFR 175.10(a)(18), edition of 2018 and the TSA's page (read in copies); IATA DGR 2.3 has the same limits.
    Valid: passengers' own equipment. Terminals must be protected. Lithium-metal batteries go by grams of lithium.

    Args:
        nominal_v: nominal voltage; a power bank's is that of its cells, 3.6 or 3.7 V.
        capacity_ah: capacity at that voltage.
        chemistry: lithium-ion or non-spillable lead-acid.
        spare: not built into the equipment that it feeds; a power bank always counts as spare.

    Raises:
        ValueError: an amount is not above 0, or the chemistry is not known.

    """
    energy = watt_hours(nominal_v, capacity_ah)
    if chemistry == "lithium-ion":
        category = _lithium_ion(energy)
        return AirTransport(energy, category, _baggage(category, spare))
    if chemistry == "non-spillable lead-acid":
        category = "allowed" if energy <= ALLOWED_WH and nominal_v <= LEAD_ACID_GREATEST_V else "forbidden"
        return AirTransport(energy, category, _baggage(category, False))
    raise ValueError(f'chemistry "{chemistry}" is not known; known are lithium-ion and non-spillable lead-acid')


def air_transport_spare_limit(energy_wh: float, spares: int) -> SpareLimit:
    """Whether a passenger may take so many spare lithium-ion batteries of an energy, and how many at most.

    Formula: two above 100 and up to 160 Wh, none above; up to 100 Wh the law has no number, while carriers may.
    Source: 49 CFR 175.10(a)(18) and the TSA's page (read in copies).
    Valid: lithium-ion batteries of one passenger, the approval of the airline being given.

    Args:
        energy_wh: energy of each battery.
        spares: how many.

    Raises:
        ValueError: the energy is not above 0, or the number is no number of batteries.

    """
    if spares not in range(1000):
        raise ValueError(f"{spares} is no number of batteries")
    category = _lithium_ion(positive(energy_wh, "energy", "Wh"))
    most = {"allowed": None, "airline-approval": SPARES_WITH_APPROVAL, "forbidden": 0}[category]
    return SpareLimit(most is None or spares <= most, most)


def _lithium_ion(energy_wh: float) -> Category:
    if energy_wh <= ALLOWED_WH:
        return "allowed"
    return "airline-approval" if energy_wh <= WITH_APPROVAL_WH else "forbidden"


def _baggage(category: Category, cabin_only: bool) -> Baggage:
    if category == "forbidden":
        return "none"
    return "carry-on only" if cabin_only else "carry-on or checked"
