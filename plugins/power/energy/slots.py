"""The timeline as steps of one minute, and what the transmitter does in each slot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, _, frozen, marked
from afield.plugins.power.computations.duty import COMMON, UNKNOWN, Mode, mode_of

STEPS_AN_HOUR = 60
STEP_H = 1 / STEPS_AN_HOUR
STATED_SHARE_AROUND = 0.05
NEITHER = marked("neither the mode nor the share of the time spent transmitting is stated")


@frozen
class OnAir:
    """A slot: its first step and the one after its last, the mode, the share of transmitting, and the power if planned.

    Shares are 0 to 1; `share_around` is at 95 %.
    """

    first: int
    after: int
    mode: Mode
    share: float
    share_around: float
    power_w: float | None
    notes: tuple[str, ...] = ()


@frozen
class Steps:
    """The outing in steps of one minute: how many, which are on the air, and the slots."""

    count: int
    on_air: tuple[tuple[int, int], ...]
    slots: tuple[OnAir, ...]

    @property
    def end(self) -> int:
        """The step after the last one on the air."""
        return max(after for _, after in (*self.on_air, *((slot.first, slot.after) for slot in self.slots)))


def steps_of(timeline: Mapping[str, Any], transmits: bool = True) -> Steps:
    """The timeline in steps.

    Args:
        timeline: the schedule's.
        transmits: whether what the mode asks of a transmitter matters.

    Raises:
        CannotTell: what a slot asks of the transmitter is not known.

    """
    windows = tuple((_step(start), _step(end)) for start, end in timeline["on_air"])
    slots = tuple(_on_air(slot) if transmits else _listening(slot) for slot in timeline["slots"])
    return Steps(_step(timeline["leave_h"]), windows, slots)


def _step(hours: float) -> int:
    return round(hours * STEPS_AN_HOUR)


def _listening(slot: Mapping[str, Any]) -> OnAir:
    return OnAir(_step(slot["from_h"]), _step(slot["to_h"]), UNKNOWN, 0.0, 0.0, None)


def _on_air(slot: Mapping[str, Any]) -> OnAir:
    mode, told = _mode(slot)
    share, around, shared = _share(slot, mode)
    span = _step(slot["from_h"]), _step(slot["to_h"])
    return OnAir(*span, mode, share, around, slot.get("power_w"), (*told, *shared))


def _mode(slot: Mapping[str, Any]) -> tuple[Mode, Sequence[str]]:
    written, share = slot.get("mode"), slot.get("transmit_share")
    if written is None and share is None:
        raise CannotTell(_(NEITHER), "schedule.mode", "not stated", "trip")
    try:
        mode = mode_of(written) if written is not None else UNKNOWN
    except ValueError as error:
        if share is None:
            raise CannotTell(str(error), "schedule.transmit_share", "not stated", "trip") from error
        mode = UNKNOWN
    return mode, [_duty_note(mode)]


def _duty_note(mode: Mode) -> str:
    known = _("{mode}: mean power while transmitting {duty} of the peak ({source}).")
    note = known if mode is not UNKNOWN else _("The mode is not known: mean power {duty} of the peak ({source}).")
    return note.format(mode=_(mode.name), duty=_spread(mode.duty, mode.duty_around), source=_(mode.source))


def _share(slot: Mapping[str, Any], mode: Mode) -> tuple[float, float, Sequence[str]]:
    stated = slot.get("transmit_share")
    if stated is not None:
        around = slot.get("transmit_share_around") or STATED_SHARE_AROUND
        planned = _("Transmitting {share} of the time, as planned.")
        return stated, around, [planned.format(share=_spread(stated, around))]
    note = _("{mode}: transmitting {share} of the time ({common}).")
    share = _spread(mode.share, mode.share_around)
    return mode.share, mode.share_around, [note.format(mode=_(mode.name), share=share, common=_(COMMON))]


def percent(share: float) -> str:
    """A share of one as it is printed."""
    return f"{100 * share:.0f} %"


def _spread(share: float, around: float) -> str:
    return f"{percent(share)} ± {percent(around)}" if around else percent(share)
