"""Facts of operating: whether something of a kit is described, a radio among it, and whether it serves the modes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from afield.core.api import CannotTell, Estimate, Fact, Piece, Subject, _, fact, marked

if TYPE_CHECKING:
    from afield.plugins.kit.model import Kit
    from afield.plugins.kit.wiring import Wiring

NO_RADIO = marked(
    "no item of the kit is described as a radio: write `class: radio`, or `is:` with a radio of the catalogue, "
    "such as hf-radio-10-w"
)
METHOD = marked("chains to the radio")
Modes = list[tuple[Subject, str | None]]


@fact(
    "kit.described", kind="trip", type="bool", title="whether something in the kit is described", exact=True,
    optional=["kit_files"],
)  # fmt: skip
def kit_described(kit_files: Piece | None) -> bool:
    """Whether the ports of an item are known, or its class is one that chains go through; else it is a list to tick."""
    from afield.plugins.kit.assembling import kit_of
    from afield.plugins.kit.item_facts import IN_CHAINS

    kit = kit_of(kit_files.origin.document, kit_files.origin.folder) if kit_files is not None else None
    items = kit.items.values() if kit is not None else ()
    return any(item.ports is not None or item.class_ in IN_CHAINS for item in items)


@fact("kit.radio_described", kind="trip", type="bool", title="whether a radio is described", exact=True)
def kit_radio_described(kit_list: Kit) -> bool:
    """Whether an item is of the class radio; that the kit has none cannot be told from one that is a name alone."""
    if any(item.class_ == "radio" for item in kit_list.items.values()):
        return True
    raise CannotTell(_(NO_RADIO), "kit", "not stated", "trip")


@fact(
    "kit.mode_stated", kind="trip", type="bool", title="whether a mode is stated", exact=True,
    each={"modes": ("slot", "slot.mode")}, optional=["schedule_mode", "modes"],
)  # fmt: skip
def kit_mode_stated(schedule_mode: str | None, modes: Modes) -> bool:
    """Whether the plan states a mode for the outing or for one of its slots."""
    return schedule_mode is not None or any(mode is not None for _, mode in modes)


@fact(
    "kit.serves_modes", kind="trip", type="bool", title="whether the kit serves the planned modes", exact=True,
    each={"modes": ("slot", "slot.mode")}, optional=["schedule_mode", "modes"],
    detail={"mode": "the first mode that it does not serve", "why": "why not", "lacking": "what it needs for that"},
)  # fmt: skip
def kit_serves_modes(
    kit_wiring: Wiring, kit_radio_described: bool, schedule_mode: str | None, modes: Modes
) -> Estimate:
    """Whether a radio has a key for Morse, a microphone for voice, or a computer for data, with what joins the two.

    Raises:
        CannotTell: no mode is stated, or one that is not known; or a chain of which it cannot be told whether it is
            complete.

    """
    from afield.plugins.kit.serving import OUTING, refuse_unsure_modes, served

    planned = {slot.label: mode or schedule_mode for slot, mode in modes} or {OUTING: schedule_mode}
    found = {mode: served(mode, kit_wiring) for mode in dict.fromkeys(planned.values()) if mode is not None}
    failing = next(((mode, one) for mode, one in found.items() if one.served is False), None)
    if failing is None:
        refuse_unsure_modes(planned, found)
        return Estimate(True, detail={"mode": "", "why": "", "lacking": ""}, method=_(METHOD))
    mode, state = failing
    detail = {"mode": mode, "why": state.why, "lacking": state.lacking}
    return Estimate(False, detail=detail, method=_(METHOD))


FACTS: list[Fact] = [kit_described, kit_radio_described, kit_mode_stated, kit_serves_modes]
