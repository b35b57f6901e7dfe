"""Facts of the station's power: what comes out, what is lost on the way, what the antenna gets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import Estimate, Fact, Subject, _, fact, local_digits, marked
from afield.plugins.radio.ground_facts import FACTS as GROUNDS
from afield.plugins.radio.ground_facts import known_rows

Rows = Sequence[Mapping[str, Any]]

LISTED = {
    "at": "the frequency of which it is said", "line": "dB lost in lines", "tuner": "dB lost in a tuner",
    "standing_wave": "dB more by a standing wave", "fittings": "dB lost in adapters and the like",
    "mismatch": "dB not delivered", "loss": "dB lost in all", "rows": "the same for every planned frequency",
    "parts_db": "what each origin of error makes of it, dB", "grounds": "the figure behind each origin, and its error",
}  # fmt: skip
LOST = {
    "line_db": marked("in lines"), "standing_wave_db": marked("by the standing wave"),
    "fittings_db": marked("in adapters and the like"), "tuner_db": marked("in the tuner"),
    "mismatch_db": marked("by mismatch"),
}  # fmt: skip
"""Part of the loss -> where it is lost, in words."""


@fact(
    "radio.uses", kind="trip", type="opaque", title="planned frequencies, powers and modes", owns_uncertainty=True,
    each={"slots": ("slot", "slot.stated")}, encode=lambda uses: {"uses": uses},
    optional=["schedule_mode", "schedule_band", "schedule_frequency", "schedule_power", "schedule_transmit_share"],
)  # fmt: skip
def radio_uses(
    schedule_mode: str | None, schedule_band: str | None, schedule_frequency: float | None,
    schedule_power: float | None, schedule_transmit_share: float | None,
    slots: Sequence[tuple[Subject, Mapping[str, Any]]],
) -> list[dict[str, Any]]:  # fmt: skip
    """What each slot states, else the schedule; its times are of no matter here."""
    from afield.plugins.radio.planned import merged

    share = None if schedule_transmit_share is None else schedule_transmit_share / 100
    common = {"mode": schedule_mode, "band": schedule_band, "frequency_mhz": schedule_frequency,
              "power_w": schedule_power, "transmit_share": share}  # fmt: skip
    return merged(common, [stated for _, stated in slots])


@fact(
    "radio.power_table", kind="trip", type="opaque", title="power at the antenna by frequency",
    encode=lambda rows: {"rows": rows},
)  # fmt: skip
def radio_power_table(
    kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any], radio_uses: Sequence[Mapping[str, Any]]
) -> list[dict[str, Any]]:
    """A row for each planned frequency: powers in W, losses in dB, what they rest on, or why they cannot be told."""
    from afield.plugins.radio.table import power_table

    return power_table(kit_ways, kit_things, radio_uses)


@fact(
    "radio.power_at_antenna", kind="trip", unit="W", title="power at the antenna", owns_uncertainty=True, least=0.0,
    detail=LISTED,
)  # fmt: skip
def radio_power_at_antenna(
    radio_power_table: Rows, radio_weakest: Mapping[str, Any], radio_output_figures: Any, radio_amplifier_figures: Any,
    radio_line_figures: Any, radio_fitting_figures: Any, radio_antenna_figures: Any, radio_mismatch_figures: Any,
    radio_frequency_figures: Any,
) -> Estimate:  # fmt: skip
    """The least over the planned frequencies, W: the last output less all that is lost on the way.

    The groups of figures are among its inputs so that its errors enter by them.
    """
    from afield.plugins.radio.figures import combined

    row, watts = radio_weakest, float(radio_weakest["watts"])
    parts, around_db = row["level_parts_db"], combined(row["level_parts_db"])
    up = watts * (10 ** (around_db / 10) - 1)
    # Decibels reach further up than down in watts; the parts are those of the wider side.
    told = {origin: up * part / around_db for origin, part in parts.items()}
    low = watts * 10 ** (-around_db / 10)
    return Estimate(watts, low, watts + up, told, _detail(row, radio_power_table, parts), _method(row), _notes(row))


@fact(
    "radio.loss_to_antenna", kind="trip", unit="dB", title="loss between output and antenna", owns_uncertainty=True,
    detail=LISTED,
)  # fmt: skip
def radio_loss_to_antenna(radio_power_table: Rows) -> Estimate:
    """The greatest over the planned frequencies, dB: lines, standing wave, fittings, tuner and mismatch."""
    row = max(known_rows(radio_power_table), key=lambda one: float(one["loss_db"]))
    parts = row["loss_parts_db"]
    detail = _detail(row, radio_power_table, parts)
    return Estimate(float(row["loss_db"]), parts=parts, detail=detail, method=_method(row), notes=_notes(row))


@fact(
    "radio.transmitter_output", kind="trip", unit="W", title="output of the radio", owns_uncertainty=True, least=0.0,
    detail={"radio": "which radio"},
)  # fmt: skip
def radio_transmitter_output(
    kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any], radio_uses: Sequence[Mapping[str, Any]]
) -> Estimate:
    """What the radio itself puts out, W; the least of what is planned."""
    from afield.plugins.radio.transmitting import least_output

    return least_output(kit_ways, kit_things, radio_uses)


def _detail(row: Mapping[str, Any], rows: Sequence[Mapping[str, Any]], parts: Mapping[str, float]) -> dict[str, Any]:
    named = ("line", "standing_wave", "fittings", "tuner", "mismatch", "loss")
    listed = [{"at": one["frequency"], "loss_db": one["loss_db"], "watts": one["watts"]} for one in rows]
    figures = {name: round(float(row[f"{name}_db"]), 2) for name in named}
    return {"at": row["frequency"], **figures, "rows": listed, "parts_db": dict(parts), "grounds": row["grounds"]}


def _method(row: Mapping[str, Any]) -> str:
    """The way in words, with what is lost where."""
    lost = ", ".join(local_digits(f"{row[key]:.2f} dB ") + _(where) for key, where in LOST.items() if row[key] > 0)
    words = _("{at}: {way}: {output} less {lost} to {antenna}") if lost else _("{at}: {way}: {output} to {antenna}")
    way = ", ".join([row["radio"], *row["amplifiers"]])
    return words.format(at=row["frequency"], way=way, output=_output(row), lost=lost, antenna=row["antenna"])


def _output(row: Mapping[str, Any]) -> str:
    watts = local_digits(f"{row['output_w']:.3g} W")
    if not row["set_by"]:
        return watts
    return _("{power} (set by the {what})").format(power=watts, what=row["set_by"])


def _notes(row: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(row["notes"])


FACTS: list[Fact] = [
    radio_uses, radio_power_table, *GROUNDS, radio_power_at_antenna, radio_loss_to_antenna, radio_transmitter_output,
]  # fmt: skip
