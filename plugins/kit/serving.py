"""Whether a mode is served: a radio with a key, a microphone or a computer that is joined to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from afield.core.api import CannotTell, _, did_you_mean, frozen, quoted_list
from afield.plugins.kit.model import Item
from afield.plugins.kit.modes import FAMILIES, VOICE, family_of
from afield.plugins.kit.operating import BUILT_IN, LACKING, MEANS, Means, blank_givers, chain_to, ends_of, starts_of
from afield.plugins.kit.wiring import Wiring, state_of
from afield.plugins.kit.words import silent_ports

OUTING = "the outing"
"""What a mode is stated for where the plan has no slots."""


@frozen
class Served:
    """Whether a mode is served.

    Attributes:
        served: None = cannot be told.
        why, lacking, settle: in words; empty where it is served.

    """

    served: bool | None
    why: str = ""
    lacking: str = ""
    settle: str = ""


def served(mode: str, wiring: Wiring) -> Served:
    """Whether some radio of the kit, spares left out, can be worked in a mode."""
    family = family_of(mode)
    if family is None:
        return Served(None, _not_known(mode), settle="schedule.mode")
    items = [item for item in wiring.kit.items.values() if item.spare_of is None]
    return _best(_by_means(radio, family, items, wiring) for radio in items if radio.class_ == "radio")


def _not_known(mode: str) -> str:
    near = did_you_mean(mode.upper(), FAMILIES)
    if near:
        meant = _('what the mode "{mode}" needs is not known; did you mean "{near}"?')
        return meant.format(mode=mode, near=near)
    known = _('what the mode "{mode}" needs is not known; known are {known}')
    return known.format(mode=mode, known=quoted_list(FAMILIES, 40))


def _best(found: Iterator[Served]) -> Served:
    """One that serves, else one that may, else the first."""
    every = list(found)
    for wanted in (True, None, False):
        for one in every:
            if one.served is wanted:
                return one
    return Served(None, _("no radio but a spare is in the kit"), settle="kit")


def _by_means(radio: Item, family: str, items: list[Item], wiring: Wiring) -> Served:
    if family == VOICE and BUILT_IN in (radio.features or ()):
        return Served(True)
    if radio.ports is None:
        return Served(None, silent_ports(radio.name), settle=radio.supply_ports)
    means = [one for one in MEANS if one.family == family]
    fitting = [one for one in means if ends_of(radio, one)]
    if not fitting:
        lacking = LACKING[family]
        return Served(False, *(_(words).format(radio=radio.name) for words in (lacking.port, lacking.with_port)))
    return _best(_by_chain(radio, one, items, wiring) for one in fitting)


def _by_chain(radio: Item, means: Means, items: list[Item], wiring: Wiring) -> Served:
    if not starts_of(means, items) and not blank_givers(means, items):
        port, lacking = ends_of(radio, means)[0], LACKING[means.family]
        piece = _(lacking.piece_for).format(port=wiring.kit.label(port), plug=wiring.kit.mates.counterpart(port))
        return Served(False, _(lacking.piece).format(radio=radio.name), piece)
    state = state_of(chain_to(radio, means, items), wiring)
    why = f"{state.chain.title}: {state.why}"
    return Served(state.complete, why, state.needs, state.settle) if not state.complete else Served(True)


def refuse_unsure_modes(planned: Mapping[str, str | None], found: Mapping[str, Served]) -> None:
    """Raise CannotTell for the first mode that is not stated, or of which it cannot be told whether it is served.

    Args:
        planned: mode by what it is stated for.
        found: whether each mode is served.

    """
    for where, mode in planned.items():
        if mode is None:
            whole = _("no mode is stated for the outing")
            what = whole if where == OUTING else _("no mode is stated for {slot}").format(slot=where)
            raise CannotTell(what, "schedule.mode", "not stated", "trip")
        if found[mode].served is None:
            raise CannotTell(found[mode].why, found[mode].settle or None, "not stated", "trip")
