"""The plan's schedule as instants: arrival, time on the air, slots and departure in UTC, whatever the clocks do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import combinations
from typing import Any

from afield.core.api import CannotTell, _
from afield.plugins.timing.changes import clock_changes
from afield.plugins.timing.computations.zone_files import iso, offset_min, zone_data_version
from afield.plugins.timing.dial import Dial, Stated
from afield.plugins.timing.slot_faults import Frame, Written, fault_of
from afield.plugins.timing.times import StatedSlot, Times, ends_of

LONGEST = timedelta(hours=24)
Found = Mapping[tuple[Any, ...], datetime]
"""The instant of each time, by its path inside the schedule."""
CARRIED = ("mode", "band", "frequency_mhz", "power_w", "operator")


def instants_of(times: Times, dial: Dial) -> dict[str, Any]:
    """The schedule as plain JSON.

    `start` and `end` are the first and the last instant of the outing; `arrive` and `leave` are None where the plan
    does not state them. `offsets` are minutes of local time less UTC. Without a stated time on the air, `on_air` holds
    the times of the slots: from the first one's start to the last one's end, with the pauses between them left out.

    Raises:
        CannotTell: no time is stated.
        InputError: a time that does not exist, that comes twice, or that is out of order.

    """
    row = times.row()
    if not row:
        raise CannotTell(_("the schedule states no time of day"), "schedule.arrive", "not stated", "trip")
    _refuse_no_length(times, dial)
    found = dict(zip((stated.path[1:] for stated in row), dial.row(row), strict=True))
    _refuse_order(row, list(found.values()), dial)
    slots = list(_slots(times, dial, row[0], found))
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


def _slots(times: Times, dial: Dial, first: Stated, found: Found) -> Iterator[dict[str, Any]]:
    frame = _frame(times, first, found)
    for slot in times.slots:
        span = _span(slot, min(found.values()), frame, dial) or _whole(times, slot, found)
        if span:
            carried = {key: slot[1].get(key) for key in CARRIED}
            yield {"name": slot[0].label, "from": iso(span[0]), "to": iso(span[1]), **carried}


def _span(slot: StatedSlot, start: datetime, frame: Frame, dial: Dial) -> tuple[datetime, datetime] | None:
    ends = ends_of(slot)
    if len(ends) < 2:
        return None
    begins = dial.next(ends[0], start)
    until = dial.next(ends[1], begins)
    lasting = minutes_between(begins, until)
    written = Written(slot[0].label, ends[0].text, ends[1].text, minutes_between(start, begins), lasting)
    fault = fault_of(written, frame)
    if fault:
        dial.refuse(ends[("from", "to").index(fault.key)], fault.what, fault.advice)
    return begins, until


def _whole(times: Times, slot: StatedSlot, found: Found) -> tuple[datetime, datetime] | None:
    """A slot without times is the whole time on the air, if it is the only one."""
    alone = times.on_air and len(times.slots) == 1 and not ends_of(slot)
    return (found["on_air", 0], found["on_air", 1]) if alone else None


def _frame(times: Times, first: Stated, found: Found) -> Frame:
    after = {path: minutes_between(min(found.values()), at) for path, at in found.items()}
    return Frame(
        first=f"{first.what}, {first.text}", from_arrival=times.arrive is not None,
        on_air=(after["on_air", 0], after["on_air", 1]) if times.on_air else None,
        on_air_words=" to ".join(times.on_air or ()), leave=after.get(("leave",)), leave_text=times.leave or "",
    )  # fmt: skip


def minutes_between(start: datetime, end: datetime) -> float:
    """Minutes from one instant to another."""
    return (end - start).total_seconds() / 60


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


def _json(found: Found, slots: list[dict[str, Any]], dial: Dial) -> dict[str, Any]:
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
