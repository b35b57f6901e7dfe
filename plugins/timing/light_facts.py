"""Facts of light: whether setting up, packing up and the walk back are done in it, and how much of it is left."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact
from afield.plugins.timing.positions import HasPosition
from afield.plugins.timing.schedule_facts import arrival_of, instant, on_air_of

Span = tuple[datetime, datetime]
DARK = {"dark": "after dusk or before dawn, where some of it is done in the dark"}


def _set_up(schedule_instants: dict[str, Any], schedule_set_up: float) -> Span:
    start = instant(arrival_of(schedule_instants))
    return start, start + timedelta(minutes=schedule_set_up)


def _pack_up(schedule_instants: dict[str, Any], schedule_pack_up: float) -> Span:
    start = instant(on_air_of(schedule_instants)[-1][1])
    return start, start + timedelta(minutes=schedule_pack_up)


def _departure(schedule_instants: dict[str, Any], schedule_pack_up: float | None) -> datetime:
    from afield.plugins.timing.stages import departure_of

    found = departure_of(schedule_instants, schedule_pack_up)
    if found is None:
        raise CannotTell(_("neither the departure nor the time to pack up is stated"), "schedule.leave", "not stated")
    return found


@fact(
    "schedule.set_up_light_left", kind="trip", type="number", unit="min", owns_uncertainty=True, below_zero="dark",
    detail=DARK, title="civil light left at the end of setting up",
)  # fmt: skip
def schedule_set_up_light_left(
    station_position: HasPosition, schedule_instants: dict[str, Any], schedule_set_up: float
) -> Estimate:
    """Minutes of civil light after setting up; below 0 if some of it is done in the dark."""
    from afield.plugins.timing.light import light_left

    return light_left(station_position, *_set_up(schedule_instants, schedule_set_up))


@fact("schedule.set_up_in_light", kind="trip", type="bool", title="setting up in civil light", owns_uncertainty=True)
def schedule_set_up_in_light(
    station_position: HasPosition, schedule_instants: dict[str, Any], schedule_set_up: float
) -> Estimate:
    """Whether all of the setting up is done in civil light."""
    from afield.plugins.timing.light import in_light

    return in_light(station_position, *_set_up(schedule_instants, schedule_set_up))


@fact(
    "schedule.pack_up_light_left", kind="trip", type="number", unit="min", owns_uncertainty=True, below_zero="dark",
    detail=DARK, title="civil light left at the end of packing up",
)  # fmt: skip
def schedule_pack_up_light_left(
    station_position: HasPosition, schedule_instants: dict[str, Any], schedule_pack_up: float
) -> Estimate:
    """Minutes of civil light after packing up; below 0 if some of it is done in the dark."""
    from afield.plugins.timing.light import light_left

    return light_left(station_position, *_pack_up(schedule_instants, schedule_pack_up))


@fact("schedule.pack_up_in_light", kind="trip", type="bool", title="packing up in civil light", owns_uncertainty=True)
def schedule_pack_up_in_light(
    station_position: HasPosition, schedule_instants: dict[str, Any], schedule_pack_up: float
) -> Estimate:
    """Whether all of the packing up is done in civil light."""
    from afield.plugins.timing.light import in_light

    return in_light(station_position, *_pack_up(schedule_instants, schedule_pack_up))


@fact(
    "schedule.leave_in_light", kind="trip", type="bool", title="departure in civil light", owns_uncertainty=True,
    optional=["schedule_pack_up"],
)  # fmt: skip
def schedule_leave_in_light(
    station_position: HasPosition, schedule_instants: dict[str, Any], schedule_pack_up: float | None
) -> Estimate:
    """Whether the place is left in civil light."""
    from afield.plugins.timing.light import in_light

    leave = _departure(schedule_instants, schedule_pack_up)
    return in_light(station_position, leave, leave)


@fact(
    "travel.walk_light_left", kind="trip", type="number", unit="min", owns_uncertainty=True, below_zero="dark",
    detail=DARK, title="civil light left at the end of the walk back", optional=["schedule_pack_up"],
)  # fmt: skip
def travel_walk_light_left(
    station_position: HasPosition, schedule_instants: dict[str, Any], travel_walk: float,
    schedule_pack_up: float | None,
) -> Estimate:  # fmt: skip
    """Minutes of civil light after the walk back from the place; below 0 if some of it is in the dark."""
    from afield.plugins.timing.light import light_left

    leave = _departure(schedule_instants, schedule_pack_up)
    return light_left(station_position, leave, leave + timedelta(minutes=travel_walk))


@fact(
    "travel.turn_back_at", kind="trip", type="instant", title="time to turn back", owns_uncertainty=True,
    optional=["travel_turn_back", "travel_walk", "schedule_pack_up", "schedule_repeated_hour"],
    detail={"stated": "whether the plan states it", "back_at": "end of the walk back"},
)  # fmt: skip
def travel_turn_back_at(
    subject: Subject, station_position: HasPosition, schedule_instants: dict[str, Any], trip_date: str,
    travel_turn_back: str | None, travel_walk: float | None, schedule_pack_up: float | None,
    schedule_repeated_hour: str | None,
) -> Estimate:  # fmt: skip
    """When to start back: as stated, else the latest time with which the walk ends in civil light."""
    from afield.plugins.timing.turning import arrived, latest_start, stated_start

    if travel_turn_back is not None:
        return stated_start(subject, schedule_instants, trip_date, travel_turn_back, schedule_repeated_hour)
    if travel_walk is None:
        raise CannotTell(_("the time of the walk, one way is not stated"), "travel.walk", "not stated")
    leave = _departure(schedule_instants, schedule_pack_up)
    return latest_start(station_position, leave, travel_walk, arrived(schedule_instants, trip_date))


@fact(
    "travel.turn_back_spare", kind="trip", type="number", unit="min", owns_uncertainty=True, below_zero="late",
    title="time between the departure and the time to turn back", optional=["schedule_pack_up"],
)  # fmt: skip
def travel_turn_back_spare(
    travel_turn_back_at: str, schedule_instants: dict[str, Any], schedule_pack_up: float | None
) -> float:
    """Minutes from the planned departure to the time to turn back; below 0 if the plan leaves later than that."""
    leave = _departure(schedule_instants, schedule_pack_up)
    return (instant(travel_turn_back_at) - leave).total_seconds() / 60


FACTS: list[Fact] = [
    schedule_set_up_light_left,
    schedule_set_up_in_light,
    schedule_pack_up_light_left,
    schedule_pack_up_in_light,
    schedule_leave_in_light,
    travel_walk_light_left,
    travel_turn_back_at,
    travel_turn_back_spare,
]
