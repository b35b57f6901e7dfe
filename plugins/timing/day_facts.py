"""Facts of the UTC days: which the outing touches, when they begin locally, and how long it is on the air in each."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact
from afield.plugins.timing.schedule_facts import instant, on_air_of

DETAIL = {"local": "local time to the minute", "date": "local date"}


def _bounds(subject: Subject) -> tuple[datetime, datetime]:
    from afield.plugins.timing.computations.clock import utc_midnight

    start = utc_midnight(date.fromisoformat(str(subject.data["date"])))
    return start, start + timedelta(days=1)


def _within(subject: Subject, spans: list[list[str]]) -> list[tuple[datetime, datetime]]:
    """The parts of spans that fall on the day, those without length left out."""
    start, end = _bounds(subject)
    cut = [(max(instant(one), start), min(instant(other), end)) for one, other in spans]
    return [(one, other) for one, other in cut if one < other]


def _at(moment: datetime, zone: str) -> Estimate:
    from afield.plugins.timing.computations.zone_files import iso, zone_of

    local = moment.astimezone(zone_of(zone))
    return Estimate(iso(moment), detail={"local": f"{local:%H:%M}", "date": local.date().isoformat()})


@fact("utc_day.date", kind="utc_day", type="text", title="date of the UTC day", exact=True)
def utc_day_date(subject: Subject) -> str:
    """The UTC date."""
    return str(subject.data["date"])


@fact("utc_day.dates", kind="utc_day", type="list", title="the UTC day itself", exact=True, tells_utc_days=True)
def utc_day_dates(subject: Subject) -> list[str]:
    """The UTC date, for packs whose rules are dated by UTC days."""
    return [str(subject.data["date"])]


@fact("utc_day.starts", kind="utc_day", type="instant", title="00:00 UTC", detail=DETAIL)
def utc_day_starts(subject: Subject, place_zone: str) -> Estimate:
    """When the UTC day begins, with the local time of it."""
    return _at(_bounds(subject)[0], place_zone)


@fact("utc_day.touched", kind="utc_day", type="bool", title="on the air on the UTC day", owns_uncertainty=True)
def utc_day_touched(subject: Subject, schedule_instants: dict[str, Any]) -> Estimate:
    """Whether time on the air falls on the UTC day; where none is stated, time at the place."""
    if schedule_instants["on_air"]:
        return Estimate(bool(_within(subject, schedule_instants["on_air"])), method=_("by the time on the air"))
    arrive, leave = schedule_instants["arrive"], schedule_instants["leave"]
    if arrive is None or leave is None:
        raise CannotTell(_("the time on the air is not stated"), "schedule.on_air", "not stated", "trip")
    return Estimate(bool(_within(subject, [[arrive, leave]])), method=_("by the time at the place"))


@fact(
    "utc_day.minutes_on_air", kind="utc_day", type="number", unit="min", title="time on the air on the UTC day",
    exact=True,
)  # fmt: skip
def utc_day_minutes_on_air(subject: Subject, schedule_instants: dict[str, Any]) -> float:
    """Minutes on the air that fall on the UTC day; 0 if none do."""
    parts = _within(subject, on_air_of(schedule_instants))
    return sum((other - one).total_seconds() for one, other in parts) / 60


@fact("utc_day.on_air_from", kind="utc_day", type="instant", title="first instant on the air", detail=DETAIL)
def utc_day_on_air_from(subject: Subject, schedule_instants: dict[str, Any]) -> Estimate:
    """The first instant on the air on the UTC day."""
    return _at(_parts(subject, schedule_instants)[0][0], schedule_instants["zone"])


@fact("utc_day.on_air_until", kind="utc_day", type="instant", title="last instant on the air", detail=DETAIL)
def utc_day_on_air_until(subject: Subject, schedule_instants: dict[str, Any]) -> Estimate:
    """The last instant on the air on the UTC day."""
    return _at(_parts(subject, schedule_instants)[-1][1], schedule_instants["zone"])


def _parts(subject: Subject, schedule_instants: dict[str, Any]) -> list[tuple[datetime, datetime]]:
    parts = _within(subject, on_air_of(schedule_instants))
    if not parts:
        text = _("no time on the air falls on {day} UTC").format(day=subject.data["date"])
        raise CannotTell(text, "schedule.on_air")
    return parts


FACTS: list[Fact] = [
    utc_day_date,
    utc_day_dates,
    utc_day_starts,
    utc_day_touched,
    utc_day_minutes_on_air,
    utc_day_on_air_from,
    utc_day_on_air_until,
]
