"""What is asked of the wires: current, loss and voltage left, with their uncertainties, and what would lose less."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from math import ceil

from afield.core.api import CannotTell, _, frozen, marked
from afield.plugins.power.battery.cells import has_battery, nominal_of
from afield.plugins.power.computations.wire_sizes import gauge_name
from afield.plugins.power.dc.flows import Way
from afield.plugins.power.dc.leads import TRADE_GAUGES, area_of, has_wire, ohm_per_km
from afield.plugins.power.dc.net import Net
from afield.plugins.power.stated import Evaluated, Figure, Thing, evaluated, number

ALL_AT_ONCE = marked("All that hangs on a shared lead is taken to draw its most at once.")
LEFT_OUT = marked("What leads lose whose conductor is not described is left out of the currents.")
USUAL_SHARE = 3.0
"""Per cent of the nominal voltage that may be lost by the usual rule of thumb."""
OTHER_PIECES = marked("pairs of plugs")
OF_NOMINAL = marked("Per cent of the nominal voltage of {name}, {base} V, as the usual rule of 3 % means it.")
OF_LOWEST = marked("Per cent of the lowest voltage of {name}, {base} V, as the usual rule of 3 % means it.")


def loss(net: Net, way: Way) -> Evaluated:
    """What is lost on a way in V.

    Raises:
        CannotTell: a lead on it is not described, or what a load draws that shares it.

    """
    return _answer(net, way, lambda end, lost: lost)


def left(net: Net, way: Way) -> Evaluated:
    """What is left at the load in V where the use of the source ends; raises as `loss`."""
    net.refuse_undescribed(way)
    return _answer(net, way, lambda end, lost: end - lost, net.end_voltage(way))


def _answer(net: Net, way: Way, wanted: Callable[[float, float], float], end: Figure | None = None) -> Evaluated:
    net.refuse_undescribed(way)
    beside = net.beside(way)
    inputs = net.inputs(beside) | ({} if end is None else {end.origin: end})

    def value(values: Mapping[str, float]) -> float:
        lost = sum(net.solve(beside, values).losses[way].values())
        return wanted(values.get(net.end_origin(way), 0.0), lost)

    found = evaluated(value, inputs)
    return replace(found, notes=(*found.notes, _(ALL_AT_ONCE))) if len(beside) > 1 else found


def current(net: Net, ways: Sequence[Way]) -> Evaluated:
    """The sum of what flows on ways of one source in A.

    Raises:
        CannotTell: what a load draws is not stated, or a voltage that its current follows from.

    """
    if not any(net.draw(way).in_watts for way in ways):
        return _sum_of_amperes(net, ways)
    beside = list(dict.fromkeys(other for way in ways for other in net.beside(way)))
    found = evaluated(lambda values: sum(net.solve(beside, values).currents[way] for way in ways), net.inputs(beside))
    bare = any(_is_bare(net, key) for way in beside for key in way.items)
    return replace(found, notes=(*found.notes, _(LEFT_OUT))) if bare else found


def _sum_of_amperes(net: Net, ways: Sequence[Way]) -> Evaluated:
    """The sum where no current follows from a voltage, so that the wires do not matter."""
    drawn = [net.draw(way).figure for way in ways]
    figures = {figure.origin: figure for figure in drawn}
    return evaluated(lambda values: sum(values[figure.origin] for figure in drawn), figures)


def _is_bare(net: Net, key: str) -> bool:
    return has_wire(net.things[key]) and "conductor" not in net.things[key].data


def greatest_current(net: Net, ways: Sequence[Way]) -> Evaluated:
    """The greatest of the currents that ways of one source each draw together; raises as `current`."""
    sources = dict.fromkeys(way.source for way in ways)
    found = [current(net, [way for way in ways if way.source == source]) for source in sources]
    return max(found, key=lambda one: one.value)


def worst_way(net: Net, key: str) -> Way:
    """The way to a load on which the least voltage is left.

    Raises:
        CannotTell: no battery or supply feeds it, or as `loss`.

    """
    ways = [way for way in net.ways if way.sink == key]
    if not ways:
        what = _("no battery or supply feeds {name}").format(name=net.things[key].name)
        raise CannotTell(what, "connections", "not stated", f"item:{key}")
    return ways[0] if len(ways) == 1 else min(ways, key=lambda way: left(net, way).value)


def nominal_voltage(net: Net, way: Way) -> tuple[float, str]:
    """The voltage that per cent are taken of in V, the source's nominal one, else its end voltage; and what is said."""
    thing = net.things[way.source]
    if has_battery(thing):
        return nominal_of(thing), OF_NOMINAL
    return net.end_voltage(way).value, OF_LOWEST


@frozen
class Blame:
    """Which piece of a way loses most, in words, and what would lose less; empty words where nothing need be done."""

    way: str
    worst: str
    needed_area: str = ""
    needed_awg: str = ""


def blame(net: Net, way: Way, base_v: float) -> Blame:
    """What loses most on a way, and the conductor that would keep the usual share of a voltage; raises as `loss`."""
    beside = net.beside(way)
    values = {origin: figure.value for origin, figure in net.inputs(beside).items()}
    lost = net.solve(beside, values).losses[way]
    by_item: dict[str, float] = {}
    for piece in net.pieces[way]:
        name = net.things[piece.item].name if piece.item else _(OTHER_PIECES)
        by_item[name] = by_item.get(name, 0.0) + lost[piece.key]
    name = max(by_item, key=lambda one: by_item[one]) if by_item else _(OTHER_PIECES)
    worst = f"{name} ({number(by_item.get(name, 0.0), '.2g')} V)"
    return Blame(way.words(net.things), worst, *_thicker(net, way, lost, USUAL_SHARE / 100 * base_v))


def _thicker(net: Net, way: Way, lost: Mapping[str, float], most_v: float) -> tuple[str, str]:
    """Area and gauge of the lead with the most lossy wires that would keep a loss; empty where it is kept."""
    wires = {piece.item: lost[piece.key] for piece in net.pieces[way] if piece.is_wire and piece.item}
    total = sum(lost.values())
    if total <= most_v or not wires:
        return "", ""
    key = max(wires, key=lambda one: wires[one])
    thing, room = net.things[key], most_v - (total - wires[key])
    if room <= 0:
        alone = _("no thickness of {name} alone keeps {most} V")
        return alone.format(name=thing.name, most=number(most_v, ".2g")), ""
    area = number(ceil(10 * area_of(thing) * wires[key] / room) / 10)
    thicker = _("{name} of {area} mm²").format(name=thing.name, area=area)
    return thicker, _gauge(thing, wires[key], total - wires[key], most_v)


def _gauge(thing: Thing, wire_v: float, other_v: float, most_v: float) -> str:
    """What the thinnest trade gauge that keeps the loss would lose; empty where none does."""
    per_ohm = wire_v / ohm_per_km(thing.part("conductor"))
    for gauge in TRADE_GAUGES:
        total = other_v + per_ohm * ohm_per_km({"awg": gauge})
        if total <= most_v:
            told = _("{gauge} would lose {total} V in all")
            return told.format(gauge=gauge_name(gauge), total=number(total, ".2g"))
    return ""
