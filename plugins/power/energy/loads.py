"""What each item draws while the station receives and in each slot, in watts at the battery."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from afield.core.api import _, amount_in, marked
from afield.plugins.power.computations.duty import average_transmit_current, transmit_current
from afield.plugins.power.dc.draws import efficiency_of, own_draw_w
from afield.plugins.power.energy.feeds import Fed, is_converter
from afield.plugins.power.energy.outputs import Chain, most_output
from afield.plugins.power.energy.slots import OnAir
from afield.plugins.power.stated import Figure, Thing, number

Values = Mapping[str, float]

SHARE, DUTY, LAW = marked("transmit share"), marked("duty of the mode"), marked("current against power")
SHARE_FIGURE, DUTY_FIGURE, LAW_FIGURE = Figure(0.0, 1.0, SHARE), Figure(0.0, 1.0, DUTY), Figure(0.75, 0.25, LAW)
"""Share and duty count in their own 95 % half-widths; the law is the exponent of the current over the output."""
LAW_NOTE = marked(
    "The current in transmit grows with the output to the power of 0.75 ± 0.25, from its root to straight; without "
    "output it is that of receiving (common practice, no source)."
)
ANY_OUTPUT = marked("What {name} draws in transmit is stated for no output: it is taken for any.")
RATED = marked("{name} gives its rated {rating} W, though more is asked of it.")
BETWEEN = marked("{name} draws from {least} W at work to {most} W, charging too.")
SILENT = marked("what {name} draws is not stated")
SILENT_AT_WORK = marked("what {name} draws at work is not stated")
SILENT_IN_RECEIVE = marked("what {name} draws in receive is not stated")
SILENT_IN_TRANSMIT = marked("what {name} draws in transmit is not stated")
ONLY_UP_TO = marked("what {name} draws at {output} W is not stated, only up to {most} W")
USE = marked("use of {name}")
WORKING = ("working", "receive", "idle", "charging")
LISTENING = ("receive", "idle", "working")
CLOSE = 1.001
"""An output so close to a stated one counts as that."""


@dataclass
class Draws:
    """Works out draws, and gathers the figures that they rest on and what the reader must know of them.

    Attributes:
        nominal_v: of the battery.
        chain: radios and their amplifiers.

    """

    nominal_v: float
    chain: Chain = field(default_factory=Chain)
    figures: dict[str, Figure] = field(default_factory=dict)
    notes: dict[str, None] = field(default_factory=dict)

    def watts(self, fed: Fed, slot: OnAir | None, values: Values) -> float:
        """Power that the item, and all behind it, takes from the battery; in a slot, or while receiving (None).

        Raises:
            CannotTell: what it draws is not stated.

        """
        if is_converter(fed.thing):
            return self.converted(fed.thing, sum(self.watts(each, slot, values) for each in fed.onward), values)
        if "loads" not in fed.thing.data:
            raise fed.thing.silent(SILENT, "loads")
        factor = self.value(draw_of(fed.thing), values)
        return factor * (self._sending(fed, slot, values) if transmits(fed.thing) else self._steady(fed, values))

    def value(self, figure: Figure, values: Values) -> float:
        """The figure's value, or what the values say in its place; remembers the figure and its notes."""
        self.figures.setdefault(figure.origin, figure)
        self.notes.update(dict.fromkeys(figure.notes))
        return values.get(figure.origin, figure.value)

    def converted(self, thing: Thing, watts: float, values: Values) -> float:
        """Power that goes into a converter for what comes out, at most its rating."""
        stated = thing.part("converter")
        rating = amount_in(stated["rating"], "W") if "rating" in stated else watts
        if watts > rating:
            self.notes[_(RATED).format(name=thing.name, rating=number(rating))] = None
        return min(watts, rating) / _share(self.value(efficiency_of(thing), values) / 100) + own_draw_w(thing)

    def _steady(self, fed: Fed, values: Values) -> float:
        """An item that does not transmit: as it works; one that also fills its own battery lies in between."""
        loads = states_of(fed, self.nominal_v)
        working = next((loads[state] for state in WORKING if state in loads), None)
        if working is None:
            raise fed.thing.silent(SILENT_AT_WORK, "loads")
        least, most = sorted((working, loads.get("charging", working)))
        if least == most:
            return working
        figures = {"least": number(least, ".3g"), "most": number(most, ".3g")}
        self.notes[_(BETWEEN).format(name=fed.thing.name, **figures)] = None
        return (least + most) / 2 + self.value(use_of(fed.thing), values) * (most - least) / 2

    def _sending(self, fed: Fed, slot: OnAir | None, values: Values) -> float:
        loads = states_of(fed, self.nominal_v)
        receive = next((loads[state] for state in LISTENING if state in loads), None)
        if receive is None:
            raise fed.thing.silent(SILENT_IN_RECEIVE, "loads")
        if slot is None:
            return receive
        share = _clamped(slot.share + self.value(SHARE_FIGURE, values) * slot.share_around)
        duty = _clamped(slot.mode.duty + self.value(DUTY_FIGURE, values) * slot.mode.duty_around)
        law = self.value(LAW_FIGURE, values)
        self.notes.update(dict.fromkeys((*slot.notes, _(LAW_NOTE))))
        full = self._at_output(fed, receive, slot.power_w, law)
        sending = average_transmit_current(min(receive, full), full, duty, law if slot.mode.speech else 1.0)
        return receive * (1 - share) + share * sending

    def _at_output(self, fed: Fed, receive: float, planned_w: float | None, law: float) -> float:
        """Power drawn at full carrier with the planned output."""
        points = self._points(fed)
        if not points[-1][0]:
            self.notes[_(ANY_OUTPUT).format(name=fed.thing.name)] = None
            return points[-1][1]
        output = self.chain.output(fed.thing, planned_w)
        if output.note:
            self.notes[output.note] = None
        watts = points[-1][0] if output.watts is None else output.watts
        if watts > points[-1][0] * CLOSE:
            raise fed.thing.silent(ONLY_UP_TO, "loads", output=number(watts), most=number(points[-1][0]))
        above = next(point for point in points if watts <= point[0] * CLOSE)
        below = max((point for point in points if point < above), default=(0.0, receive))
        return transmit_current(receive, *below, *above, max(below[0], min(watts, above[0])), law)

    def _points(self, fed: Fed) -> Sequence[tuple[float, float]]:
        """Output and power drawn there of each load in transmit, the smallest output first; in W."""
        volts, most = fed.volts or self.nominal_v, most_output(fed.thing)
        loads = [load for load in fed.thing.data["loads"] if load["state"] == "transmit"]
        if not loads:
            raise fed.thing.silent(SILENT_IN_TRANSMIT, "loads")
        if "amplifier" in fed.thing.data and most is None:
            most = amount_in(fed.thing.part("amplifier").get("output", "0 W"), "W")
        return sorted(
            (amount_in(load["at"], "W") if "at" in load else most or 0.0, watts_of(load, volts)) for load in loads
        )


def draw_of(thing: Thing) -> Figure:
    """The factor by which what an item draws may differ from what is stated."""
    return thing.figure("draw", 1.0, "loads")


def use_of(thing: Thing) -> Figure:
    """How hard an item works that can also charge: 0 is halfway, in half-widths."""
    return Figure(0.0, 1.0, USE.format(name=thing.name))


def _clamped(share: float) -> float:
    return min(max(share, 0.0), 1.0)


def _share(efficiency: float) -> float:
    return min(max(efficiency, 0.05), 1.0)


def transmits(thing: Thing) -> bool:
    """Whether what it draws depends on transmitting."""
    stated = any(load["state"] == "transmit" for load in thing.data.get("loads", ()))
    return stated or thing.class_ in ("radio", "amplifier")


def watts_of(load: Mapping[str, Any], volts: float) -> float:
    """A load's power in W, its amperes at a voltage."""
    return amount_in(load["watts"], "W") if "watts" in load else amount_in(load["amperes"], "A") * volts


def states_of(fed: Fed, nominal_v: float) -> dict[str, float]:
    """Power of each state but transmit, in W."""
    volts = fed.volts or nominal_v
    return {load["state"]: watts_of(load, volts) for load in fed.thing.data["loads"] if load["state"] != "transmit"}
