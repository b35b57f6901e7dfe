"""Facts of an antenna: whether it is used, and whether it is made for the planned bands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import Estimate, Fact, Subject, fact

Ways = Sequence[Mapping[str, Any]]
Things = Mapping[str, Any]
Undecided = Sequence[Mapping[str, Any]]
Uses = Sequence[Mapping[str, Any]]


@fact("antenna.in_use", kind="item", type="bool", title="whether it is an antenna that RF goes to", exact=True)
def antenna_in_use(kit_ways: Ways, kit_things: Things, kit_undecided: Undecided, subject: Subject) -> bool:
    """Whether the item is an antenna, no mere spare, that a radio is joined to; False for any other item."""
    from afield.plugins.radio.in_use import is_used

    return is_used(kit_ways, kit_things, kit_undecided, subject, "antenna")


@fact(
    "antenna.covers_bands", kind="item", type="bool", title="whether there is an antenna for every planned band",
    exact=True,
    detail={
        "lacks": "bands without an antenna or a tuner", "made_for": "bands that it is made for",
        "tuner": "the tuner on its way",
    },
)  # fmt: skip
def antenna_covers_bands(kit_ways: Ways, kit_things: Things, radio_uses: Uses, subject: Subject) -> Estimate:
    """Whether it, or another antenna in use, is made for each planned band, or a tuner stands on the way."""
    from afield.plugins.radio.in_use import all_walks, of_class
    from afield.plugins.radio.planned import planned_uses
    from afield.plugins.radio.serving import covers_bands, refuse_unjoined
    from afield.plugins.radio.things import things_of

    of_class(kit_things, subject, "antenna")
    uses = planned_uses(radio_uses)
    found = covers_bands(all_walks(kit_ways, kit_things, subject), uses, subject)
    if not found.value:
        refuse_unjoined(things_of(kit_things).values(), uses, found.detail["lacks"])
    return found


FACTS: list[Fact] = [antenna_in_use, antenna_covers_bands]
