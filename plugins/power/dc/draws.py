"""What each load draws at most: while it transmits at the greatest planned power, or by its port."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, _, amount_in, frozen, local_digits, marked
from afield.plugins.power.dc.flows import Way, ways_of
from afield.plugins.power.stated import Figure, Thing

EFFICIENCY, EFFICIENCY_AROUND = 88.0, 7.0
CURRENT_ORIGIN = marked("current of {name}")
EFFICIENCY_ORIGIN = marked("efficiency of {name}")
EFFICIENCY_NOTE = marked("The efficiency of {name} is not stated: 88 % ± 7 % is taken (common practice, no source).")
BY_ITS_PORT = marked("{name} is taken to draw what its port is rated for, as its loads are not stated.")
BY_ITS_RATING = marked("{name} is taken to give its rated output, as what hangs behind it is not described.")
STATES = (marked("transmit"), marked("receive"), marked("idle"), marked("working"), marked("charging"))
"""Of a load, as a kit file writes them; said where they are shown."""


@frozen
class Draw:
    """What a port draws at most: a figure in A, or in W where the current follows from the voltage."""

    figure: Figure
    in_watts: bool
    why: str


@frozen
class Outputs:
    """The kit as far as it says what hangs behind converters.

    Attributes:
        things: by key.
        usb, mains: ways of these roles.

    """

    things: Mapping[str, Thing]
    usb: Sequence[Way] = ()
    mains: Sequence[Way] = ()


def outputs_of(kit_ways: Iterable[Mapping[str, Any]], things: Mapping[str, Thing]) -> Outputs:
    """What hangs behind converters."""
    listed = list(kit_ways)
    return Outputs(things, ways_of(listed, "USB"), ways_of(listed, "mains"))


def draw_of(thing: Thing, port: str, planned_w: float | None, outputs: Outputs) -> Draw:
    """What the port of a load draws at most.

    Raises:
        CannotTell: neither its loads nor the amperes of its port are stated.

    """
    loads = thing.data.get("loads", ())
    if loads:
        load = _greatest(thing, loads, planned_w)
        unit = "amperes" if "amperes" in load else "watts"
        value = amount_in(load[unit], unit[0].upper())
        return Draw(thing.figure("current", value, "loads"), unit == "watts", _load_words(load))
    if "converter" in thing.data:
        figure = converter_draw(thing, outputs)
        if figure is not None:
            return Draw(figure, True, _("what hangs behind it"))
    if "amperes" not in thing.port(port):
        raise thing.silent(marked("the draw of {name} is not stated"), "loads")
    figure = thing.figure("current", amount_in(thing.port(port)["amperes"], "A"), "ports")
    notes = (*figure.notes, _(BY_ITS_PORT).format(name=thing.name))
    return Draw(Figure(figure.value, figure.around, figure.origin, notes), False, _("rating of its port"))


def _greatest(thing: Thing, loads: Sequence[Mapping[str, Any]], planned_w: float | None) -> Mapping[str, Any]:
    """The load that counts; a radio's while it transmits at the planned power or the next that is stated above it."""
    sending = sorted((load for load in loads if "at" in load), key=lambda load: amount_in(load["at"], "W"))
    if sending and planned_w is not None and thing.class_ != "amplifier":
        enough = [load for load in sending if amount_in(load["at"], "W") >= planned_w * (1 - 1e-9)]
        return enough[0] if enough else sending[-1]
    return max(loads, key=_size)


def _size(load: Mapping[str, Any]) -> float:
    # Only loads in the same unit are told apart; a load in watts is set against amperes at 12 V.
    return amount_in(load["amperes"], "A") if "amperes" in load else amount_in(load["watts"], "W") / 12


def _load_words(load: Mapping[str, Any]) -> str:
    state = _(str(load["state"]))
    return _("{state} at {output}").format(state=state, output=local_digits(load["at"])) if "at" in load else state


def efficiency_origin(thing: Thing) -> str:
    """The origin of the error of a converter's efficiency."""
    return EFFICIENCY_ORIGIN.format(name=thing.name)


def efficiency_of(thing: Thing) -> Figure:
    """Efficiency of a converter in %, as stated or by common practice."""
    origin = efficiency_origin(thing)
    stated = thing.part("converter").get("efficiency")
    if stated is None:
        return Figure(EFFICIENCY, EFFICIENCY_AROUND, origin, (_(EFFICIENCY_NOTE).format(name=thing.name),))
    return Figure(amount_in(stated, "%"), 5.0 if thing.typical("converter.efficiency") else 2.0, origin)


def own_draw_w(thing: Thing) -> float:
    """What a converter draws with nothing behind it, in W; 0 where that is not stated."""
    idle = thing.part("converter").get("idle")
    return amount_in(idle, "W") if idle else 0.0


def converter_draw(thing: Thing, outputs: Outputs, depth: int = 0) -> Figure | None:
    """What a converter draws in W for what hangs behind it, at most for its rating; None where neither is known."""
    stated = thing.part("converter").get("rating")
    rating = amount_in(stated, "W") if stated else None
    behind = _behind(thing, outputs, depth)
    notes: tuple[str, ...] = ()
    if behind is None:
        if rating is None:
            return None
        behind, notes = rating, (_(BY_ITS_RATING).format(name=thing.name),)
    given = behind if rating is None else min(behind, rating)
    efficiency = efficiency_of(thing)
    value = given / (efficiency.value / 100) + own_draw_w(thing)
    around = value * (efficiency.around / efficiency.value + (0.2 if thing.typical("converter.idle") else 0.05))
    return Figure(value, around, CURRENT_ORIGIN.format(name=thing.name), (*efficiency.notes, *notes))


def _behind(thing: Thing, outputs: Outputs, depth: int) -> float | None:
    """Watts of all that hangs behind a converter; None where something is not described, or nothing hangs there."""
    usb = [way for way in outputs.usb if way.source == thing.key]
    mains = [way for way in outputs.mains if way.source == thing.key]
    if not (usb or mains) or depth > 3:
        return None
    found = [*(_agreed_w(way, outputs) for way in usb), *(_mains_w(way, outputs, depth) for way in mains)]
    return None if None in found else sum(watts for watts in found if watts is not None)


def _agreed_w(way: Way, outputs: Outputs) -> float | None:
    from afield.plugins.power.usb.agreement import agreement_on

    try:
        return agreement_on(way, outputs.things).watts
    except CannotTell:
        return None


def _mains_w(way: Way, outputs: Outputs, depth: int) -> float | None:
    figure = converter_draw(outputs.things[way.sink], outputs, depth + 1)
    return None if figure is None else figure.value
