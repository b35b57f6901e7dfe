"""Facts of the place's clock: its time zone, the data that it is known from, how far it is from UTC."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact, in_context, marked
from afield.plugins.timing.positions import HasPosition


@fact(
    "position_zone.name", kind="position_zone", type="text", title="time zone that the position lies in",
    owns_uncertainty=True, settle="schedule.zone",
)  # fmt: skip
def position_zone_name(station_position: HasPosition) -> Estimate:
    """The IANA zone of the station's position, where its uncertainty leaves one only."""
    from afield.plugins.timing.positions import boundaries, zone_at

    return Estimate(zone_at(station_position), method=boundaries())


@fact(
    "place.zone", kind="trip", type="text", title="time zone of the place", settle="schedule.zone",
    each={"found": ("position_zone", "position_zone.name")}, optional=["schedule_zone"],
)  # fmt: skip
def place_zone(schedule_zone: str | None, found: list[tuple[Subject, str]]) -> Estimate:
    """The zone that the plan states, else that of the position."""
    from afield.plugins.timing.computations.zone_files import zone_names

    names = [schedule_zone] if schedule_zone else [name for _, name in found]
    if not names:
        raise CannotTell(_("the time zone of the place is not stated"), "schedule.zone", "not stated")
    if names[0] not in zone_names():
        text = _("{zone} is no zone of the installed tzdata package").format(zone=names[0])
        raise CannotTell(text, "schedule.zone", "outside validity")
    return Estimate(names[0], method=_("as stated") if schedule_zone else in_context(marked("zone|from the position")))


@fact("place.zone_data", kind="trip", type="text", title="release of the time zone data", exact=True)
def place_zone_data() -> Estimate:
    """The release of the IANA time zone database by which local time is reckoned."""
    from afield.plugins.timing.computations.zone_files import zone_data_version

    return Estimate(zone_data_version(), method=_("the tzdata package; the operating system's files are not read"))


@fact(
    "place.utc_offset", kind="trip", type="number", unit="min", title="local time less UTC on arrival", exact=True,
)  # fmt: skip
def place_utc_offset(schedule_instants: dict[str, Any]) -> float:
    """Minutes by which the clock on the wall is ahead of UTC when the outing begins."""
    return float(schedule_instants["offsets"]["start"])


FACTS: list[Fact] = [position_zone_name, place_zone, place_zone_data, place_utc_offset]
