"""The stages of an outing in a row: there, set up, on the air, pack up, and home."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any

from afield.core.api import frozen
from afield.plugins.timing.computations.zone_files import iso


@frozen
class Durations:
    """Minutes; None for what the plan does not state."""

    set_up: float | None
    pack_up: float | None
    walk: float | None
    drive: float | None


def stages_of(instants: Mapping[str, Any], durations: Durations) -> list[dict[str, Any]]:
    """Each stage that the plan describes: kind, name, from and to."""
    found = [*_out(instants, durations), *_on_air(instants), *_home(instants, durations)]
    return sorted(found, key=lambda stage: stage["from"])


def _stage(kind: str, name: str, start: datetime, end: datetime) -> dict[str, Any]:
    return {"kind": kind, "name": name, "from": iso(start), "to": iso(end)}


def _out(instants: Mapping[str, Any], durations: Durations) -> Iterator[dict[str, Any]]:
    if instants["arrive"] is None:
        return
    arrive = datetime.fromisoformat(instants["arrive"])
    start = arrive
    for kind, length in (("walk", durations.walk), ("drive", durations.drive)):
        if length:
            yield _stage(kind, f"{kind} out", start - timedelta(minutes=length), start)
            start -= timedelta(minutes=length)
    if durations.set_up:
        yield _stage("set up", "set up", arrive, arrive + timedelta(minutes=durations.set_up))


def _on_air(instants: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    if instants["slots"]:
        for slot in instants["slots"]:
            yield {"kind": "on air", "name": slot["name"], "from": slot["from"], "to": slot["to"]}
        return
    for start, end in instants["on_air"]:
        yield {"kind": "on air", "name": "on the air", "from": start, "to": end}


def departure_of(instants: Mapping[str, Any], pack_up: float | None) -> datetime | None:
    """When the place is left: as stated, else once all is packed up; None if neither is known."""
    if instants["leave"]:
        return datetime.fromisoformat(instants["leave"])
    end = pack_up_of(instants, pack_up)
    return end[1] if end else None


def pack_up_of(instants: Mapping[str, Any], pack_up: float | None) -> tuple[datetime, datetime] | None:
    """Packing up, from the end on the air; None if its time or that end is not stated."""
    if not instants["on_air"] or pack_up is None:
        return None
    start = datetime.fromisoformat(instants["on_air"][-1][1])
    return start, start + timedelta(minutes=pack_up)


def _home(instants: Mapping[str, Any], durations: Durations) -> Iterator[dict[str, Any]]:
    packing = pack_up_of(instants, durations.pack_up)
    if packing and durations.pack_up:
        yield _stage("pack up", "pack up", *packing)
    start = departure_of(instants, durations.pack_up)
    for kind, length in (("walk", durations.walk), ("drive", durations.drive)):
        if start and length:
            end = start + timedelta(minutes=length)
            yield _stage(kind, f"{kind} back", start, end)
            start = end
