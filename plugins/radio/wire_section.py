"""The section of the briefing on the antenna's length, band by band, and the ground in front of it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from importlib.resources import files
from typing import Any

from afield.core.api import Section, _, all_of, local_digits, printed, trimmed
from afield.plugins.radio.wire_words import (
    ELSEWHERE,
    FIT,
    GROUND,
    NO_GROUND,
    NO_TUNER,
    STATE,
    TOO_LONG,
    TOO_SHORT,
    TUNER,
    UNTOLD,
)

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]
FOOT_M = 0.3048
WANTS = (
    "part.role",
    "part.wire_length",
    "part.wave_fits",
    "radio.uses",
    "kit.things",
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
    """The JSON of the section (schemas/sections/antenna.json); None where no band or no antenna is planned."""
    roles = facts["part.role"]
    parts = [part for part, record in roles.items() if record["reason"] is None and record["value"] == "antenna"]
    if not parts or not _planned(facts):
        return None
    named = ("part.wire_length", "part.wave_fits", "part.low_angle_gain")
    notes = [note for part in parts for name in named for note in _notes(facts, name, part)]
    ground = _notes(facts, "ground.conductivity", "trip")
    return {
        "antennas": [_antenna(facts, part) for part in parts],
        "notes": list(dict.fromkeys([*notes, *ground])),
    }


def _planned(facts: Facts) -> bool:
    """Whether any band or frequency is planned."""
    uses = _known(facts, "radio.uses", "trip")
    return uses is not None and any(use["band"] or use["frequency_mhz"] for use in uses["value"]["uses"])


def _known(facts: Facts, fact: str, subject: str) -> Mapping[str, Any] | None:
    record = facts[fact].get(subject)
    return record if record is not None and record["reason"] is None else None


def _notes(facts: Facts, fact: str, subject: str) -> list[str]:
    record = _known(facts, fact, subject)
    return list(record.get("notes") or ()) if record else []


def _antenna(facts: Facts, part: str) -> dict[str, Any]:
    length, fits = _known(facts, "part.wire_length", part), _known(facts, "part.wave_fits", part)
    rows = fits["value"] if fits else []
    return {
        "name": part.removeprefix("part:"),
        "length": printed(length["value"], length["uncertainty"] or 0.0, "m") if length else None,
        "trouble": None if fits else _why(facts["part.wave_fits"].get(part)),
        "rows": [_row(fit) for fit in rows],
        "tuner": _tuner(facts, rows),
        "ground": _ground(facts, part),
    }


def _why(record: Mapping[str, Any] | None) -> str | None:
    if record is None:
        return None
    reason = record["reason"]
    return _(STATE if reason["settle"] else UNTOLD).format(reason=reason["text"], settle=reason["settle"])


def _row(fit: Mapping[str, Any]) -> dict[str, Any]:
    if fit["why"]:
        return {
            "band": str(fit["band"]), "half": None, "quarter": None, "fit": None,
            "remark": _(UNTOLD).format(reason=fit["why"]),
        }  # fmt: skip
    return {
        "band": str(fit["band"]), "half": _both(fit["half_m"]), "quarter": _both(fit["quarter_m"]), "fit": _fit(fit),
        "remark": _elsewhere(fit),
    }  # fmt: skip


def _both(length_m: float) -> str:
    return local_digits(f"{length_m:.2f} m ({length_m / FOOT_M:.1f} ft)")


def _fit(fit: Mapping[str, Any]) -> str:
    """How the wire compares: "a half wave", "a half wave, 4 % too short: add 3.08 m (10.1 ft) for 3.65 MHz"."""
    from afield.plugins.radio.wires import multiple_words

    off, multiple = abs(fit["off_percent"]), multiple_words(fit["quarters"])
    # Of less than a centimetre in ten metres nobody speaks.
    if off < 0.05:
        return multiple
    percent = f"{off:.0f}" if off >= 1 else local_digits(f"{off:.1f}")
    change, mhz = _both(abs(fit["change_m"])), trimmed(fit["middle_mhz"])
    words = _(TOO_LONG if fit["off_percent"] > 0 else TOO_SHORT)
    return words.format(multiple=multiple, percent=percent, change=change, mhz=mhz)


def _elsewhere(fit: Mapping[str, Any]) -> str | None:
    if fit["right_mhz"] is None or abs(fit["off_percent"]) < 0.05:
        return None
    low, high = (trimmed(edge) for edge in fit["shared_mhz"])
    return _(ELSEWHERE).format(right=f"{fit['right_mhz']:.3f}", low=low, high=high)


def _tuner(facts: Facts, rows: Sequence[Mapping[str, Any]]) -> str | None:
    """What is said of a tuner where the length is off on any band; nothing without a kit."""
    from afield.plugins.radio.things import things_of

    kit = _known(facts, "kit.things", "trip")
    if kit is None or not any(not row["why"] and abs(row["off_percent"]) >= 0.05 for row in rows):
        return None
    tuners = [thing.name for thing in things_of(kit["value"]["things"]).values() if thing.tunes and not thing.spare]
    return _(TUNER).format(names=all_of(tuners)) if tuners else _(NO_TUNER)


def _ground(facts: Facts, part: str) -> str | None:
    gain, ground = _known(facts, "part.low_angle_gain", part), _known(facts, "station.ground", "trip")
    if ground is None:
        return None
    if gain is None:
        untold = facts["part.low_angle_gain"].get(part)
        return _(NO_GROUND).format(reason=untold["reason"]["text"]) if untold else None
    return _(GROUND).format(ground=_(ground["value"]), **_ground_figures(gain))


def _ground_figures(gain: Mapping[str, Any]) -> dict[str, str]:
    """What the sentence on the ground tells of the gain at low angles."""
    detail = gain["detail"]
    decibels = {key: local_digits(f"{gain[key]:+.1f}") for key in ("value", "low", "high")}
    others = {key: local_digits(f"{float(detail[f'over_{key}']):+.1f} dB") for key in ("sea", "average")}
    return {**decibels, **others, "wave": _(detail["wave"]), "mhz": detail["frequency"]}


def wire_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    return "\n".join([*(line for antenna in data["antennas"] for line in _lines(antenna)), *data["notes"]])


def _lines(antenna: Mapping[str, Any]) -> Iterator[str]:
    yield f"{antenna['name']}, {antenna['length']}" if antenna["length"] else str(antenna["name"])
    if antenna["trouble"]:
        yield f"  {antenna['trouble']}"
    for row in antenna["rows"]:
        yield f"  {row['band']}: {' '.join(_told(row))}"
    yield from (f"  {antenna[key]}" for key in ("tuner", "ground") if antenna[key])


def _told(row: Mapping[str, Any]) -> Iterator[str]:
    if row["fit"]:
        yield _(FIT).format(half=row["half"], quarter=row["quarter"], fit=row["fit"])
    if row["remark"]:
        yield str(row["remark"])
