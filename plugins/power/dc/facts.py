"""Facts of loads that batteries and supplies feed by direct current: what they draw, and the voltage that is left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact, marked
from afield.plugins.power.stated import ONE_VOLTAGE, Evaluated, Undecided, decided, number, thing_of, voltages

if TYPE_CHECKING:
    from afield.plugins.power.dc.flows import Way
    from afield.plugins.power.dc.net import Net

WAY_DETAIL = {
    "way": "the items that the current goes through",
    "worst": "the piece that loses most, with what it loses",
    "needed_area": "the lead and its area that would lose no more than 3 %",
    "needed_awg": "what the thinnest such gauge would lose",
}
OF_A_TYPICAL_LOWEST = 0.03
"""95 %, of the lowest voltage of a catalogue's item: common practice, no source."""
LOWEST = marked("lowest voltage of {name}")
LOWEST_NOTE = marked(
    "The lowest voltage of {name} is the catalogue's, taken as good to ± 3 % (common practice, no source)."
)


@fact(
    "dc.net", kind="trip", type="opaque", title="the wires from batteries to loads",
    each={"slot_powers": ("slot", "slot.power")}, optional=["slot_powers", "schedule_power"],
    encode=lambda net: [way.words(net.things) for way in net.ways],
)  # fmt: skip
def dc_net(
    kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any],
    slot_powers: list[tuple[Any, float | None]], schedule_power: float | None,
) -> Net:  # fmt: skip
    """Every way of direct current from a battery or supply to a load, with the greatest planned transmitter power."""
    from afield.plugins.power.dc.net import net_of, planned_power

    return net_of(kit_ways, kit_things, planned_power(slot_powers, schedule_power))


@fact("dc.fed", kind="item", type="bool", title="whether a battery or supply feeds it", exact=True)
def dc_fed(dc_net: Net, kit_undecided: Undecided, subject: Subject) -> bool:
    """Whether a way of direct current from a battery or supply ends at it."""
    return decided(bool(ways_to(dc_net, subject)), kit_undecided, subject, "DC", "to")


@fact("dc.feeds", kind="item", type="bool", title="whether it is a battery that feeds something", exact=True)
def dc_feeds(dc_net: Net, kit_undecided: Undecided, subject: Subject) -> bool:
    """Whether it is a battery, or holds one, and a way of direct current begins at it."""
    from afield.plugins.power.battery.cells import has_battery

    is_battery = has_battery(thing_of(subject))
    return is_battery and decided(bool(ways_from(dc_net, subject)), kit_undecided, subject, "DC", "from")


@fact(
    "dc.full_current", kind="item", unit="A", title="most current that it draws", least=0.0,
    optional=["conditions_temperature"], detail={"why": "in which state"},
)  # fmt: skip
def dc_full_current(dc_net: Net, conditions_temperature: float | None, subject: Subject) -> Estimate:
    """While transmitting at the greatest planned power, in its greediest state, or by the rating of its port."""
    from afield.plugins.power.dc.answers import greatest_current, worst_way

    net = replace(dc_net, air_c=conditions_temperature)
    ways = ways_to(net, subject)
    if not ways:
        worst_way(net, subject.key.partition(":")[2])
    why = ", ".join(dict.fromkeys(net.draw(way).why for way in ways))
    return told(greatest_current(net, ways), {"why": why}, _("the load at its most"))


@fact(
    "dc.drop", kind="item", unit="V", title="voltage lost in the wires", least=0.0,
    optional=["conditions_temperature"], detail=WAY_DETAIL,
)  # fmt: skip
def dc_drop(dc_net: Net, conditions_temperature: float | None, subject: Subject) -> Estimate:
    """Out and back over the whole way at full current, with what else hangs on shared leads.

    Source: Ohm's law; copper at the temperature of the air (NBS Handbook 100); see `ohm_per_km` of `leads`.
    """
    from afield.plugins.power.dc.answers import loss

    net, way = _worst(dc_net, conditions_temperature, subject)
    return told(loss(net, way), _detail(net, way), _("resistance x current, out and back"))


@fact(
    "dc.drop_share", kind="item", unit="%", title="share of the voltage lost in the wires", least=0.0,
    optional=["conditions_temperature"], detail=WAY_DETAIL,
)  # fmt: skip
def dc_drop_share(dc_net: Net, conditions_temperature: float | None, subject: Subject) -> Estimate:
    """The loss in per cent of the battery's nominal voltage; of a supply without one, of its lowest.

    Source: ABYC E-11 and NFPA 70 (NEC), 210.19, informational note, take per cent of the system's voltage.
    """
    from afield.plugins.power.dc.answers import loss, nominal_voltage

    net, way = _worst(dc_net, conditions_temperature, subject)
    found = loss(net, way)
    base, said = nominal_voltage(net, way)
    parts = {origin: 100 * part / base for origin, part in found.parts.items()}
    note = _(said).format(name=net.things[way.source].name, base=number(base))
    share = Evaluated(100 * found.value / base, parts, (*found.notes, note))
    return told(share, _detail(net, way), _("loss over nominal voltage"))


@fact(
    "dc.voltage_at_end", kind="item", unit="V", title="voltage at the load where the battery ends",
    optional=["conditions_temperature"], detail=WAY_DETAIL,
)  # fmt: skip
def dc_voltage_at_end(dc_net: Net, conditions_temperature: float | None, subject: Subject) -> Estimate:
    """The battery's end voltage under load, less what the wires lose at full current."""
    from afield.plugins.power.dc.answers import left

    net, way = _worst(dc_net, conditions_temperature, subject)
    return told(left(net, way), _detail(net, way), _("end voltage less loss"))


@fact("dc.lowest_voltage", kind="item", unit="V", title="lowest voltage with which it works", owns_uncertainty=True)
def dc_lowest_voltage(dc_net: Net, subject: Subject) -> Estimate:
    """The lower of the volts of its port; of one voltage, 15 % less."""
    thing = thing_of(subject)
    ports = dict.fromkeys(way.sink_port for way in ways_to(dc_net, subject))
    ends = [ends for ends in (voltages(thing.port(port)) for port in ports) if ends is not None]
    if not ends:
        raise thing.silent(marked("the lowest voltage of {name} is not stated"), _("volts of the port"))
    lowest = max(low if low < high else low * (1 - ONE_VOLTAGE) for low, high in ends)
    around = OF_A_TYPICAL_LOWEST * lowest if thing.typical("ports") else 0.0
    notes = (_(LOWEST_NOTE).format(name=thing.name),) if around else ()
    origin = LOWEST.format(name=thing.name)
    return told(Evaluated(lowest, {origin: around} if around else {}, notes), {}, _("by its port"))


@fact(
    "dc.headroom", kind="item", unit="V", title="voltage left above the lowest", below_zero=marked("too low"),
    optional=["conditions_temperature"],
    detail={**WAY_DETAIL, "left": "voltage at the load, V", "lowest": "with which it works, V"},
)  # fmt: skip
def dc_headroom(
    dc_net: Net, dc_voltage_at_end: float, dc_lowest_voltage: float, conditions_temperature: float | None,
    subject: Subject,
) -> Estimate:  # fmt: skip
    """Voltage at the load where the use of the battery ends, less the lowest with which the load works."""
    from afield.plugins.power.dc.answers import left

    net, way = _worst(dc_net, conditions_temperature, subject)
    figures = {"left": f"{number(dc_voltage_at_end, '.1f')} V", "lowest": f"{number(dc_lowest_voltage, '.3g')} V"}
    detail, notes = {**_detail(net, way), **figures}, left(net, way).notes
    method = _("left less lowest")
    return Estimate(dc_voltage_at_end - dc_lowest_voltage, detail=detail, method=method, notes=notes)


def ways_to(net: Net, subject: Subject) -> list[Way]:
    """The ways that end at an item."""
    return [way for way in net.ways if way.sink == subject.key.partition(":")[2]]


def ways_from(net: Net, subject: Subject) -> list[Way]:
    """The ways that begin at an item."""
    return [way for way in net.ways if way.source == subject.key.partition(":")[2]]


def told(found: Evaluated, detail: Mapping[str, str], method: str) -> Estimate:
    """The answer of a fact."""
    return Estimate(found.value, parts=found.parts, detail=detail, method=method, notes=found.notes)


def _worst(net: Net, air_c: float | None, subject: Subject) -> tuple[Net, Way]:
    from afield.plugins.power.dc.answers import worst_way

    warmed = replace(net, air_c=air_c)
    return warmed, worst_way(warmed, subject.key.partition(":")[2])


def _detail(net: Net, way: Way) -> dict[str, str]:
    from afield.plugins.power.dc.answers import blame, nominal_voltage

    try:
        base = nominal_voltage(net, way)[0]
    except CannotTell:
        return {"way": way.words(net.things)}
    found = blame(net, way, base)
    return {"way": found.way, "worst": found.worst, "needed_area": found.needed_area, "needed_awg": found.needed_awg}


FACTS: list[Fact] = [
    dc_net, dc_fed, dc_feeds, dc_full_current, dc_drop, dc_drop_share, dc_voltage_at_end, dc_lowest_voltage,
    dc_headroom,
]  # fmt: skip
