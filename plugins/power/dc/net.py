"""The wires from batteries to loads: what flows in each piece, and what is lost on each way."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from functools import cached_property
from typing import Any

from afield.core.api import CannotTell, _, frozen, marked
from afield.plugins.power.battery.cells import END_ORIGIN, end_voltage_of
from afield.plugins.power.computations.conductors import copper_temperature_factor
from afield.plugins.power.dc.draws import Draw, draw_of, outputs_of
from afield.plugins.power.dc.flows import Way, feeding
from afield.plugins.power.dc.leads import PLUG_PAIRS, Piece, defaults, figures_of, has_wire, lacking_conductor
from afield.plugins.power.stated import Figure, Thing, things_of

TEMPERATURE = marked("temperature of the wires")
USUAL_C, USUAL_AROUND = 20.0, 15.0
USUAL_NOTE = marked("The air temperature is not stated: wires of 20 °C ± 15 °C are taken.")
AS_AIR = marked("Wires are taken to have the temperature of the air; their own warmth is left out.")
ROUNDS = 60
"""Rounds in which currents and voltages of loads of constant power are brought together."""


@frozen(slots=False)
class Net:
    """What is fed by direct current from batteries and supplies.

    Attributes:
        things: the items, by key.
        ways: from a supply to a load.
        planned_w: greatest planned transmitter power; None where none is stated.
        air_c: temperature of the air; None where it is not stated.

    """

    things: Mapping[str, Thing]
    ways: Sequence[Way]
    kit_ways: Sequence[Mapping[str, Any]] = ()
    planned_w: float | None = None
    air_c: float | None = None
    _draws: dict[Way, Draw] = field(default_factory=dict)

    @cached_property
    def pieces(self) -> dict[Way, list[Piece]]:
        """What each way goes through, from the source on."""
        return {way: self._pieces(way) for way in self.ways}

    @cached_property
    def figures(self) -> dict[str, Figure]:
        """The resistances, by origin."""
        items = dict.fromkeys(key for way in self.ways for key in way.items)
        found = [figure for key in items for figure, _ in figures_of(self.things[key])]
        around = USUAL_AROUND if self.air_c is None else 0.0
        value = USUAL_C if self.air_c is None else self.air_c
        notes = (_(USUAL_NOTE if self.air_c is None else AS_AIR),)
        warmth = {TEMPERATURE: Figure(value, around, TEMPERATURE, notes)}
        return {**defaults(), **warmth, **{figure.origin: figure for figure in found}}

    def _pieces(self, way: Way) -> list[Piece]:
        found = [piece for key in way.items for _, piece in figures_of(self.things[key])]
        for giver, taker, key in way.joints:
            if not any("contacts" in self.things[one].part("conductor") for one in (giver, taker)):
                found.append(Piece(f"joint:{key}", None, PLUG_PAIRS, 1.0))
        return found

    def draw(self, way: Way) -> Draw:
        """What the load at the end of a way draws; raises CannotTell where it is not stated."""
        if way not in self._draws:
            outputs = outputs_of(self.kit_ways, self.things)
            self._draws[way] = draw_of(self.things[way.sink], way.sink_port, self.planned_w, outputs)
        return self._draws[way]

    def beside(self, way: Way) -> list[Way]:
        """The way itself and those that share a piece with it, or with one of them, from the same source."""
        found, waiting = [way], [way]
        while waiting:
            keys = {piece.key for piece in self.pieces[waiting.pop()]}
            for other in self.ways:
                shares = keys & {piece.key for piece in self.pieces[other]}
                if other not in found and other.source == way.source and shares:
                    found.append(other)
                    waiting.append(other)
        return found

    def refuse_undescribed(self, way: Way) -> None:
        """Raise CannotTell for the first lead on the way whose conductor is not described."""
        for key in way.items:
            if has_wire(self.things[key]) and "conductor" not in self.things[key].data:
                raise lacking_conductor(self.things[key])

    def solve(self, ways: Sequence[Way], values: Mapping[str, float]) -> Solved:
        """Currents and losses of ways that feed loads at once.

        Formula: each piece loses its resistance times the sum of the currents through it; a load of constant power
        draws it over the voltage that is left to it.

        Args:
            ways: all from one source.
            values: resistances, draws and the source's end voltage, by origin.

        Raises:
            CannotTell: more is drawn than the wires can bring.

        """
        ohms = {piece.key: self._ohm(piece, values) for way in ways for piece in self.pieces[way]}
        currents = dict.fromkeys(ways, 0.0)
        for _again in range(ROUNDS if any(self.draw(way).in_watts for way in ways) else 2):
            left = {way: values.get(self.end_origin(way), 0.0) - self._lost(way, currents, ohms) for way in ways}
            currents = {way: self._current(way, left[way], values) for way in ways}
        return Solved(currents, {way: self._losses(way, currents, ohms) for way in ways})

    def _current(self, way: Way, left_v: float, values: Mapping[str, float]) -> float:
        draw = self.draw(way)
        if not draw.in_watts:
            return values[draw.figure.origin]
        if left_v <= 0:
            what = _("the wires to {name} cannot bring the power that it draws")
            raise CannotTell(what.format(name=self.things[way.sink].name), "conductor", "outside validity")
        return values[draw.figure.origin] / left_v

    def _ohm(self, piece: Piece, values: Mapping[str, float]) -> float:
        warmth = copper_temperature_factor(values[TEMPERATURE]) if piece.is_wire else 1.0
        return values[piece.origin] * piece.factor * warmth

    def _lost(self, way: Way, currents: Mapping[Way, float], ohms: Mapping[str, float]) -> float:
        return sum(self._losses(way, currents, ohms).values())

    def _losses(self, way: Way, currents: Mapping[Way, float], ohms: Mapping[str, float]) -> dict[str, float]:
        through = {piece.key for piece in self.pieces[way]}
        shared = dict.fromkeys(through, 0.0)
        for other, current in currents.items():
            for piece in self.pieces[other]:
                if piece.key in through:
                    shared[piece.key] += current
        return {piece.key: ohms[piece.key] * shared[piece.key] for piece in self.pieces[way]}

    def inputs(self, ways: Sequence[Way]) -> dict[str, Figure]:
        """The figures that the ways' currents and losses follow from, by origin.

        Raises:
            CannotTell: what a load draws, or a voltage that its current follows from, is not stated.

        """
        used = {piece.origin for way in ways for piece in self.pieces[way]}
        found = {origin: figure for origin, figure in self.figures.items() if origin in used}
        if any(piece.is_wire for way in ways for piece in self.pieces[way]):
            found[TEMPERATURE] = self.figures[TEMPERATURE]
        draws = [self.draw(way) for way in ways]
        found.update({draw.figure.origin: draw.figure for draw in draws})
        if any(draw.in_watts for draw in draws):
            found[self.end_origin(ways[0])] = self.end_voltage(ways[0])
        return found

    def end_voltage(self, way: Way) -> Figure:
        """Voltage of the way's source where its use ends; raises CannotTell where it is not known."""
        return end_voltage_of(self.things[way.source], way.source_port)

    def end_origin(self, way: Way) -> str:
        """The origin of that voltage."""
        return END_ORIGIN.format(name=self.things[way.source].name)


@frozen(slots=False)
class Solved:
    """The current of each way in A, and what each of its pieces loses in V."""

    currents: Mapping[Way, float]
    losses: Mapping[Way, Mapping[str, float]]


def net_of(
    kit_ways: Sequence[Mapping[str, Any]],
    kit_things: Mapping[str, Any],
    planned_w: float | None = None,
    air_c: float | None = None,
) -> Net:
    """The net of a kit, as the plugin kit gives its ways and things."""
    things = things_of(kit_things)
    return Net(things, feeding(kit_ways, things), kit_ways, planned_w, air_c)


def planned_power(slots: Iterable[tuple[Any, float | None]], of_the_schedule: float | None) -> float | None:
    """The greatest transmitter power that the plan states, in W."""
    stated = [power for _, power in slots if power is not None]
    return max([*stated, *([] if of_the_schedule is None else [of_the_schedule])], default=None)
