"""The section of the briefing on the antenna's length, band by band, and the ground in front of it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

from afield.core.api import Section, printed

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]
FOOT_M = 0.3048
WANTS = (
    "part.role",
    "part.wire_length",
    "part.wave_fits",
    "part.low_angle_gain",
    "station.ground",
    "ground.conductivity",
)


def wire_section() -> Section:
    """The section."""
    text = files("afield.schemas").joinpath("sections", "antenna.json").read_text("utf-8")
    schema: dict[str, Any] = json.loads(text)
    return Section(
        name="antenna", title="Antenna for the band", order=137, wants=WANTS, data=wire_data, schema=schema,
        template="antenna.html", package="afield.plugins.radio", text=wire_text,
    )  # fmt: skip


def wire_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/antenna.json); None where no antenna can be laid against a band."""
    roles = facts["part.role"]
    parts = [part for part, record in roles.items() if record["reason"] is None and record["value"] == "antenna"]
    antennas = [_antenna(facts, part) for part in parts if _known(facts, "part.wave_fits", part)]
    if not antennas:
        return None
    notes = [note for part in parts for name in WANTS[1:4] for note in _notes(facts, name, part)]
    ground = _notes(facts, "ground.conductivity", "trip")
    return {"antennas": antennas, "notes": list(dict.fromkeys([*notes, *ground]))}


def _known(facts: Facts, fact: str, subject: str) -> Mapping[str, Any] | None:
    record = facts[fact].get(subject)
    return record if record is not None and record["reason"] is None else None


def _notes(facts: Facts, fact: str, subject: str) -> list[str]:
    record = _known(facts, fact, subject)
    return list(record.get("notes") or ()) if record else []


def _antenna(facts: Facts, part: str) -> dict[str, Any]:
    length, fits = facts["part.wire_length"][part], facts["part.wave_fits"][part]["value"]
    around = length["uncertainty"] or 0.0
    return {
        "name": part.removeprefix("part:"),
        "length": printed(length["value"], around, "m"),
        "rows": [_row(fit) for fit in fits],
        "ground": _ground(facts, part),
    }


def _row(fit: Mapping[str, Any]) -> dict[str, str]:
    return {
        "band": str(fit["band"]), "half": _both(fit["half_m"]), "quarter": _both(fit["quarter_m"]), "fit": _fit(fit),
    }  # fmt: skip


def _both(length_m: float) -> str:
    return f"{length_m:.2f} m ({length_m / FOOT_M:.1f} ft)"


def _fit(fit: Mapping[str, Any]) -> str:
    """How the wire compares: "a half wave", "a half wave, 4 % too long"."""
    off = fit["off_percent"]
    if abs(off) < 0.05:
        return str(fit["words"])
    way = "too long" if off > 0 else "too short"
    return f"{fit['words']}, {abs(off):.0f} % {way}" if abs(off) >= 1 else f"{fit['words']}, {abs(off):.1f} % {way}"


def _ground(facts: Facts, part: str) -> str | None:
    gain, ground = _known(facts, "part.low_angle_gain", part), _known(facts, "station.ground", "trip")
    if gain is None or ground is None:
        return None
    detail = gain["detail"]
    decibels = [f"{gain[key]:+.1f}" for key in ("value", "low", "high")]
    sea, average = (f"{float(detail[key]):+.1f} dB" for key in ("over_sea", "over_average"))
    return (
        f"Over {ground['value']}, {detail['wave']} waves, {detail['frequency']} MHz: {decibels[0]} dB by the ground at "
        f"10 degrees ({decibels[1]} to {decibels[2]}). Over the sea it would be {sea}, over average ground {average}."
    )


def wire_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    return "\n".join([*(line for antenna in data["antennas"] for line in _lines(antenna)), *data["notes"]])


def _lines(antenna: Mapping[str, Any]) -> Iterator[str]:
    yield f"{antenna['name']}, {antenna['length']}"
    for row in antenna["rows"]:
        yield f"  {row['band']}: half wave {row['half']}, quarter wave {row['quarter']}; it is nearest to {row['fit']}"
    if antenna["ground"]:
        yield f"  {antenna['ground']}"
