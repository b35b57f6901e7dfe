"""The events of the calendar file: arrive, on the air, 00:00 UTC, turn back, leave."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

from afield.plugins.timing.computations.clock import dates_between, utc_midnight
from afield.plugins.timing.computations.zone_files import iso
from afield.plugins.timing.timeline_marks import Outing, turn_words
from afield.plugins.timing.timeline_words import day_words


def calendar_events(outing: Outing, title: str) -> list[dict[str, str]]:
    """Each with its summary, a description on both clocks, and from and to as instants, in their order."""
    found = [_event(outing, title, words, *span) for words, span in _events(outing)]
    return sorted(found, key=lambda event: (event["from"], event["to"]))


def _events(outing: Outing) -> Iterator[tuple[str, tuple[str, str]]]:
    instants = outing.instants
    for key in ("arrive", "leave"):
        if instants[key]:
            yield key, (instants[key], instants[key])
    slots = [(slot["name"], (slot["from"], slot["to"])) for slot in instants["slots"]]
    yield from slots or [("on the air", (start, end)) for start, end in instants["on_air"]]
    start, end = (datetime.fromisoformat(instants[key]) for key in ("start", "end"))
    for day in dates_between(start, end + timedelta(days=1)):
        if start <= utc_midnight(day) <= end:
            at = iso(utc_midnight(day))
            yield f"00:00 UTC, {day_words(day)} begins", (at, at)
    if outing.turn_back is not None:
        yield turn_words(outing), (outing.turn_back["value"], outing.turn_back["value"])


def _event(outing: Outing, title: str, words: str, start: str, end: str) -> dict[str, Any]:
    ends = [datetime.fromisoformat(text) for text in dict.fromkeys((start, end))]
    local, utc = (" to ".join(of(at) for at in ends) for of in (outing.clocks.local_words, outing.clocks.utc_words))
    description = f"{local} local time in {outing.instants['zone']}, {utc}."
    return {"summary": f"{title}: {words}", "description": description, "from": start, "to": end}
