"""What holds in each slot: its own, else the schedule's."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact, marked

SILENT = {
    "mode": marked("neither the slot nor the schedule states a mode"),
    "power": marked("neither the slot nor the schedule states a power"),
    "band": marked("neither the slot nor the schedule states a band"),
    "frequency": marked("neither the slot nor the schedule states a frequency"),
}


def _held(own: Any, common: Any, key: str) -> Estimate:
    found = common if own is None else own
    if found is None:
        raise CannotTell(_(SILENT[key]), f"schedule.{key}", "not stated", "trip")
    return Estimate(found, method=_("of the schedule") if own is None else _("of the slot"))


@fact(
    "slot.mode_used", kind="slot", type="text", title="mode of the slot", exact=True,
    optional=["slot_mode", "schedule_mode"],
)  # fmt: skip
def slot_mode_used(slot_mode: str | None, schedule_mode: str | None) -> Estimate:
    """The slot's mode, else the schedule's."""
    return _held(slot_mode, schedule_mode, "mode")


@fact(
    "slot.power_used", kind="slot", type="number", unit="W", title="transmitter power of the slot", exact=True,
    optional=["slot_power", "schedule_power"],
)  # fmt: skip
def slot_power_used(slot_power: float | None, schedule_power: float | None) -> Estimate:
    """The slot's transmitter power, else the schedule's."""
    return _held(slot_power, schedule_power, "power")


@fact(
    "slot.band_used", kind="slot", type="text", title="band of the slot", exact=True,
    optional=["slot_band", "slot_frequency", "schedule_band"],
)  # fmt: skip
def slot_band_used(slot_band: str | None, slot_frequency: float | None, schedule_band: str | None) -> Estimate:
    """The slot's band, else the schedule's; a slot with a frequency of its own has not the schedule's band."""
    return _held(slot_band, schedule_band if slot_frequency is None else None, "band")


@fact(
    "slot.frequency_used", kind="slot", type="number", unit="MHz", title="frequency of the slot", exact=True,
    optional=["slot_frequency", "slot_band", "schedule_frequency"],
)  # fmt: skip
def slot_frequency_used(
    slot_frequency: float | None, slot_band: str | None, schedule_frequency: float | None
) -> Estimate:
    """The slot's frequency, else the schedule's; a slot with a band of its own has not the schedule's frequency."""
    return _held(slot_frequency, schedule_frequency if slot_band is None else None, "frequency")


@fact(
    "slot.control_operator", kind="slot", type="text", title="control operator of the slot", exact=True,
    each={"operators": ("operator", "operator.class")}, optional=["slot_operator", "operators"],
)  # fmt: skip
def slot_control_operator(slot_operator: str | None, operators: list[tuple[Subject, Any]]) -> Estimate:
    """The operator that the slot names, else the plan's only one."""
    only = operators[0][0].label if len(operators) == 1 else None
    if slot_operator is None and only is None:
        text = _("neither the slot nor the plan says who operates")
        raise CannotTell(text, "schedule.slots[].operator", "not stated")
    method = _("of the slot") if slot_operator else _("the plan's only operator")
    return Estimate(slot_operator or only, method=method)


FACTS: list[Fact] = [
    slot_mode_used,
    slot_power_used,
    slot_band_used,
    slot_frequency_used,
    slot_control_operator,
]
