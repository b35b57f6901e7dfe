"""The power at the antenna as JSON for the briefing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import reduce
from typing import Any

from afield.core.api import _, local_digits, marked, printed
from afield.plugins.radio.figures import combined

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]
Json = dict[str, Any]
WANTS = ("radio.power_table",)
PARTS = {
    "line_db": marked("in lines"), "standing_wave_db": marked("by the standing wave on them"),
    "fittings_db": marked("in leads and adapters"), "tuner_db": marked("in the tuner"),
    "mismatch_db": marked("not delivered into the mismatch"),
}  # fmt: skip
LEAST_DB = 0.005
"""A part below this would be printed as 0.00 dB."""


def power_data(facts: Facts) -> Json | None:
    """The JSON of the section (schemas/sections/radio-power.json); None where no way leads to an antenna."""
    record = facts["radio.power_table"].get("trip")
    if record is None or record["reason"] is not None:
        return None
    table = record["value"]["rows"]
    notes = [note for row in table for note in row.get("notes", ())]
    return {"rows": [_row(row) for row in table], "notes": list(dict.fromkeys(notes))}


def _row(row: Mapping[str, Any]) -> Json:
    named = [row["radio"], *row["amplifiers"], *([row["tuner"]] if row["tuner"] else []), row["antenna"]]
    # A radio that tunes by itself is named once.
    shown = {"frequency": row["frequency"], "way": _way(dict.fromkeys(named))}
    if row["unknown"]:
        silent = dict.fromkeys(("output", "set_by", "loss", "at_antenna"))
        return {**shown, **silent, "parts": [], "unknown": row["unknown"]["text"]}
    return {
        **shown,
        "output": printed(row["output_w"], row["output_around_w"], "W"),
        "set_by": _("set by the {what}").format(what=row["set_by"]) if row["set_by"] else None,
        "parts": [_part(where, row[key]) for key, where in PARTS.items() if row[key] >= LEAST_DB],
        "loss": printed(row["loss_db"], combined(row["loss_parts_db"]), "dB"),
        "at_antenna": printed(row["watts"], _around_w(row), "W"),
        "unknown": None,
    }


def _way(names: Iterable[str]) -> str:
    """ "radio to amplifier to antenna"."""
    return reduce(lambda before, after: _("{before} to {after}").format(before=before, after=after), names)


def _part(where: str, loss_db: float) -> Json:
    return {"where": _(where), "db": local_digits(f"{loss_db:.2f} dB")}


def _around_w(row: Mapping[str, Any]) -> float:
    """The wider side in watts, as the fact has it."""
    return float(row["watts"] * (10 ** (combined(row["level_parts_db"]) / 10) - 1))
