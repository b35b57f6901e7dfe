"""Whether a battery is charged during the outing: by a panel that names it, or by what is joined to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import Estimate, Fact, Subject, fact
from afield.plugins.power.battery.cells import has_battery
from afield.plugins.power.dc.flows import ways_of
from afield.plugins.power.stated import same_item, thing_of, things_of

BY_ITSELF = ("computer", "phone")
"""Classes of items that look after the charging of their own battery."""


@fact(
    "battery.charged_on_outing", kind="item", type="bool", title="whether it is charged on the outing", exact=True,
    detail={"by": "what charges it"},
)  # fmt: skip
def battery_charged_on_outing(
    kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any], subject: Subject
) -> Estimate:
    """Whether a solar panel names it, or a way of direct current or USB ends at it; not of computers and phones."""
    thing, things = thing_of(subject), things_of(kit_things)
    if not has_battery(thing) or thing.class_ in BY_ITSELF:
        return Estimate(False, detail={"by": ""}, method="no battery that is charged by others")
    panels = [one.name for one in things.values() if same_item(str(one.part("solar").get("charges", "")), thing)]
    into = [way for role in ("DC", "USB") for way in ways_of(kit_ways, role) if way.sink == thing.key]
    # A radio that holds a battery is fed by direct current; whether that charges the battery is not known.
    joined = [things[way.source].name for way in into if thing.class_ in ("battery", "supply")]
    by = list(dict.fromkeys([*panels, *joined]))
    return Estimate(bool(by), detail={"by": ", ".join(by)}, method="panels that name it, and what is joined to it")


FACTS: list[Fact] = [battery_charged_on_outing]
