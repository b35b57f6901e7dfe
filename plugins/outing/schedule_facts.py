"""Facts of the schedule: what each slot states, and the timeline that other plugins read."""

from __future__ import annotations

from typing import Any

from afield.core.api import Estimate, Fact, Origin, Subject, _, fact, marked
from afield.plugins.outing.fragments import SHARE_AROUND_PERCENT
from afield.plugins.outing.whole_slot import is_whole

MERGED = marked("A slot without its own mode, band, frequency, power or transmit share has the schedule's.")

PAUSES = marked(
    "The plan states no `on_air`: the time on the air is from the first slot's start to the last one's end."
)


def _share(percent: float | None) -> dict[str, float | None]:
    around = None if percent is None else SHARE_AROUND_PERCENT / 100
    return {"transmit_share": None if percent is None else percent / 100, "transmit_share_around": around}


@fact(
    "slot.stated", kind="slot", type="opaque", title="what the slot states", owns_uncertainty=True,
    optional=[
        "slot_start", "slot_end", "slot_mode", "slot_band", "slot_frequency", "slot_power", "slot_transmit_share",
        "slot_operator",
    ],
)  # fmt: skip
def slot_stated(
    slot_start: str | None, slot_end: str | None, slot_mode: str | None, slot_band: str | None,
    slot_frequency: float | None, slot_power: float | None, slot_transmit_share: float | None,
    slot_operator: str | None,
) -> dict[str, Any]:  # fmt: skip
    """Times, mode, band, frequency, power, transmit share and operator; None for what it does not state."""
    return {
        "from": slot_start, "to": slot_end, "mode": slot_mode, "band": slot_band, "frequency_mhz": slot_frequency,
        "power_w": slot_power, **_share(slot_transmit_share), "operator": slot_operator,
    }  # fmt: skip


@fact(
    "schedule.timeline", kind="trip", type="opaque", title="schedule of the outing", owns_uncertainty=True,
    each={"slots": ("slot", "slot.stated")},
    optional=[
        "schedule_arrive", "schedule_on_air", "schedule_leave", "schedule_mode", "schedule_band", "schedule_frequency",
        "schedule_power", "schedule_transmit_share",
    ],
)  # fmt: skip
def schedule_timeline(
    subject: Subject, schedule_arrive: str | None, schedule_on_air: list[str] | None, schedule_leave: str | None,
    schedule_mode: str | None, schedule_band: str | None, schedule_frequency: float | None,
    schedule_power: float | None, schedule_transmit_share: float | None, slots: list[tuple[Subject, dict[str, Any]]],
) -> Estimate:  # fmt: skip
    """Arrival, time on the air, slots and departure in hours after the arrival."""
    from afield.plugins.outing.clocks import clock_of
    from afield.plugins.outing.schedule import timeline
    from afield.plugins.outing.schedule_written import Schedule

    assert subject.origin is not None
    states = {
        "mode": schedule_mode, "band": schedule_band, "frequency_mhz": schedule_frequency, "power_w": schedule_power,
        **_share(schedule_transmit_share),
    }  # fmt: skip
    on_air = (clock_of(schedule_on_air[0]), clock_of(schedule_on_air[1])) if schedule_on_air else None
    arrive, leave = (clock_of(text) if text else None for text in (schedule_arrive, schedule_leave))
    origin = Origin(subject.origin.document, (*subject.origin.path, "schedule"))
    stated = [_slot(slot, states) for slot, states in slots if not is_whole(slot)]
    found = timeline(Schedule(arrive, on_air, leave, states, stated, origin))
    notes = ((_(MERGED),) if stated else ()) + ((_(PAUSES),) if on_air is None else ())
    return Estimate(found, method=_("each time is the next after the one before it"), notes=notes)


def _slot(subject: Subject, states: dict[str, Any]) -> Any:
    from afield.plugins.outing.clocks import clock_of
    from afield.plugins.outing.schedule_written import Slot

    times = [clock_of(states[key]) if states[key] else None for key in ("from", "to")]
    assert subject.origin is not None
    return Slot(subject.label, times[0], times[1], states, subject.origin)


FACTS: list[Fact] = [slot_stated, schedule_timeline]
