"""The best division of the time across 00:00 UTC: chances, times by the clock, and whether they fit the plan."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, time, timedelta
from typing import Any

from afield.core.api import frozen
from afield.plugins.contacts.counted import Counted
from afield.plugins.contacts.zones import local_date, local_words

MINUTE = timedelta(minutes=1)


@frozen
class Room:
    """The time that the plan leaves for being on the air.

    Attributes:
        instants: the fact `schedule.instants`.
        set_up_min, pack_up_min: what the plan states of them; None where it states nothing.

    """

    instants: Mapping[str, Any]
    set_up_min: float | None
    pack_up_min: float | None

    @property
    def earliest(self) -> datetime | None:
        """When setting up ends; None where the arrival is not stated."""
        arrive = self.instants["arrive"]
        return datetime.fromisoformat(arrive) + (self.set_up_min or 0) * MINUTE if arrive else None

    @property
    def latest(self) -> datetime | None:
        """When packing up has to begin; None where the departure is not stated."""
        leave = self.instants["leave"]
        return datetime.fromisoformat(leave) - (self.pack_up_min or 0) * MINUTE if leave else None

    @property
    def midnight(self) -> datetime | None:
        """The first 00:00 UTC within the outing; None where there is none."""
        start, end = (datetime.fromisoformat(self.instants[key]) for key in ("start", "end"))
        found = datetime.combine(start.date() + timedelta(days=1), time(), start.tzinfo)
        return found if found < end else None


def division_of(counted: Counted, rate: Mapping[str, Any], wanted: int, room: Room) -> dict[str, Any]:
    """The division as JSON.

    `chance_in_one` is what one UTC day would have with all the time. `clock` is None where the time is that of one
    operator's slots, which stand between others', or where no 00:00 UTC lies within the outing.

    Args:
        counted: the time that counts for the claim.
        rate: the fact `contacts.rate`.
        wanted: contacts of each UTC day.
        room: what the plan leaves.

    Raises:
        ValueError: as `best_division`.

    """
    from afield.plugins.contacts.computations.counts import prob_at_least
    from afield.plugins.contacts.computations.utc_days import best_division

    minutes, per_h, k = round(counted.minutes), rate["per_h"], rate["dispersion_k"]
    found = best_division(minutes, per_h, per_h, wanted, wanted, k)
    alone = prob_at_least(per_h * minutes / 60, wanted, 1 / k)
    clock = None
    if counted.spent is not None and room.midnight is not None:
        ratio = counted.spent / counted.minutes
        clock = _clock(room, room.midnight, ratio * found.minutes_before, ratio * found.minutes_after)
    return {**found._asdict(), "chance_in_one": alone, "clock": clock}


def _clock(room: Room, midnight: datetime, before_min: float, after_min: float) -> dict[str, Any]:
    """From when to when, local and in UTC; and how that lies to what the plan leaves."""
    start, end = midnight - before_min * MINUTE, midnight + after_min * MINUTE
    fits = [
        room.earliest is None or room.earliest <= start,
        room.latest is None or end <= room.latest,
    ]
    return {
        "from": _told(start, room), "to": _told(end, room), "as_planned": _as_planned(start, end, room),
        "earliest": _told(room.earliest, room), "latest": _told(room.latest, room), "fits": all(fits),
        "set_up": bool(room.set_up_min), "pack_up": bool(room.pack_up_min),
    }  # fmt: skip


def _as_planned(start: datetime, end: datetime, room: Room) -> bool:
    """Whether the plan has just these times on the air, to the minute."""
    spans = [[datetime.fromisoformat(text) for text in span] for span in room.instants["on_air"]]
    return len(spans) == 1 and abs(spans[0][0] - start) <= MINUTE and abs(spans[0][1] - end) <= MINUTE


def _told(at: datetime | None, room: Room) -> dict[str, str] | None:
    if at is None:
        return None
    zone = room.instants["zone"]
    day = local_date(datetime.fromisoformat(room.instants["start"]), zone)
    return {"utc": f"{at:%H:%M}Z", "local": local_words(at, zone, day)}
