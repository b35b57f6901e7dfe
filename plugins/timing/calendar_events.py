"""The events of the calendar file: arrive, on the air, 00:00 UTC, gates, turn back, leave."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from afield.core.api import _, day_in_words, frozen, in_context
from afield.plugins.timing.computations.clock import dates_between, utc_midnight
from afield.plugins.timing.computations.zone_files import iso
from afield.plugins.timing.saying import span_words
from afield.plugins.timing.timeline_marks import window_of
from afield.plugins.timing.timeline_outing import PLANNED, Outing, gate_events, gate_words, turn_words
from afield.plugins.timing.timeline_words import slot_words


@frozen
class Entry:
    """An event: a name that stays when its times change, the words that are read, start and end, and what it states."""

    name: str
    words: str
    start: str
    end: str
    states: str = ""


def calendar_events(outing: Outing, title: str) -> list[dict[str, str]]:
    """Each with its key and summary, a description on both clocks, and from and to as instants, in their order."""
    found = [_event(outing, title, entry) for entry in _entries(outing)]
    return sorted(found, key=lambda event: (event["from"], event["to"]))


def calendar_stamp(instants: Mapping[str, Any]) -> str:
    """The stamp of all events: 1 January of the year of the zone data by which their times were reckoned.

    RFC 5545, section 3.8.7.2, wants the instant of the last revision. Nothing here knows it: no plugin reads the clock,
    and two runs give the same bytes. The stamp must not lie in the future, or a calendar takes a later file for an
    older one; the trip's own date mostly does. The release of the zone data is past whenever the file is made, and a
    newer release never takes the stamp back.
    """
    return f"{instants['tzdata'][:4]}-01-01T00:00:00Z"


def _entries(outing: Outing) -> Iterator[Entry]:
    instants = outing.instants
    for key in ("arrive", "leave"):
        if instants[key]:
            yield Entry(key, in_context(PLANNED[key]), instants[key], instants[key])
    for slot in instants["slots"]:
        yield Entry(f"slot {slot['name']}", slot["name"], slot["from"], slot["to"], slot_words(slot))
    if not instants["slots"]:
        words = in_context(PLANNED["on the air"])
        yield from (Entry("on the air", words, start, end) for start, end in instants["on_air"])
    yield from _utc_days(instants)
    yield from _gates(outing)
    if outing.turn_back is not None:
        yield Entry("turn back", turn_words(outing), outing.turn_back["value"], outing.turn_back["value"])


def _utc_days(instants: Mapping[str, Any]) -> Iterator[Entry]:
    start, end = (datetime.fromisoformat(instants[key]) for key in ("start", "end"))
    for day in dates_between(start, end + timedelta(days=1)):
        if start <= utc_midnight(day) <= end:
            at = iso(utc_midnight(day))
            yield Entry(f"utc day {day}", _("00:00 UTC, {day} begins").format(day=day_in_words(day)), at, at)


def _gates(outing: Outing) -> Iterator[Entry]:
    """The gates that stand on the timeline, each by its reference and local date: its hour may change."""
    start, end = window_of(outing)
    for at, word, name in gate_events(outing):
        if start <= at <= end:
            day = outing.clocks.local(at).date()
            yield Entry(f"gate {name} {word} {day}", gate_words([name], word), iso(at), iso(at))


def _event(outing: Outing, title: str, entry: Entry) -> dict[str, str]:
    ends = [datetime.fromisoformat(text) for text in dict.fromkeys((entry.start, entry.end))]
    local, utc = (_ends_words(list(map(of, ends))) for of in (outing.clocks.local_words, outing.clocks.utc_words))
    text = _("{local} local time in {zone}, {utc}.")
    description = text.format(local=local, zone=outing.instants["zone"], utc=utc)
    return {
        "key": f"{title}:{outing.clocks.day}:{entry.name}",
        "summary": f"{title}: {entry.words}",
        "description": f"{description} {entry.states}." if entry.states else description,
        "from": entry.start,
        "to": entry.end,
    }


def _ends_words(ends: Sequence[str]) -> str:
    return span_words(*ends) if len(ends) == 2 else ends[0]
