"""What a device and a source of USB power agree on over a cable."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import CannotTell, _, amount_in, frozen, marked
from afield.plugins.power.computations.usb_power import (
    EXTENDED_VOLTAGES,
    usb_cable_power_limit,
    usb_epr_fixed_voltage,
    usb_pd_match,
)
from afield.plugins.power.computations.usb_signalling import LEGACY_CURRENTS_A, legacy_high_voltage_usb
from afield.plugins.power.dc.flows import Way
from afield.plugins.power.stated import ONE_VOLTAGE, Thing, number, voltages

PD, HIGH_VOLTAGE, PLAIN = marked("power delivery"), marked("high voltage"), marked("plain 5 V")
HIGHEST_V, EXTENDED_V, FULL_A, MARKED_A, PLAIN_A = 20.0, 48.0, 3.0, 5.0, 1.5
STANDARD_W = 100.0
UNMARKED = marked("A cable whose amperes are not stated is taken to be for 3 A.")
OLD_CURRENT = marked("A port of 5 V whose amperes are not stated is taken to give 1.5 A (USB Battery Charging 1.2).")
SHARED = marked("Each USB port is taken to give its rating while the others are in use; many share it.")
NO_USB_POWER = marked("the USB power at {port} of {name} is not stated")


@frozen
class Offer:
    """What a port gives: kind, rated power in W, amperes at 5 V, voltage of an older scheme, extended range."""

    kind: str
    watts: float | None
    amperes: float | None = None
    volts: float | None = None
    extended: bool = False


@frozen
class Wish:
    """What a device asks for: kind, power in W, least power, extended range; lowest and highest voltage if stated."""

    kind: str
    watts: float
    least_w: float = 0.0
    volts: tuple[float, float] | None = None
    extended: bool = False
    high_voltage_v: float | None = None

    @property
    def ends(self) -> tuple[float, float]:
        """Lowest and highest voltage in V; where they are not stated, those of its range."""
        return self.volts or (5.0, EXTENDED_V if self.extended else HIGHEST_V)


@frozen
class Cable:
    """What is between them: amperes, extended range, whether every plug is USB-C, whether the amperes are stated."""

    amperes: float = FULL_A
    extended: bool = False
    all_c: bool = True
    stated: bool = True


@frozen
class Agreement:
    """Power in W, volts, amperes, and what limits it: source, cable or device, in words."""

    watts: float
    volts: float
    amperes: float
    why: str
    notes: tuple[str, ...] = ()


def agreed(offer: Offer, wish: Wish, cable: Cable) -> Agreement:
    """What source and device agree on; 0 W where that is less than the device works with.

    Source: USB Power Delivery Specification, Rev. 3.1 (IEC 62680-1-2), source power rules; USB Type-C (IEC 62680-1-3)
    for cables; older schemes by common practice.
    """
    notes = () if cable.stated else (_(UNMARKED),)
    if offer.kind == PD and wish.kind == PD and cable.all_c:
        volts, amperes, why = _power_delivery(offer, wish, cable)
    elif offer.kind == HIGH_VOLTAGE == wish.kind and offer.volts == wish.high_voltage_v and offer.volts:
        volts, amperes, why = _high_voltage(offer.volts, offer)
    else:
        volts, amperes, why, more = _five_volts(offer, wish, cable)
        notes = (*notes, *more)
    if volts * amperes < wish.least_w:
        nothing = _("the device takes nothing below {least} W; {why}").format(least=number(wish.least_w), why=why)
        return Agreement(0.0, volts, 0.0, nothing, notes)
    if wish.watts < volts * amperes:
        asks = _("the device asks for {watts} W").format(watts=number(wish.watts))
        return Agreement(wish.watts, volts, wish.watts / volts, asks, notes)
    return Agreement(volts * amperes, volts, amperes, why, notes)


def _power_delivery(offer: Offer, wish: Wish, cable: Cable) -> tuple[float, float, str]:
    assert offer.watts is not None
    extended = _extended(offer.watts, wish.ends) if offer.extended and wish.extended and cable.extended else None
    if extended is not None:
        return extended
    limit = MARKED_A if cable.amperes >= MARKED_A else FULL_A
    least, most = max(wish.ends[0], 1.0), min(wish.ends[1], HIGHEST_V)
    found = usb_pd_match(offer.watts, max(most, least), least, cable_a=limit)
    free = usb_pd_match(offer.watts, max(most, least), least, cable_a=MARKED_A)
    if not found.fits:
        none = _("the source has no voltage from {least} to {most} V but 5 V")
        return found.contract_v, found.contract_a, none.format(least=number(least), most=number(most))
    if found.power_w < free.power_w:
        carried = usb_cable_power_limit("unmarked 3 A", found.contract_v)
        carries = _("the cable carries {amperes} A, {watts} W")
        return found.contract_v, found.contract_a, carries.format(amperes=number(FULL_A), watts=number(carried))
    return found.contract_v, found.contract_a, _limiting(offer.watts, found.power_w, most)


def _extended(rated_w: float, ends: tuple[float, float]) -> tuple[float, float, str] | None:
    """Volts, amperes and what limits them of the highest fixed voltage above 20 V that the device takes, if any.

    A source has every one of them up to its highest, the lower ones at 5 A.
    """
    if rated_w <= STANDARD_W:
        return None
    highest = usb_epr_fixed_voltage(rated_w)
    fitting = [volts for _, volts in EXTENDED_VOLTAGES if volts <= min(highest.highest_fixed_v, ends[1])]
    if not fitting:
        return None
    if fitting[-1] == highest.highest_fixed_v:
        return float(fitting[-1]), highest.max_a, _gives(rated_w)
    at_most = _("the device takes {most} V at most, and the cable carries 5 A").format(most=number(ends[1]))
    return float(fitting[-1]), MARKED_A, at_most


def _gives(rated_w: float) -> str:
    return _("the source gives {watts} W").format(watts=number(rated_w))


def _limiting(rated: float, power: float, most_v: float) -> str:
    if rated - power > 0.05 * rated:
        return _("the device takes {most} V at most, and the source gives 3 A there").format(most=number(most_v))
    return _gives(rated)


def _high_voltage(volts: float, offer: Offer) -> tuple[float, float, str]:
    most = LEGACY_CURRENTS_A.get(volts, 0.0) if offer.amperes is None else offer.amperes
    amperes = min(most, LEGACY_CURRENTS_A.get(volts, most))
    if offer.watts is not None:
        amperes = min(amperes, offer.watts / volts)
    power = legacy_high_voltage_usb(volts, amperes) if volts in LEGACY_CURRENTS_A else volts * amperes
    older = _("the older scheme of {volts} V gives {watts} W")
    return volts, amperes, older.format(volts=number(volts), watts=number(power))


def _five_volts(offer: Offer, wish: Wish, cable: Cable) -> tuple[float, float, str, tuple[str, ...]]:
    """What is left where no higher voltage is agreed on: at most 3 A at 5 V."""
    amperes, notes = offer.amperes, tuple[str, ...]()
    if offer.kind == PD and offer.watts is not None and cable.all_c:
        amperes = min(FULL_A, offer.watts / 5)
    elif amperes is None and offer.kind == PLAIN and offer.watts is not None:
        amperes = offer.watts / 5
    if amperes is None or (offer.kind != PLAIN and not cable.all_c):
        amperes, notes = PLAIN_A, (_(OLD_CURRENT),)
    rated = FULL_A if offer.watts is None else offer.watts / 5
    amperes = min(amperes, rated, FULL_A, cable.amperes)
    other_plug = wish.kind == PD == offer.kind and not cable.all_c
    common = _("source ({offer}) and device ({wish}) have only 5 V in common: {watts} W")
    why = _("the cable has a plug that is not USB-C: {watts} W") if other_plug else common
    kinds = {"offer": _(offer.kind), "wish": _(wish.kind)}
    return 5.0, amperes, why.format(**kinds, watts=number(5 * amperes)), notes


def _no_usb_power(thing: Thing, port: str) -> CannotTell:
    return thing.silent(NO_USB_POWER, _("usb of the port {port}").format(port=port), port=port)


def offer_of(thing: Thing, port_name: str) -> Offer:
    """What a port gives as described; a port of one voltage of 5 V is a plain one.

    Raises:
        CannotTell: neither is described.

    """
    port = thing.port(port_name)
    usb: Mapping[str, Any] = port.get("usb", {})
    amperes = amount_in(port["amperes"], "A") if "amperes" in port else None
    if "kind" not in usb and voltages(port) == (5.0, 5.0):
        return Offer(PLAIN, None, amperes)
    if "kind" not in usb or (usb["kind"] == PD and "watts" not in usb):
        raise _no_usb_power(thing, port_name)
    watts = amount_in(usb["watts"], "W") if "watts" in usb else None
    volts = amount_in(usb["volts"], "V") if "volts" in usb else None
    return Offer(usb["kind"], watts, amperes, volts, bool(usb.get("extended")))


def wish_of(thing: Thing, port_name: str) -> Wish:
    """What a device asks for as described.

    Raises:
        CannotTell: it is not described.

    """
    port = thing.port(port_name)
    usb: Mapping[str, Any] = port.get("usb", {})
    if "kind" not in usb or "watts" not in usb:
        raise _no_usb_power(thing, port_name)
    least = amount_in(usb["least_watts"], "W") if "least_watts" in usb else 0.0
    ends = voltages(port)
    if ends is not None and ends[0] == ends[1]:
        ends = ends[0] * (1 - ONE_VOLTAGE), ends[1] * (1 + ONE_VOLTAGE)
    volts = amount_in(usb["volts"], "V") if "volts" in usb else None
    return Wish(usb["kind"], amount_in(usb["watts"], "W"), least, ends, bool(usb.get("extended")), volts)


def cable_of(way: Way, things: Mapping[str, Thing]) -> Cable:
    """What the pieces between two ports carry together: the weakest counts."""
    inner = [things[key].port(name) for key, into, out in way.through for name in (into, out)]
    ends = [things[way.source].port(way.source_port), things[way.sink].port(way.sink_port)]
    stated = [amount_in(port["amperes"], "A") for port in inner if "amperes" in port]
    extended = bool(inner) and all(port.get("usb", {}).get("extended") for port in inner)
    all_c = all(port.get("connector", "USB-C") == "USB-C" for port in [*inner, *ends])
    return Cable(min(stated, default=FULL_A), extended, all_c, bool(stated) or not inner)


def agreement_on(way: Way, things: Mapping[str, Thing]) -> Agreement:
    """What is agreed on along a way.

    Raises:
        CannotTell: what the source gives or the device asks for is not described.

    """
    offer = offer_of(things[way.source], way.source_port)
    wish = wish_of(things[way.sink], way.sink_port)
    return agreed(offer, wish, cable_of(way, things))
