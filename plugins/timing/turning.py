"""When to turn back: as the plan states it, or as the light allows it."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from afield.core.api import Estimate, Subject
from afield.plugins.timing.computations.zone_files import iso, zone_of
from afield.plugins.timing.dial import Dial, Stated
from afield.plugins.timing.light import HORIZON, METHOD, dusk_for
from afield.plugins.timing.positions import HasPosition


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
    return Estimate(iso(at), method="as stated", detail={"stated": True, "back_at": None})


def latest_start(position: HasPosition, leave: datetime, walk_min: float) -> Estimate:
    """The latest start with which the walk ends in civil light, to the whole minute before it.

    Raises:
        CannotTell: it does not get dark, or not light.

    """
    dusk = dusk_for(position, leave)
    exact = dusk - timedelta(minutes=walk_min)
    at = exact.replace(second=0, microsecond=0)
    method = f"end of civil light less the walk; {METHOD}"
    return Estimate(iso(at), method=method, detail={"stated": False, "back_at": iso(dusk)}, notes=(HORIZON,))
