"""Facts of a reference's opening hours and permit, which its pack lists."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, _, fact, in_context
from afield.plugins.timing.positions import HasPosition

if TYPE_CHECKING:
    from afield.plugins.timing.hours import Hours


def _hours(opens: Piece, zone: str, day: str, position: HasPosition) -> Hours:
    from afield.plugins.timing.computations.zone_files import zone_of
    from afield.plugins.timing.hours import Hours

    begin, end = (str(opens.data[key]) for key in ("from", "until"))
    return Hours(begin, end, zone_of(zone), date.fromisoformat(day), position)


@fact(
    "reference.has_hours", kind="claim", type="bool", title="whether the reference has opening hours", exact=True,
    optional=["reference_open"],
)  # fmt: skip
def reference_has_hours(reference_open: Piece | None) -> bool:
    """Whether the pack lists opening hours of the reference."""
    return reference_open is not None


@fact("reference.hours", kind="claim", type="opaque", title="opening hours in UTC", encode=lambda hours: hours)
def reference_hours(
    reference_open: Piece, place_zone: str, trip_date: str, station_position: HasPosition
) -> dict[str, Any]:
    """The hours as written, and their spans around the day of arrival as instants."""
    from afield.plugins.timing.computations.zone_files import iso
    from afield.plugins.timing.hours import spans_of

    hours = _hours(reference_open, place_zone, trip_date, station_position)
    return {"words": hours.words(), "spans": [[iso(start), iso(end)] for start, end in spans_of(hours)]}


@fact(
    "reference.open_margin", kind="claim", type="number", unit="min", owns_uncertainty=True, below_zero="outside",
    title="time by which the stay lies inside the opening hours", optional=["schedule_pack_up"],
    detail={"edge": "start or end of the hours, whichever is nearer", "at": "its local time", "hours": "as listed"},
)  # fmt: skip
def reference_open_margin(
    reference_open: Piece, schedule_instants: dict[str, Any], place_zone: str, trip_date: str,
    station_position: HasPosition, schedule_pack_up: float | None,
) -> Estimate:  # fmt: skip
    """Minutes by which the stay, from arrival to departure, lies inside the hours; below 0 if some is outside."""
    from afield.plugins.timing.computations.sun_events import to_minute
    from afield.plugins.timing.hours import EDGES, rooms, written_min

    hours = _hours(reference_open, place_zone, trip_date, station_position)
    start, end = _stay(schedule_instants, schedule_pack_up)
    found = rooms(hours, start, end)
    likely, around = found["likely"], written_min(hours)
    at = to_minute(likely.at).astimezone(hours.zone)
    detail = {"edge": in_context(EDGES[likely.edge]), "at": f"{at:%H:%M}", "hours": hours.words()}
    low, high = found["least"].minutes - around, found["most"].minutes + around
    method = _("the nearer of the two edges")
    return Estimate(likely.minutes, low, high, detail=detail, method=method, notes=_notes(hours))


def _notes(hours: Hours) -> tuple[str, ...]:
    from afield.plugins.timing.sun_facts import LEVEL_HORIZON

    return (_(LEVEL_HORIZON),) if hours.by_sun else ()


def _stay(instants: dict[str, Any], pack_up: float | None) -> tuple[datetime, datetime]:
    from afield.plugins.timing.schedule_facts import arrival_of
    from afield.plugins.timing.stages import departure_of

    start, end = datetime.fromisoformat(arrival_of(instants)), departure_of(instants, pack_up)
    if end is None:
        raise CannotTell(_("neither the departure nor the time to pack up is stated"), "schedule.leave", "not stated")
    return start, end


FACTS: list[Fact] = [reference_has_hours, reference_hours, reference_open_margin]
