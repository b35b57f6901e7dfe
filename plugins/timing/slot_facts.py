"""Facts of each slot as it falls on the clocks: when it begins and ends, for how long, on which UTC days."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact
from afield.plugins.timing.schedule_facts import instant, minutes, on_air_of

DETAIL = {"local": "local time to the minute", "date": "local date"}


def _span(subject: Subject, instants: dict[str, Any]) -> tuple[str, str]:
    if subject.data.get("whole"):
        spans = on_air_of(instants)
        return spans[0][0], spans[-1][1]
    found = next((slot for slot in instants["slots"] if slot["name"] == subject.label), None)
    if found is None:
        text = _("slot {name} does not say its times").format(name=subject.label)
        raise CannotTell(text, "schedule.slots[].from", "missing input")
    return found["from"], found["to"]


def _at(text: str, zone: str) -> Estimate:
    from afield.plugins.timing.computations.zone_files import zone_of

    local = datetime.fromisoformat(text).astimezone(zone_of(zone))
    return Estimate(text, detail={"local": f"{local:%H:%M}", "date": local.date().isoformat()})


@fact("slot.begins", kind="slot", type="instant", title="start of the slot", detail=DETAIL)
def slot_begins(subject: Subject, schedule_instants: dict[str, Any]) -> Estimate:
    """When the slot begins, with the local time of it."""
    return _at(_span(subject, schedule_instants)[0], schedule_instants["zone"])


@fact("slot.ends", kind="slot", type="instant", title="end of the slot", detail=DETAIL)
def slot_ends(subject: Subject, schedule_instants: dict[str, Any]) -> Estimate:
    """When the slot ends, with the local time of it."""
    return _at(_span(subject, schedule_instants)[1], schedule_instants["zone"])


@fact("slot.minutes", kind="slot", type="number", unit="min", title="length of the slot", exact=True, least=0.0)
def slot_minutes(subject: Subject, schedule_instants: dict[str, Any]) -> float:
    """Minutes that pass in the slot."""
    return minutes(*_span(subject, schedule_instants))


@fact("slot.utc_days", kind="slot", type="list", title="UTC days of the slot", exact=True, tells_utc_days=True)
def slot_utc_days(subject: Subject, schedule_instants: dict[str, Any]) -> list[str]:
    """The UTC dates on which some of the slot falls; one that ends at 00:00 UTC is not of the new day."""
    from afield.plugins.timing.computations.clock import dates_between

    start, end = _span(subject, schedule_instants)
    return [day.isoformat() for day in dates_between(instant(start), instant(end))]


@fact("slot.crosses_utc_midnight", kind="slot", type="bool", title="00:00 UTC within the slot", exact=True)
def slot_crosses_utc_midnight(slot_utc_days: list[str]) -> bool:
    """Whether some of the slot is before 00:00 UTC and some after it."""
    return len(slot_utc_days) > 1


FACTS: list[Fact] = [slot_begins, slot_ends, slot_minutes, slot_utc_days, slot_crosses_utc_midnight]
