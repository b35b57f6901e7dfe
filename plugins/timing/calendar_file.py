"""The outing as a calendar file (iCalendar, RFC 5545), made from the section's data alone."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import NAMESPACE_URL, uuid5

NAME = "outing.ics"
PRODUCT = "-//afield//outing//EN"


def calendar_text(data: Mapping[str, Any]) -> str | None:
    """The calendar: each event in UTC, with the local time and its zone in the description; None without events.

    It holds nothing of the clock of the machine: the stamp that RFC 5545, section 3.6.1, wants of each event is the
    start of the outing.
    """
    from icalendar import Calendar

    events = data["calendar"]
    if not events:
        return None
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    stamp = datetime.fromisoformat(min(event["from"] for event in events))
    for event in events:
        calendar.add_component(_event(event, stamp))
    return str(calendar.to_ical().decode("utf-8"))


def _event(event: Mapping[str, Any], stamp: datetime) -> Any:
    from icalendar import Event

    made = Event()
    made.add("uid", str(uuid5(NAMESPACE_URL, f"afield:{event['summary']}:{event['from']}:{event['to']}")))
    made.add("dtstamp", stamp)
    made.add("dtstart", datetime.fromisoformat(event["from"]))
    # An event without an end has no length (RFC 5545, section 3.6.1); an end at the start is not allowed.
    if event["to"] != event["from"]:
        made.add("dtend", datetime.fromisoformat(event["to"]))
    made.add("summary", event["summary"])
    made.add("description", event["description"])
    made.add("transp", "OPAQUE" if event["from"] != event["to"] else "TRANSPARENT")
    return made
