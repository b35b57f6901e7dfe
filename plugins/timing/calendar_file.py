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

    It holds nothing of the clock of the machine. An event's UID is of the plan's title, its date and the event's name,
    not of its times: a file that is read in again after a change of times replaces the events (RFC 5545, section
    3.8.4.7).
    """
    from icalendar import Calendar

    if not data["calendar"]:
        return None
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    for event in data["calendar"]:
        calendar.add_component(_event(event, datetime.fromisoformat(data["calendar_stamp"]), data["calendar_place"]))
    return str(calendar.to_ical().decode("utf-8"))


def _event(event: Mapping[str, Any], stamp: datetime, place: Mapping[str, Any] | None) -> Any:
    from icalendar import Event

    made = Event()
    made.add("uid", str(uuid5(NAMESPACE_URL, f"afield:{event['key']}")))
    made.add("dtstamp", stamp)
    made.add("dtstart", datetime.fromisoformat(event["from"]))
    # An event without an end has no length (RFC 5545, section 3.6.1); an end at the start is not allowed.
    if event["to"] != event["from"]:
        made.add("dtend", datetime.fromisoformat(event["to"]))
    made.add("summary", event["summary"])
    made.add("description", event["description"])
    if place is not None:
        made.add("location", place["words"])
        made.add("geo", (place["lat_deg"], place["lon_deg"]))
    made.add("transp", "OPAQUE" if event["from"] != event["to"] else "TRANSPARENT")
    return made
