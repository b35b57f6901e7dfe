"""Facts of what USB feeds: what it gets, what that leaves for its battery, and what it costs the station's."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, amount_in, fact, marked
from afield.plugins.power.stated import Figure, Undecided, decided, evaluated, notes_of, number, thing_of

Ways = Sequence[Mapping[str, Any]]
Things = Mapping[str, Any]

FROM_EMPTY = marked("How full {name} is at the start is not stated: from empty.")
BY_INVERTER = marked(
    "about {drawn} W through {inverter} ({percent} %) and a mains charger ({charger} %; common practice, no source)"
)
BY_SOME_INVERTER = marked(
    "about {drawn} W through an inverter ({percent} %) and a mains charger ({charger} %; common practice, no source)"
)
INVERTER, INVERTER_AROUND, CHARGER = 88.0, 7.0, 88.0


@fact("usb.fed", kind="item", type="bool", title="whether it is fed over USB", exact=True)
def usb_fed(kit_ways: Ways, kit_undecided: Undecided, subject: Subject) -> bool:
    """Whether a way of USB ends at it."""
    from afield.plugins.power.usb.sources import ways_to

    return decided(bool(ways_to(kit_ways, subject.key.partition(":")[2])), kit_undecided, subject, "USB", "to")


@fact(
    "usb.agreed_power", kind="item", unit="W", title="USB power that is agreed on", owns_uncertainty=True, least=0.0,
    detail={
        "volts": "that are agreed on, V", "amperes": "that are agreed on, A", "why": "what limits it",
        "source": "the item that feeds it",
    },
)  # fmt: skip
def usb_agreed_power(kit_ways: Ways, kit_things: Things, subject: Subject) -> Estimate:
    """What source, cable and device agree on, from the way that gives most.

    Source: USB Power Delivery Specification, Rev. 3.1 (IEC 62680-1-2), source power rules; see `agreed`.
    """
    from afield.plugins.power.usb.gain import PORT_NOTE, agreed_figure
    from afield.plugins.power.usb.sources import best_way, shared_note

    way, things, found = best_way(kit_ways, kit_things, subject.key.partition(":")[2])
    detail = {
        "volts": f"{number(found.volts)} V", "amperes": f"{number(found.amperes, '.3g')} A", "why": found.why,
        "source": things[way.source].name,
    }  # fmt: skip
    notes = (*found.notes, *shared_note(kit_ways, way, things), _(PORT_NOTE))
    figure = agreed_figure(things[way.sink], found)
    parts = {figure.origin: figure.around} if figure.around else {}
    method = _("source power rules, cable and device")
    return Estimate(found.watts, parts=parts, detail=detail, method=method, notes=notes)


@fact(
    "usb.working_power", kind="item", unit="W", title="power that it draws while working", owns_uncertainty=True,
    least=0.0,
)  # fmt: skip
def usb_working_power(subject: Subject) -> Estimate:
    """As stated of its loads."""
    from afield.plugins.power.usb.gain import working_figure

    figure = working_figure(thing_of(subject))
    return Estimate(figure.value, parts={figure.origin: figure.around}, method=_("as stated"), notes=figure.notes)


@fact(
    "usb.gain", kind="item", unit="W", title="power that is left for its battery while it works",
    below_zero=marked("lost"),
    detail={"agreed": "USB power that is agreed on, W", "draw": "while working, W", "why": "what limits the power"},
)  # fmt: skip
def usb_gain(
    kit_ways: Ways, kit_things: Things, usb_agreed_power: float, usb_working_power: float, subject: Subject
) -> Estimate:
    """What is left of the agreed power beside its work, less what charging loses; below 0 its battery empties."""
    from afield.plugins.power.usb.gain import CHARGING, CHARGING_AROUND, CHARGING_NOTE, CHARGING_ORIGIN, left_over
    from afield.plugins.power.usb.sources import best_way

    found = best_way(kit_ways, kit_things, subject.key.partition(":")[2])[2]
    rest = usb_agreed_power - usb_working_power
    figures = {"agreed": f"{number(usb_agreed_power, '.2g')} W", "draw": f"{number(usb_working_power, '.2g')} W"}
    parts = {CHARGING_ORIGIN.format(name=subject.label): rest * CHARGING_AROUND} if rest > 0 else {}
    gain = left_over(usb_agreed_power, usb_working_power, CHARGING)
    notes = (_(CHARGING_NOTE),) if rest > 0 else ()
    method = _("agreed less working, x charging efficiency")
    return Estimate(gain, parts=parts, detail={**figures, "why": found.why}, method=method, notes=notes)


@fact("usb.hours_to_full", kind="item", unit="h", title="time until its battery is full", least=0.0)
def usb_hours_to_full(usb_gain: float, subject: Subject) -> Estimate:
    """What its battery lacks over the gain, while it works."""
    from afield.plugins.power.battery.cells import capacity_of, nominal_of

    thing = thing_of(subject)
    capacity, nominal = capacity_of(thing), nominal_of(thing)
    if usb_gain <= 0:
        what = _("{name} draws as much while working as it gets, so it is never full").format(name=subject.label)
        raise CannotTell(what, "loads")
    charged = thing.part("battery").get("charged")
    share = 1.0 if charged is None else 1 - amount_in(charged, "%") / 100
    hours = nominal * capacity.value * share / usb_gain
    parts = {capacity.origin: hours * capacity.around / capacity.value}
    notes = (*capacity.notes, _(FROM_EMPTY).format(name=subject.label)) if charged is None else capacity.notes
    return Estimate(hours, parts=parts, method=_("what its battery lacks over the gain"), notes=notes)


@fact(
    "usb.from_battery", kind="item", unit="W", title="drawn from the station's battery for it", least=0.0,
    detail={"battery": "from which it is drawn", "inverter": "what a mains charger on an inverter would draw"},
)  # fmt: skip
def usb_from_battery(kit_ways: Ways, kit_things: Things, usb_agreed_power: float, subject: Subject) -> Estimate:
    """The agreed power over the efficiency of every converter on the way, and their own draw; 0 from elsewhere."""
    from afield.plugins.power.dc.draws import efficiency_origin, own_draw_w
    from afield.plugins.power.usb.sources import best_way, converters_before

    way, things = best_way(kit_ways, kit_things, subject.key.partition(":")[2])[:2]
    chain, battery = converters_before(kit_ways, things, way.source)
    detail = {"battery": battery, "inverter": _by_inverter(usb_agreed_power, things)}
    if not battery:
        return Estimate(0.0, detail=detail, method=_("it is not fed from the station's battery"))
    figures = _efficiencies(chain)

    def drawn(values: Mapping[str, float]) -> float:
        power = usb_agreed_power
        for thing in chain:
            power = power / (values[efficiency_origin(thing)] / 100) + own_draw_w(thing)
        return power

    found = evaluated(drawn, figures)
    method, notes = _("agreed over efficiency"), notes_of(figures)
    return Estimate(found.value, parts=found.parts, detail=detail, method=method, notes=notes)


def _efficiencies(chain: Sequence[Any]) -> dict[str, Figure]:
    from afield.plugins.power.dc.draws import efficiency_of

    return {figure.origin: figure for figure in map(efficiency_of, chain)}


def _by_inverter(power_w: float, things: Mapping[str, Any]) -> str:
    """What the same power would cost through an inverter and a mains charger: the kit's, else usual ones."""
    from afield.plugins.power.dc.draws import efficiency_of, own_draw_w

    inverters = [thing for thing in things.values() if thing.part("converter").get("output") == "mains"]
    efficiency = efficiency_of(inverters[0]).value if inverters else INVERTER
    idle = own_draw_w(inverters[0]) if inverters else 0.0
    drawn = power_w / (CHARGER / 100) / (efficiency / 100) + idle
    figures = {"drawn": number(drawn, ".2g"), "percent": number(efficiency), "charger": number(CHARGER)}
    name = inverters[0].name if inverters else ""
    return _(BY_INVERTER if inverters else BY_SOME_INVERTER).format(inverter=name, **figures)


FACTS: list[Fact] = [
    usb_fed, usb_agreed_power, usb_working_power, usb_gain, usb_hours_to_full, usb_from_battery,
]  # fmt: skip
