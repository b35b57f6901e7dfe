"""When to turn back: as the plan states it, or as the light allows it."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from afield.core.api import CannotTell, Estimate, Subject, _, frozen, marked
from afield.plugins.timing.computations.zone_files import iso, zone_of
from afield.plugins.timing.dial import Dial, Stated
from afield.plugins.timing.light import HORIZON, METHOD, dusk_for
from afield.plugins.timing.positions import HasPosition
from afield.plugins.timing.timeline_words import Clocks, length_words

DARK_ON_ARRIVAL = marked(
    "it is dark on arrival: civil light ended at {dusk}, before the arrival, {arrival}; light sets no time to turn back"
)
TOO_LATE = marked(
    "the walk back cannot end in light: it takes {walk}, and civil light ends at {dusk}, soon after the arrival, "
    "{arrival}"
)


def stated_start(
    subject: Subject, instants: dict[str, Any], day: str, turn_back: str, repeated: str | None
) -> Estimate:
    """The first instant of the stated time after the outing's start.

    Raises:
        InputError: the clocks skip it, or show it twice.

    """
    assert subject.origin is not None
    dial = Dial(zone_of(instants["zone"]), date.fromisoformat(day), repeated, subject.origin.document)
    stated = Stated("the time to turn back", turn_back, ("travel", "turn_back"))
    at = dial.next(stated, datetime.fromisoformat(instants["start"]))
    return Estimate(iso(at), method=_("as stated"), detail={"stated": True, "back_at": None})


@frozen
class Arrived:
    """The first instant at the place, in the words of the plan's clock."""

    at: datetime
    clocks: Clocks


def arrived(instants: dict[str, Any], day: str) -> Arrived:
    """The arrival; where none is stated, the start of the outing."""
    at = datetime.fromisoformat(instants["arrive"] or instants["start"])
    return Arrived(at, Clocks(zone_of(instants["zone"]), date.fromisoformat(day)))


def latest_start(position: HasPosition, leave: datetime, walk_min: float, arrival: Arrived) -> Estimate:
    """The latest start with which the walk ends in civil light, to the whole minute before it.

    Raises:
        CannotTell: it does not get dark, or not light; it is dark on arrival, or light ends before one could be back.

    """
    dusk = dusk_for(position, leave)
    exact = dusk - timedelta(minutes=walk_min)
    at = exact.replace(second=0, microsecond=0)
    if at < arrival.at:
        raise CannotTell(_too_late(dusk, walk_min, arrival), "travel.turn_back")
    method = _("end of civil light less the walk; {method}").format(method=_(METHOD))
    return Estimate(iso(at), method=method, detail={"stated": False, "back_at": iso(dusk)}, notes=(_(HORIZON),))


def _too_late(dusk: datetime, walk_min: float, arrival: Arrived) -> str:
    text = _(DARK_ON_ARRIVAL if dusk <= arrival.at else TOO_LATE)
    ends, there = (arrival.clocks.local_words(at) for at in (dusk, arrival.at))
    return text.format(walk=length_words(walk_min), dusk=ends, arrival=there)
