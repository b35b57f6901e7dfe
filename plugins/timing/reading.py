"""The schedule read, once, from the facts or from the plan: as instants, refused where it contradicts itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import date
from typing import Any

from afield.core.api import CannotTell, Document, Origin, Subject, amount_in
from afield.plugins.timing.computations.zone_files import zone_of
from afield.plugins.timing.contradictions import Stay, refuse_contradictions
from afield.plugins.timing.dial import Dial
from afield.plugins.timing.instants import instants_of
from afield.plugins.timing.stages import Durations
from afield.plugins.timing.times import StatedSlot, Times


def read_schedule(times: Times, durations: Durations, turn_back: str | None, dial: Dial) -> dict[str, Any]:
    """The schedule as plain JSON (`instants.instants_of`).

    Raises:
        CannotTell: no time is stated.
        InputError: a time that cannot be, or stated times that cannot all be kept.

    """
    found = instants_of(times, dial)
    refuse_contradictions(Stay(found, durations, turn_back, times.row()[0].utc), dial)
    return found


def refuse_wrong_plan(plan: Document) -> None:
    """Refuse a plan whose schedule contradicts itself, whatever its rules ask; only where the plan states its zone.

    To find the zone from the position takes libraries that a plan without rules on time should not wait for.

    Raises:
        InputError: as `read_schedule`.

    """
    schedule, travel = (plan.value((key,)) or {} for key in ("schedule", "travel"))
    dial = Dial(zone_of(schedule["zone"]), date.fromisoformat(plan.data["date"]), schedule.get("repeated_hour"), plan)
    slots = list(_slots(plan, schedule))
    times = Times(schedule.get("arrive"), schedule.get("on_air"), schedule.get("leave"), slots)
    lengths = (_minutes(schedule, "set_up"), _minutes(schedule, "pack_up"), _minutes(travel, "walk"), None)
    with suppress(CannotTell):
        read_schedule(times, Durations(*lengths), travel.get("turn_back"), dial)


def _slots(plan: Document, schedule: Mapping[str, Any]) -> Iterator[StatedSlot]:
    for index, slot in enumerate(schedule.get("slots") or []):
        origin = Origin(plan, ("schedule", "slots", index), plan.folder)
        states = {key: slot.get(key) for key in ("from", "to", "operator")}
        yield Subject(f"slot:{index}", "slot", str(slot["name"]), origin=origin), states


def _minutes(section: Mapping[str, Any], key: str) -> float | None:
    return amount_in(str(section[key]), "min") if key in section else None
