"""The plan's schedule as instants: arrival, time on the air, slots and departure in UTC, whatever the clocks do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import combinations
from typing import Any

from afield.core.api import CannotTell, Subject
from afield.plugins.timing.changes import clock_changes
from afield.plugins.timing.computations.zone_files import iso, offset_min, zone_data_version
from afield.plugins.timing.dial import Dial, Stated

LONGEST = timedelta(hours=24)
CARRIED = ("mode", "band", "frequency_mhz", "power_w", "operator")


@dataclass(frozen=True, slots=True)
class Times:
    """What the plan states of its schedule; None for what it leaves out."""

    arrive: str | None
    on_air: Sequence[str] | None
    leave: str | None
    slots: Sequence[tuple[Subject, Mapping[str, Any]]]

    def row(self) -> list[Stated]:
        """The times that follow each other, as far as they are stated."""
        begin, end = self.on_air or (None, None)
        named: list[tuple[str, str | None, tuple[str | int, ...]]] = [
            ("the arrival", self.arrive, ("arrive",)),
            ("the start on the air", begin, ("on_air", 0)),
            ("the end on the air", end, ("on_air", 1)),
            ("the departure", self.leave, ("leave",)),
        ]
        return [Stated(what, text, ("schedule", *path)) for what, text, path in named if text]


def instants_of(times: Times, dial: Dial) -> dict[str, Any]:
    """The schedule as plain JSON.

    `start` and `end` are the first and the last instant of the outing; `arrive` and `leave` are None where the plan
    does not state them. `offsets` are minutes of local time less UTC.

    Raises:
        CannotTell: no time is stated.
        InputError: a time that does not exist, that comes twice, or that is out of order.

    """
    row = times.row() or [stated for slot in times.slots for stated in _ends(slot)][:1]
    if not row:
        raise CannotTell("the schedule states no time of day", "schedule.arrive", "not stated", "trip")
    _refuse_no_length(times, dial)
    found = dict(zip((stated.path[1:] for stated in row), dial.row(row), strict=True))
    _refuse_order(row, list(found.values()), dial)
    slots = list(_slots(times, dial, min(found.values()), found))
    _refuse_overlap(times, slots, dial)
    return _json(found, slots, dial)


def _refuse_no_length(times: Times, dial: Dial) -> None:
    if times.on_air and times.on_air[0] == times.on_air[1]:
        stated = Stated("the end on the air", times.on_air[1], ("schedule", "on_air", 1))
        what = f"the time on the air begins and ends at {stated.text}"
        dial.refuse(stated, what, "Write two times, the start first; an end after midnight is fine.")


def _refuse_order(row: Sequence[Stated], found: Sequence[datetime], dial: Dial) -> None:
    if found[-1] - found[0] < LONGEST:
        return
    index = max(range(1, len(row)), key=lambda place: found[place] - found[place - 1])
    late, early = row[index], row[index - 1]
    what = f"{late.what}, {late.text}, lies before {early.what}, {early.text}"
    advice = (
        "The times are arrive, on_air from and to, leave, in that order; over midnight they run on, but the whole must "
        "be shorter than 24 h."
    )
    dial.refuse(late, what, advice)


def _ends(slot: tuple[Subject, Mapping[str, Any]]) -> list[Stated]:
    subject, states = slot
    path = subject.origin.path if subject.origin else ("schedule", "slots")
    named = (("from", states["from"]), ("to", states["to"]))
    return [Stated(f"slot {subject.label}", text, (*path, key)) for key, text in named if text]


def _slots(
    times: Times, dial: Dial, start: datetime, found: Mapping[tuple[Any, ...], datetime]
) -> Iterator[dict[str, Any]]:
    end = found.get(("leave",)) or found.get(("on_air", 1))
    for slot in times.slots:
        ends = _ends(slot)
        span = [found.get(("on_air", 0)), found.get(("on_air", 1))] if not ends and len(times.slots) == 1 else []
        if len(ends) == 2:
            begins = dial.next(ends[0], start)
            span = [begins, dial.next(ends[1], begins)]
            _refuse_no_slot(ends, span, dial)
            _refuse_outside(ends, span, end, dial)
        if len(span) == 2 and span[0] and span[1]:
            carried = {key: slot[1].get(key) for key in CARRIED}
            yield {"name": slot[0].label, "from": iso(span[0]), "to": iso(span[1]), **carried}


def _refuse_no_slot(ends: Sequence[Stated], span: Sequence[datetime | None], dial: Dial) -> None:
    if span[0] == span[1]:
        dial.refuse(ends[1], f"{ends[1].what} begins and ends at {ends[1].text}", "Write two times.")


def _refuse_overlap(times: Times, slots: Sequence[Mapping[str, Any]], dial: Dial) -> None:
    """Nobody is at two slots at once."""
    places = {subject.label: subject.origin for subject, _ in times.slots}
    for one, other in combinations(slots, 2):
        apart = one["to"] <= other["from"] or other["to"] <= one["from"]
        first, second = places[one["name"]], places[other["name"]]
        if apart or one["operator"] != other["operator"] or first is None or second is None:
            continue
        who = f"operator {other['operator']}" if other["operator"] else "nobody named"
        what = f"slots {one['name']} and {other['name']} overlap, and {who} is at both"
        advice = f"Mend their times, or name the operator of each; the other is at {first.place()}."
        dial.refuse(Stated(f"slot {other['name']}", "", (*second.path, "from")), what, advice)


def _refuse_outside(ends: Sequence[Stated], span: Sequence[Any], end: datetime | None, dial: Dial) -> None:
    if end is None or span[1] <= end:
        return
    late = ends[0] if span[0] >= end else ends[1]
    what = f"{late.what}, {ends[0].text} to {ends[1].text}, reaches beyond the outing"
    last = end.astimezone(dial.zone)
    dial.refuse(late, what, f"The outing ends at {last:%H:%M}: mend the slot, or the times of the outing.")


def _json(found: Mapping[tuple[Any, ...], datetime], slots: list[dict[str, Any]], dial: Dial) -> dict[str, Any]:
    on_air = [[iso(found["on_air", 0]), iso(found["on_air", 1])]] if ("on_air", 1) in found else _joined(slots)
    ends = [*(iso(instant) for instant in found.values()), *(end for span in on_air for end in span)]
    start, end = min(ends), max(ends)
    instants = {key: datetime.fromisoformat(text) for key, text in (("start", start), ("end", end))}
    return {
        "zone": dial.zone.key,
        "tzdata": zone_data_version(),
        "start": start,
        "end": end,
        "arrive": _text(found.get(("arrive",))),
        "leave": _text(found.get(("leave",))),
        "on_air": on_air,
        "slots": slots,
        "offsets": {key: offset_min(instant.astimezone(dial.zone)) for key, instant in instants.items()},
        "clock_changes": [
            {"at": iso(change.at), "by_min": change.by_min}
            for change in clock_changes(dial.zone, instants["start"], instants["end"])
        ],
    }


def _text(instant: datetime | None) -> str | None:
    return iso(instant) if instant else None


def _joined(slots: Sequence[Mapping[str, Any]]) -> list[list[str]]:
    """The times of the slots, those that touch or overlap as one."""
    joined: list[list[str]] = []
    for start, end in sorted((slot["from"], slot["to"]) for slot in slots):
        if joined and start <= joined[-1][1]:
            joined[-1][1] = max(joined[-1][1], end)
        else:
            joined.append([start, end])
    return joined
