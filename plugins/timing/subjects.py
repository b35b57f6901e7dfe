"""Subjects of time: the UTC days that the plan's date may touch, and each claim on each of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from afield.core.api import Document, InputError, Kind, Origin, Subject, _, did_you_mean, slug

KINDS = [
    Kind("utc_day", title="UTC day"),
    Kind("claim_day", ("claim", "utc_day"), "claim on a UTC day"),
    Kind("position_zone", title="time zone found from the position"),
]
DAYS = range(-1, 3)
"""UTC dates, as days after the local date of arrival, that an outing of less than 24 hours can touch: local time is at
most 14 hours ahead of UTC and 12 behind it."""


def subjects(plan: Document) -> list[Subject]:
    """The UTC days, the claims on them, and the zone to be found where the plan states none.

    Raises:
        InputError: the plan names a time zone that does not exist, or in that zone its schedule contradicts itself.

    """
    if plan.value(("schedule", "zone")) is not None:
        from afield.plugins.timing.reading import refuse_wrong_plan

        _refuse_unknown_zone(plan)
        refuse_wrong_plan(plan)
    days = list(_utc_days(plan))
    claims = [_claim_day(claim, day, index, plan) for index, claim in enumerate(_claims(plan)) for day in days]
    return [*days, *claims, *_position_zone(plan)]


def _refuse_unknown_zone(plan: Document) -> None:
    from afield.plugins.timing.computations.zone_files import zone_names

    stated = plan.value(("schedule", "zone"))
    if stated in zone_names():
        return
    guess = did_you_mean(stated, sorted(zone_names()))
    hint = f'Did you mean "{guess}"? ' if guess else ""
    advice = f"{hint}Write a name of the IANA time zone database, such as America/Denver or Europe/Paris."
    raise InputError([plan.problem(("schedule", "zone"), f"{stated} is no time zone", advice)])


def _utc_days(plan: Document) -> Iterator[Subject]:
    arrival = date.fromisoformat(plan.data["date"])
    for shift in DAYS:
        day = (arrival + timedelta(days=shift)).isoformat()
        origin = Origin(plan, ("date",), plan.folder)
        yield Subject(f"utc_day:{day}", "utc_day", f"{day} UTC", {"trip": "trip"}, {"date": day}, origin)


def _claims(plan: Document) -> list[Any]:
    return list(plan.data.get("claims", []))


def _claim_day(claim: Any, day: Subject, index: int, plan: Document) -> Subject:
    name = f"{slug(str(claim['program']))}/{slug(str(claim['reference']))}"
    parents = {"claim": f"claim:{name}", "utc_day": day.key}
    claimed = f"{claim['program']} / {claim['reference']}"
    label = _("{claim} on {day}").format(claim=claimed, day=day.label)
    origin = Origin(plan, ("claims", index), plan.folder)
    return Subject(f"claim_day:{name}/{day.data['date']}", "claim_day", label, parents, day.data, origin)


def _position_zone(plan: Document) -> Iterator[Subject]:
    """A subject of its own, so that the position is looked at only where no zone is stated."""
    if plan.value(("schedule", "zone")) is None:
        origin = Origin(plan, ("station",), plan.folder)
        label = _("the station's position")
        yield Subject("position_zone:station", "position_zone", label, {"trip": "trip"}, {}, origin)
