"""What goes out in each hour of the outing: the power and the mode of the slot that it lies in, else the schedule's."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from math import log10
from typing import Any, NamedTuple

from afield.core.api import _, marked
from afield.plugins.ionosphere.wording import plain

MODES = {
    "CW": "CW", "SSB": "SSB", "USB": "SSB", "LSB": "SSB", "FT8": "digital", "FT4": "digital", "JS8": "digital",
    "DIGITAL": "digital",
}  # fmt: skip
"""Mode as plans write it, in capitals -> mode whose needs are known."""
ASSUMED_MODE, HARDEST_MODE = "CW", "SSB"
ASSUMED_W = 10.0
HOUR = timedelta(hours=1)
TWO_IN_ONE = marked("In an hour with two of them, the one that reaches less far is taken.")
NO_POWER = marked("The power is not stated: {power} W is taken.")
NO_POWER_OF = marked("The power of slot {slot} is not stated: {power} W is taken.")
ZERO_POWER = marked(
    "The power is stated as 0 W, nothing is sent: {power} W is taken, as of a station that may be heard."
)
ZERO_POWER_OF = marked(
    "The power of slot {slot} is stated as 0 W, nothing is sent: {power} W is taken, as of a station that may be heard."
)
NO_MODE = marked("The mode is not stated: {mode} is taken.")
NO_MODE_OF = marked("The mode of slot {slot} is not stated: {mode} is taken.")
UNKNOWN_MODE = marked("What {stated} needs is not known: {mode}, which needs most, is taken.")

Slot = Mapping[str, Any]


class Sent(NamedTuple):
    """Watts to the antenna, and a mode whose needs are known."""

    power_w: float
    mode: str


@dataclass
class Sending:
    """What the plan states of power and mode, and what had to be assumed.

    Attributes:
        slots: with times, as the fact `schedule.instants` gives them.
        mode, power_w: of the schedule; None where it states none.
        notes: what was assumed, each said once.

    """

    slots: Sequence[Slot]
    mode: str | None
    power_w: float | None
    notes: list[str] = field(default_factory=list)

    def of_hours(self, hours: Sequence[datetime]) -> list[Sent]:
        """What is sent in each of the hours, which are given by their beginnings."""
        return [self._of(hour) for hour in hours]

    def _of(self, hour: datetime) -> Sent:
        within = [slot for slot in self.slots if _begin(slot) < hour + HOUR and _end(slot) > hour]
        found = list(dict.fromkeys(self._of_slot(slot) for slot in within)) or [self._outside(hour)]
        if len(found) > 1:
            self._say(_(TWO_IN_ONE))
        return min(found, key=_reaches)

    def _of_slot(self, slot: Slot) -> Sent:
        power, mode = (_first(slot[key], common) for key, common in (("power_w", self.power_w), ("mode", self.mode)))
        return self._known(power, mode, slot["name"])

    def _outside(self, hour: datetime) -> Sent:
        """The schedule's; what it does not state, that of the slot nearest in time that does."""
        power = _first(self.power_w, *self._nearest("power_w", hour))
        mode = _first(self.mode, *self._nearest("mode", hour))
        return self._known(power, mode, None)

    def _nearest(self, key: str, hour: datetime) -> Iterator[Any]:
        for slot in sorted(self.slots, key=lambda one: max(_begin(one) - hour, hour - _end(one))):
            yield slot[key]

    def _known(self, power_w: float | None, mode: str | None, slot: str | None) -> Sent:
        return Sent(self._power(power_w, slot), self._mode(mode, slot))

    def _power(self, power_w: float | None, slot: str | None) -> float:
        if not power_w:
            common, of_slot = (NO_POWER, NO_POWER_OF) if power_w is None else (ZERO_POWER, ZERO_POWER_OF)
            self._say(_(common if slot is None else of_slot).format(slot=slot, power=plain(ASSUMED_W)))
        return float(power_w or ASSUMED_W)

    def _mode(self, mode: str | None, slot: str | None) -> str:
        if mode is None:
            self._say(_(NO_MODE if slot is None else NO_MODE_OF).format(slot=slot, mode=ASSUMED_MODE))
            return ASSUMED_MODE
        if mode.upper() not in MODES:
            self._say(_(UNKNOWN_MODE).format(stated=mode, mode=HARDEST_MODE))
        return MODES.get(mode.upper(), HARDEST_MODE)

    def _say(self, note: str) -> None:
        if note not in self.notes:
            self.notes.append(note)


def _first(*stated: Any) -> Any:
    """The first that is stated, and 0 is."""
    return next((one for one in stated if one is not None), None)


def _begin(slot: Slot) -> datetime:
    return datetime.fromisoformat(slot["from"])


def _end(slot: Slot) -> datetime:
    return datetime.fromisoformat(slot["to"])


def _reaches(sent: Sent) -> float:
    """How far it reaches, beside others: its power over the noise that its mode bears, dB."""
    from afield.plugins.ionosphere.computations.signals import NEEDED_DBHZ

    return 10 * log10(sent.power_w) - NEEDED_DBHZ[sent.mode]
