"""Facts of the schedule as instants: what is when in UTC, for how long, and in which stages."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact, marked

ONE_AFTER_THE_OTHER = marked(
    "{zone} by tzdata {release}; each time is the next after the one before it; the clocks of the zone are followed"
)
NOT_STATED = {"arrive": marked("arrival is not stated"), "leave": marked("departure is not stated")}


def instant(text: str) -> datetime:
    """The instant of an ISO text in UTC."""
    return datetime.fromisoformat(text)


def minutes(start: str, end: str) -> float:
    """Minutes from one instant to another."""
    return (instant(end) - instant(start)).total_seconds() / 60


@fact(
    "schedule.instants", kind="trip", type="opaque", title="schedule in UTC", owns_uncertainty=True,
    each={"slots": ("slot", "slot.stated")},
    optional=[
        "schedule_arrive", "schedule_on_air", "schedule_leave", "schedule_repeated_hour", "schedule_set_up",
        "schedule_pack_up", "travel_walk", "travel_turn_back", "schedule_zone",
    ],
)  # fmt: skip
def schedule_instants(
    subject: Subject, place_zone: str, trip_date: str, schedule_arrive: str | None, schedule_on_air: list[str] | None,
    schedule_leave: str | None, schedule_repeated_hour: str | None, schedule_set_up: float | None,
    schedule_pack_up: float | None, travel_walk: float | None, travel_turn_back: str | None, schedule_zone: str | None,
    slots: list[tuple[Subject, dict[str, Any]]],
) -> Estimate:  # fmt: skip
    """Arrival, time on the air, slots and departure as instants, with the zone and the release of its data."""
    from afield.plugins.timing.computations.zone_files import zone_of
    from afield.plugins.timing.dial import Dial
    from afield.plugins.timing.reading import read_schedule
    from afield.plugins.timing.stages import Durations
    from afield.plugins.timing.times import Times
    from afield.plugins.timing.zone_doubt import zone_doubt

    assert subject.origin is not None
    plan = subject.origin.document
    dial = Dial(zone_of(place_zone), date.fromisoformat(trip_date), schedule_repeated_hour, plan)
    # The whole time on the air as the slot of a plan that states none says nothing that `on_air` does not.
    stated = [(slot, states) for slot, states in slots if not slot.data.get("whole")]
    times = Times(schedule_arrive, schedule_on_air, schedule_leave, stated)
    found = read_schedule(
        times, Durations(schedule_set_up, schedule_pack_up, travel_walk, None), travel_turn_back, dial
    )
    doubt = zone_doubt(plan.value(("station", "at")), dial.zone, dial.day) if schedule_zone else None
    method = _(ONE_AFTER_THE_OTHER).format(zone=place_zone, release=found["tzdata"])
    return Estimate(found, method=method, notes=(doubt,) if doubt else ())


@fact("schedule.utc_days", kind="trip", type="list", title="UTC days of the outing", exact=True, tells_utc_days=True)
def schedule_utc_days(schedule_instants: dict[str, Any]) -> list[str]:
    """The UTC dates from the outing's first instant to its last."""
    from afield.plugins.timing.computations.clock import dates_between

    days = dates_between(instant(schedule_instants["start"]), instant(schedule_instants["end"]))
    return [day.isoformat() for day in days]


@fact("schedule.minutes_there", kind="trip", type="number", unit="min", title="time at the place", exact=True)
def schedule_minutes_there(schedule_instants: dict[str, Any]) -> Estimate:
    """Minutes that pass from arrival to departure."""
    for key, text in NOT_STATED.items():
        if schedule_instants[key] is None:
            raise CannotTell(_(text), f"schedule.{key}", "not stated")
    passed = minutes(schedule_instants["arrive"], schedule_instants["leave"])
    return Estimate(passed, method=_("between instants: a change of the clocks is counted"))


@fact("schedule.minutes_on_air", kind="trip", type="number", unit="min", title="time on the air", exact=True)
def schedule_minutes_on_air(schedule_instants: dict[str, Any]) -> Estimate:
    """Minutes that pass on the air."""
    spans = on_air_of(schedule_instants)
    passed = sum(minutes(start, end) for start, end in spans)
    return Estimate(passed, method=_("between instants: a change of the clocks is counted"))


def on_air_of(schedule_instants: dict[str, Any]) -> list[list[str]]:
    """The spans on the air.

    Raises:
        CannotTell: the plan states none.

    """
    spans: list[list[str]] = schedule_instants["on_air"]
    if not spans:
        raise CannotTell(_("the time on the air is not stated"), "schedule.on_air", "not stated")
    return spans


@fact(
    "schedule.clock_change", kind="trip", type="number", unit="min", title="change of the clocks during the outing",
    exact=True,
)  # fmt: skip
def schedule_clock_change(schedule_instants: dict[str, Any]) -> float:
    """Minutes by which the clocks go forward during the outing (below 0: back); 0 if they do not change."""
    return float(sum(change["by_min"] for change in schedule_instants["clock_changes"]))


@fact(
    "schedule.stages", kind="trip", type="opaque", title="stages of the outing", owns_uncertainty=True,
    optional=["schedule_set_up", "schedule_pack_up", "travel_walk", "travel_drive"],
)  # fmt: skip
def schedule_stages(
    schedule_instants: dict[str, Any], schedule_set_up: float | None, schedule_pack_up: float | None,
    travel_walk: float | None, travel_drive: float | None,
) -> Estimate:  # fmt: skip
    """Drive, walk, set up, on the air, pack up, walk and drive, each from and to as instants."""
    from afield.plugins.timing.stages import Durations, stages_of

    durations = Durations(schedule_set_up, schedule_pack_up, travel_walk, travel_drive)
    return Estimate(stages_of(schedule_instants, durations), method=_("in a row from arrival and from departure"))


@fact(
    "schedule.set_up_spare", kind="trip", type="number", unit="min", exact=True, below_zero="late",
    title="time between setting up and the start on the air",
)  # fmt: skip
def schedule_set_up_spare(schedule_instants: dict[str, Any], schedule_set_up: float) -> float:
    """Minutes between arrival and the start on the air, less the time to set up."""
    return minutes(arrival_of(schedule_instants), on_air_of(schedule_instants)[0][0]) - schedule_set_up


@fact(
    "schedule.pack_up_spare", kind="trip", type="number", unit="min", exact=True, below_zero="late",
    title="time between packing up and the departure",
)  # fmt: skip
def schedule_pack_up_spare(schedule_instants: dict[str, Any], schedule_pack_up: float) -> float:
    """Minutes between the end on the air and the departure, less the time to pack up."""
    if schedule_instants["leave"] is None:
        raise CannotTell(_(NOT_STATED["leave"]), "schedule.leave", "not stated")
    return minutes(on_air_of(schedule_instants)[-1][1], schedule_instants["leave"]) - schedule_pack_up


def arrival_of(schedule_instants: dict[str, Any]) -> str:
    """The arrival.

    Raises:
        CannotTell: the plan states none.

    """
    arrive: str | None = schedule_instants["arrive"]
    if arrive is None:
        raise CannotTell(_(NOT_STATED["arrive"]), "schedule.arrive", "not stated")
    return arrive


FACTS: list[Fact] = [
    schedule_instants,
    schedule_utc_days,
    schedule_minutes_there,
    schedule_minutes_on_air,
    schedule_clock_change,
    schedule_stages,
    schedule_set_up_spare,
    schedule_pack_up_spare,
]
