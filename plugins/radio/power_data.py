"""The power at the antenna as JSON for the briefing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import printed
from afield.plugins.radio.figures import combined

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]
Json = dict[str, Any]
WANTS = ("radio.power_table",)
PARTS = {
    "line_db": "in lines", "standing_wave_db": "by the standing wave on them", "fittings_db": "in leads and adapters",
    "tuner_db": "in the tuner", "mismatch_db": "not delivered into the mismatch",
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
    shown = {"frequency": row["frequency"], "way": " to ".join(dict.fromkeys(named))}
    if row["unknown"]:
        silent = dict.fromkeys(("output", "set_by", "loss", "at_antenna"))
        return {**shown, **silent, "parts": [], "unknown": row["unknown"]["text"]}
    parts = [{"where": where, "db": f"{row[key]:.2f} dB"} for key, where in PARTS.items() if row[key] >= LEAST_DB]
    return {
        **shown,
        "output": printed(row["output_w"], row["output_around_w"], "W"),
        "set_by": f"set by the {row['set_by']}" if row["set_by"] else None,
        "parts": parts,
        "loss": printed(row["loss_db"], combined(row["loss_parts_db"]), "dB"),
        "at_antenna": printed(row["watts"], _around_w(row), "W"),
        "unknown": None,
    }


def _around_w(row: Mapping[str, Any]) -> float:
    """The wider side in watts, as the fact has it."""
    return float(row["watts"] * (10 ** (combined(row["level_parts_db"]) / 10) - 1))
