"""What a USB Power Delivery source must offer, what a device gets from it, and what the cable carries."""

from __future__ import annotations

from math import floor
from typing import Literal, NamedTuple

from afield.plugins.power.computations.amounts import positive, within

Cable = Literal["unmarked 3 A", "marked 5 A", "EPR 5 A"]
"""A plain USB-C cable, one that is electronically marked for 5 A, and one for the extended power range."""

FIXED_VOLTAGES = ((5.0, 0.0, 15.0), (9.0, 15.0, 27.0), (15.0, 27.0, 45.0), (20.0, 45.0, 100.0))
"""Voltage, above which rated power it is due, and up to which its current is power over voltage."""

EXTENDED_VOLTAGES = ((140.0, 28), (180.0, 36), (240.0, 48))
"""Greatest rated power and the highest fixed voltage of sources up to it."""

CABLES = {"unmarked 3 A": (20.0, 3.0), "marked 5 A": (20.0, 5.0), "EPR 5 A": (48.0, 5.0)}
"""Cable -> highest fixed voltage and greatest current."""

STANDARD_RANGE_W, EXTENDED_RANGE_W, LEAST_RATED_W = 100.0, 240.0, 0.5
FULL_A = 3.0


class FixedSupply(NamedTuple):
    """One fixed voltage and the current that comes with it."""

    v: float
    a: float


class SourceOffer(NamedTuple):
    """The fixed supplies that a source must offer, and whether the greatest needs a cable for 5 A."""

    supplies: tuple[FixedSupply, ...]
    needs_5a_cable: bool


class Contract(NamedTuple):
    """What source and device agree on; `fits` is False where only the 5 V of the start is left."""

    contract_v: float
    contract_a: float
    power_w: float
    shortfall_w: float
    fits: bool


class ExtendedSupply(NamedTuple):
    """Highest fixed voltage of a source of the extended power range, its current, and the adjustable voltages."""

    highest_fixed_v: int
    max_a: float
    avs_min_v: int
    avs_max_v: int


def usb_pd_fixed_supplies(pdp_w: float) -> SourceOffer:
    """The fixed supplies that a USB Power Delivery source of a rated power must offer.

    Formula: 5 V always, 9 V above 15 W, 15 V above 27 W, 20 V above 45 W; the highest gives P / V, the lower ones 3 A;
    currents rounded down to 10 mA, so that none exceeds the rating. Above 60 W a cable for 5 A is needed.
    Source: USB Power Delivery Specification, Rev. 3.1 (IEC 62680-1-2), source power rules (read in public copies).
    Valid: 0.5 to 240 W, the standard power range only (100 W at most). Multi-port chargers share their power: take the
    port's rating of the moment. 12 V is not in the rule, nor 20 V for 45 W: both are extras that need not be there.

    Args:
        pdp_w: rated power of the port (PDP).

    Raises:
        ValueError: the power is out of range.

    """
    rated = min(within(pdp_w, LEAST_RATED_W, EXTENDED_RANGE_W, "rated power", "W"), STANDARD_RANGE_W)
    due = [
        FixedSupply(volts, _in_10_ma(rated / volts) if rated <= full else FULL_A)
        for volts, above, full in FIXED_VOLTAGES
        if rated > above
    ]
    return SourceOffer(tuple(due), any(supply.a > FULL_A for supply in due))


def usb_pd_match(
    source_pdp_w: float,
    sink_wants_v: float = 20.0,
    sink_min_v: float = 5.0,
    sink_wants_w: float | None = None,
    cable_a: float = FULL_A,
) -> Contract:
    """What a device gets from a USB Power Delivery source by the supplies that the source must offer.

    Formula: the highest supply from `sink_min_v` to `sink_wants_v`, its current within the cable's; without one, the
    5 V with which every connection starts. Shortfall is wanted less offered power.
    Source: USB Power Delivery Specification, Rev. 3.1 (IEC 62680-1-2), source power rules and contract negotiation.
    Valid: fixed supplies of the standard power range. A cable for 3 A caps at 60 W whatever the source is.

    Args:
        source_pdp_w: rated power of the port.
        sink_wants_v: voltage that the device asks for.
        sink_min_v: lowest voltage with which it works.
        sink_wants_w: power that it wants, if it is known.
        cable_a: current of the cable, 3 or 5 A.

    Raises:
        ValueError: an amount is out of range, or the lowest voltage is above the wanted one.

    """
    if not 0 < sink_min_v <= sink_wants_v:
        raise ValueError(f"a device that wants {sink_wants_v:g} V cannot need {sink_min_v:g} V at least")
    if cable_a not in (3, 5):
        raise ValueError(f"cable {cable_a:g} A does not exist; USB-C cables are for 3 or 5 A")
    supplies = usb_pd_fixed_supplies(source_pdp_w).supplies
    fitting = [supply for supply in supplies if sink_min_v <= supply.v <= sink_wants_v]
    volts, amperes = (fitting or [supplies[0]])[-1]
    power = volts * min(amperes, cable_a)
    wanted = power if sink_wants_w is None else positive(sink_wants_w, "wanted power", "W")
    return Contract(volts, min(amperes, float(cable_a)), power, max(0.0, wanted - power), bool(fitting))


def usb_epr_fixed_voltage(pdp_w: float) -> ExtendedSupply:
    """The highest fixed voltage of a source of the extended power range, and its adjustable voltages.

    Formula: 28 V above 100 W, 36 V above 140 W, 48 V above 180 W; P / V up to 5 A, rounded down to 10 mA; adjustable
    from 15 V to the highest fixed voltage.
    Source: USB Power Delivery Specification, Rev. 3.1 (IEC 62680-1-2), extended power range (read in public copies).
    Valid: above 100 and up to 240 W, with a cable of the extended range.

    Args:
        pdp_w: rated power of the port (PDP).

    Raises:
        ValueError: the power is out of range.

    """
    if not STANDARD_RANGE_W < pdp_w <= EXTENDED_RANGE_W:
        raise ValueError(f"rated power {pdp_w:g} W is not above 100 and up to 240 W, the extended power range")
    volts = next(volts for greatest, volts in EXTENDED_VOLTAGES if pdp_w <= greatest)
    return ExtendedSupply(volts, _in_10_ma(pdp_w / volts), 15, volts)


def usb_cable_power_limit(cable: Cable, max_v: float = 20.0) -> float:
    """The most power that a USB-C cable carries, in watts.

    Formula: voltage x current of the cable: 3 A if unmarked, 5 A if marked.
    Source: USB Type-C Cable and Connector Specification (IEC 62680-1-3), read in a public tutorial.
    Valid: up to 20 V, a cable of the extended range up to 48 V.

    Args:
        cable: unmarked 3 A, marked 5 A or EPR 5 A.
        max_v: highest voltage of source and device.

    Raises:
        ValueError: the cable is not known, or is not for that voltage.

    """
    if cable not in CABLES:
        raise ValueError(f'cable "{cable}" is not known; known are {", ".join(CABLES)}')
    most, amperes = CABLES[cable]
    if positive(max_v, "voltage", "V") > most:
        raise ValueError(f"a cable {cable} is for {most:g} V at most, not {max_v:g} V")
    return max_v * amperes


def _in_10_ma(amperes: float) -> float:
    # A hair is added, as 0.29 x 100 is 28.999... in binary.
    return floor(amperes * 100 + 1e-6) / 100
