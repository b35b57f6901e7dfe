"""Facts of an amplifier: its drive, its keying, its filters, its average power."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import Estimate, Fact, Subject, fact, marked

Ways = Sequence[Mapping[str, Any]]
Things = Mapping[str, Any]
Undecided = Sequence[Mapping[str, Any]]
Uses = Sequence[Mapping[str, Any]]
OF_DRIVE = {
    "radio": "what drives it", "drive": "watts at its input", "least": "the least drive",
    "greatest": "the greatest drive", "at": "the frequency of which it is said",
}  # fmt: skip


@fact("amplifier.in_use", kind="item", type="bool", title="whether it is an amplifier that RF goes to", exact=True)
def amplifier_in_use(kit_ways: Ways, kit_things: Things, kit_undecided: Undecided, subject: Subject) -> bool:
    """Whether the item is an amplifier, no mere spare, that a radio is joined to; False for any other item."""
    from afield.plugins.radio.in_use import is_used

    return is_used(kit_ways, kit_things, kit_undecided, subject, "amplifier")


@fact(
    "amplifier.drive", kind="item", unit="W", title="drive of the amplifier", owns_uncertainty=True, least=0.0,
    detail=OF_DRIVE,
)  # fmt: skip
def amplifier_drive(kit_ways: Ways, kit_things: Things, radio_uses: Uses, subject: Subject) -> Estimate:
    """The greatest planned power at its input, W: the radio's output less what the leads lose."""
    from afield.plugins.radio import driving
    from afield.plugins.radio.in_use import drive_of
    from afield.plugins.radio.planned import planned_uses

    return driving.drive(drive_of(kit_ways, kit_things, subject), planned_uses(radio_uses))


@fact(
    "amplifier.drive_share", kind="item", unit="%", title="drive as a share of the greatest", owns_uncertainty=True,
    least=0.0, detail=OF_DRIVE,
)  # fmt: skip
def amplifier_drive_share(kit_ways: Ways, kit_things: Things, radio_uses: Uses, subject: Subject) -> Estimate:
    """The greatest planned drive, percent of the greatest that it is made for."""
    from afield.plugins.radio import driving
    from afield.plugins.radio.in_use import drive_of
    from afield.plugins.radio.planned import planned_uses

    return driving.drive_share(drive_of(kit_ways, kit_things, subject), planned_uses(radio_uses))


@fact(
    "amplifier.drive_above_least", kind="item", unit="W", title="drive above the least", owns_uncertainty=True,
    below_zero=marked("short"), detail=OF_DRIVE,
)  # fmt: skip
def amplifier_drive_above_least(kit_ways: Ways, kit_things: Things, radio_uses: Uses, subject: Subject) -> Estimate:
    """The least planned drive less the least that it is made for, W; below 0 it gives less than its rated output."""
    from afield.plugins.radio import driving
    from afield.plugins.radio.in_use import drive_of
    from afield.plugins.radio.planned import planned_uses

    return driving.drive_above_least(drive_of(kit_ways, kit_things, subject), planned_uses(radio_uses))


@fact(
    "amplifier.overshoot_share", kind="item", unit="%", title="peak at keying as a share of the input limit",
    owns_uncertainty=True, least=0.0,
    detail={"radio": "what drives it", "peak": "the radio's peak at keying", "most": "the most that the input bears"},
)  # fmt: skip
def amplifier_overshoot_share(kit_ways: Ways, kit_things: Things, radio_uses: Uses, subject: Subject) -> Estimate:
    """The radio's peak at the start of a transmission, percent of the most that the input bears."""
    from afield.plugins.radio import driving
    from afield.plugins.radio.in_use import drive_of
    from afield.plugins.radio.planned import planned_uses

    return driving.overshoot_share(drive_of(kit_ways, kit_things, subject), planned_uses(radio_uses))


@fact(
    "amplifier.keyed", kind="item", type="bool", title="whether something keys the amplifier", exact=True,
    detail={"how": "what keys it"},
)  # fmt: skip
def amplifier_keyed(kit_ways: Ways, kit_things: Things, subject: Subject) -> Estimate:
    """Whether a keying way reaches it; one without a keying port keys itself by the RF that it senses."""
    from afield.plugins.radio.driving import keying
    from afield.plugins.radio.in_use import of_class
    from afield.plugins.radio.things import things_of

    keyed, how = keying(of_class(kit_things, subject, "amplifier"), kit_ways, things_of(kit_things))[:2]
    return Estimate(keyed, detail={"how": how}, method=how)


@fact(
    "amplifier.keying_time_room", kind="item", unit="ms", title="time between change-over and RF",
    owns_uncertainty=True, below_zero=marked("too late"),
    detail={"keyed": "what keys it", "lead": "how long before the RF", "change_over": "how long it takes"},
)  # fmt: skip
def amplifier_keying_time_room(kit_ways: Ways, kit_things: Things, subject: Subject) -> Estimate:
    """How long its relays have been at rest when the RF comes, ms; below 0 they move under power."""
    from afield.plugins.radio.driving import keying_time_room
    from afield.plugins.radio.in_use import of_class
    from afield.plugins.radio.things import things_of

    return keying_time_room(of_class(kit_things, subject, "amplifier"), kit_ways, things_of(kit_things))


@fact(
    "amplifier.filters_cover", kind="item", type="bool", title="whether it has a filter for every planned band",
    exact=True,
    detail={"lacks": "bands without a filter", "filters": "bands with one", "planned": "planned bands"},
)  # fmt: skip
def amplifier_filters_cover(kit_things: Things, radio_uses: Uses, subject: Subject) -> Estimate:
    """Whether there is an output filter for each planned band; without it the harmonics go out too."""
    from afield.plugins.radio.in_use import of_class
    from afield.plugins.radio.planned import planned_uses
    from afield.plugins.radio.ratings import filters_cover

    return filters_cover(of_class(kit_things, subject, "amplifier"), planned_uses(radio_uses))


@fact(
    "amplifier.average_share", kind="item", unit="%", title="average output as a share of the rating",
    owns_uncertainty=True, least=0.0,
    detail={"average": "average output", "rating": "its rating", "mode": "the mode", "share": "share of transmitting"},
)  # fmt: skip
def amplifier_average_share(kit_ways: Ways, kit_things: Things, radio_uses: Uses, subject: Subject) -> Estimate:
    """The average output by mode and share of transmitting, percent of its average rating."""
    from afield.plugins.radio.in_use import drive_of
    from afield.plugins.radio.planned import planned_uses
    from afield.plugins.radio.ratings import average_share

    return average_share(drive_of(kit_ways, kit_things, subject), planned_uses(radio_uses))


FACTS: list[Fact] = [
    amplifier_in_use, amplifier_drive, amplifier_drive_share, amplifier_drive_above_least, amplifier_overshoot_share,
    amplifier_keyed, amplifier_keying_time_room, amplifier_filters_cover, amplifier_average_share,
]  # fmt: skip
