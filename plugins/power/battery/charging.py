"""Whether a battery is charged during the outing: by a panel, or by what is joined to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from afield.core.api import Estimate, Fact, Subject, _, fact, marked
from afield.plugins.power.stated import same_item, thing_of, things_of

if TYPE_CHECKING:
    from afield.plugins.power.stated import Thing

BY_ITSELF = ("computer", "phone")
"""Classes of items that look after the charging of their own battery."""
STORES = ("battery", "supply")
NAMES_NONE = marked("A panel that names no battery is taken to charge the only one.")


@fact(
    "battery.charged_on_outing", kind="item", type="bool", title="whether it is charged on the outing", exact=True,
    detail={"by": "what charges it"},
)  # fmt: skip
def battery_charged_on_outing(
    kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any], subject: Subject
) -> Estimate:
    """Whether a solar panel charges it, or a way of direct current or USB ends at it; not of computers and phones.

    Raises:
        CannotTell: a panel names no battery, and there are several that it may charge.

    """
    from afield.plugins.power.battery.cells import has_battery
    from afield.plugins.power.dc.flows import ways_of

    thing, things = thing_of(subject), things_of(kit_things)
    if not has_battery(thing) or thing.class_ in BY_ITSELF:
        return Estimate(False, detail={"by": ""}, method=_("no battery that is charged by others"))
    into = [way for role in ("DC", "USB") for way in ways_of(kit_ways, role) if way.sink == thing.key]
    # A radio that holds a battery is fed by direct current; whether that charges the battery is not known.
    joined = [things[way.source].name for way in into if thing.class_ in STORES]
    naming = [one.name for one in _panels(things) if same_item(str(one.part("solar").get("charges", "")), thing)]
    free = [] if naming or joined else list(_naming_none(things, thing))
    by = list(dict.fromkeys([*naming, *joined, *free]))
    method, notes = _("panels, and what is joined to it"), (_(NAMES_NONE),) if free else ()
    return Estimate(bool(by), detail={"by": ", ".join(by)}, method=method, notes=notes)


def _panels(things: Mapping[str, Thing]) -> list[Thing]:
    """The solar panels, spares left out."""
    found = [one for one in things.values() if one.class_ == "solar panel" or "solar" in one.data]
    return [one for one in found if not one.spare]


def _naming_none(things: Mapping[str, Thing], thing: Thing) -> Iterator[str]:
    """Names of the panels that state no battery to charge; the only battery is charged by them."""
    from afield.plugins.power.battery.cells import has_battery

    open_ = [one for one in _panels(things) if "charges" not in one.part("solar")]
    batteries = [one.key for one in things.values() if one.class_ in STORES and has_battery(one) and not one.spare]
    for panel in open_ if thing.key in batteries else []:
        if len(batteries) > 1:
            raise panel.silent(marked("which battery {name} charges is not stated"), "solar.charges")
        yield panel.name


FACTS: list[Fact] = [battery_charged_on_outing]
