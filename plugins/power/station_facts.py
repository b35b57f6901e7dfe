"""Facts of the whole station that set-ups are compared by: the voltage at its radio, and what its computer gains."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, _, fact, marked
from afield.plugins.power.dc.facts import told

if TYPE_CHECKING:
    from afield.plugins.power.dc.net import Net


@fact(
    "power.radio_voltage", kind="trip", unit="V", title="voltage at the radio where the battery ends",
    optional=["conditions_temperature"],
    detail={"radio": "the radio", "way": "the items that the current goes through"},
)  # fmt: skip
def power_radio_voltage(dc_net: Net, conditions_temperature: float | None) -> Estimate:
    """What is left at the radio, at full current; of several radios, at the one that gets least."""
    from afield.plugins.power.dc.answers import left

    net = replace(dc_net, air_c=conditions_temperature)
    ways = [way for way in net.ways if net.things[way.sink].class_ == "radio"]
    if not ways:
        raise CannotTell(_("no battery or supply feeds a radio"), "connections", "not stated", "trip")
    way, found = min(((way, left(net, way)) for way in ways), key=lambda one: one[1].value)
    detail = {"radio": net.things[way.sink].name, "way": way.words(net.things)}
    return told(found, detail, _("end voltage less loss"))


@fact(
    "power.computer_gain", kind="trip", unit="W", title="power left for the computer's battery",
    below_zero=marked("lost"),
    owns_uncertainty=True, detail={"computer": "the computer"},
)  # fmt: skip
def power_computer_gain(kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any]) -> Estimate:
    """What is left for its battery while it works; of several, for the one that gains least."""
    from afield.plugins.power.usb.gain import gain_of
    from afield.plugins.power.usb.sources import ways_to

    computers = [key for key, thing in kit_things.items() if thing["class"] == "computer" and ways_to(kit_ways, key)]
    if not computers:
        raise CannotTell(_("no computer is fed over USB"), "connections", "not stated", "trip")
    found = [(kit_things[key]["name"], gain_of(kit_ways, kit_things, key)) for key in computers]
    name, gain = min(found, key=lambda one: one[1].value)
    return told(gain, {"computer": name}, _("agreed less working, x charging efficiency"))


FACTS: list[Fact] = [power_radio_voltage, power_computer_gain]
