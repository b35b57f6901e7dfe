"""What is left of agreed USB power for the battery of the device that works on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import _, amount_in, marked
from afield.plugins.power.stated import Evaluated, Figure, Thing, evaluated
from afield.plugins.power.usb.agreement import Agreement
from afield.plugins.power.usb.sources import best_way

OF_A_PORT = 0.1
PORT_NOTE = marked(
    "What is agreed on is the most; ports and devices keep to it within ± 10 % (95 %; common practice, no source)."
)
CHARGING, CHARGING_AROUND = 0.9, 0.07
CHARGING_NOTE = marked("90 % ± 7 % of what is left over reach the battery (common practice, no source).")
USB_ORIGIN, CHARGING_ORIGIN = marked("USB power of {name}"), marked("charging of {name}")


def agreed_figure(thing: Thing, agreement: Agreement) -> Figure:
    """The agreed power in W with its uncertainty."""
    return Figure(agreement.watts, OF_A_PORT * agreement.watts, USB_ORIGIN.format(name=thing.name), (_(PORT_NOTE),))


def working_figure(thing: Thing) -> Figure:
    """What an item draws while it works in W.

    Raises:
        CannotTell: that is not stated in watts.

    """
    loads = [load for load in thing.data.get("loads", ()) if load["state"] == "working" and "watts" in load]
    if not loads:
        raise thing.silent(marked("the draw at work, in watts, of {name} is not stated"), "loads")
    return thing.figure("draw while working", amount_in(loads[0]["watts"], "W"), "loads")


def left_over(agreed_w: float, working_w: float, efficiency: float) -> float:
    """What reaches the battery in W; below 0 what is taken from it.

    Args:
        agreed_w: power that comes in.
        working_w: power that the work takes.
        efficiency: of charging, a fraction of one; what is lacking comes from the battery without that loss.

    """
    rest = agreed_w - working_w
    return rest * efficiency if rest > 0 else rest


def gain_of(kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any], key: str) -> Evaluated:
    """The gain of an item in W; raises CannotTell where a part of it is not known."""
    way, things, agreement = best_way(kit_ways, kit_things, key)
    agreed, working = agreed_figure(things[way.sink], agreement), working_figure(things[way.sink])
    charging = Figure(CHARGING, CHARGING_AROUND, CHARGING_ORIGIN.format(name=things[key].name), (_(CHARGING_NOTE),))
    figures = {figure.origin: figure for figure in (agreed, working, charging)}
    return evaluated(
        lambda values: left_over(*(values[figure.origin] for figure in (agreed, working, charging))), figures
    )
