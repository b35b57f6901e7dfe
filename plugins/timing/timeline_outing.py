"""What the timeline and the calendar are made of: the facts of an outing, and the marks of its events."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from afield.core.api import _, frozen, marked, ngettext
from afield.plugins.timing.timeline_words import Clocks

PLANNED = {
    "arrive": marked("timeline|arrive"),
    "leave": marked("timeline|leave"),
    "on the air": marked("timeline|on the air"),
    "off the air": marked("timeline|off the air"),
    "set up": marked("timeline|set up"),
    "pack up": marked("timeline|pack up"),
    "drive out": marked("timeline|drive out"),
    "drive back": marked("timeline|drive back"),
    "walk out": marked("timeline|walk out"),
    "walk back": marked("timeline|walk back"),
    "home": marked("timeline|home"),
    "walk ends": marked("timeline|walk ends"),
}
"""What the plan brings about, by its name in the data; slots have names of their own."""
DRAWN = {**PLANNED, "arrive": marked("drawing|arrive")}
"""The same as it stands beside the drawing, where setting up often begins on arrival and wants room too."""
ORDER = ("utc day", "local day", "clock", "gate", "plan", "battery", "turn back", "sky")


@frozen
class Mark:
    """An event: its instant, its kind (one of ORDER), its words, and fewer of them for the drawing."""

    at: datetime
    kind: str
    words: str
    label: str = ""


@frozen
class Outing:
    """The facts of the section: the schedule and its stages, the sky, when to turn back, the clocks, and the gates.

    Attributes:
        gates: names of references, each with its opening hours as the fact `reference.hours` has them.
        battery_end: when the first battery that a transmitter needs is empty, where a plugin tells it.

    """

    instants: Mapping[str, Any]
    stages: Sequence[Mapping[str, Any]]
    events: Sequence[Mapping[str, str]]
    turn_back: Mapping[str, Any] | None
    clocks: Clocks
    gates: Sequence[tuple[str, Mapping[str, Any]]] = ()
    battery_end: datetime | None = None


def gate_events(outing: Outing) -> Iterator[tuple[datetime, str, str]]:
    """Instant, "opens" or "closes", and the reference's name, of all gates of the days around the outing."""
    for name, hours in outing.gates:
        for span in hours["spans"]:
            for at, word in zip(span, ("opens", "closes"), strict=True):
                yield datetime.fromisoformat(at), word, name


def gate_words(names: Sequence[str], word: str) -> str:
    """That references open or close, each named."""
    if word == "opens":
        text = ngettext("{names} opens", "{names} open", len(names))
    else:
        text = ngettext("{names} closes", "{names} close", len(names))
    return text.format(names=_(" and ").join(names))


def turn_words(outing: Outing) -> str:
    """Whether the time to turn back is the plan's, or the latest that the light allows."""
    stated = outing.turn_back is not None and outing.turn_back["detail"].get("stated")
    return _("turn back") if stated else _("latest turn back, to walk in light")
