"""Modes of operating, and what the radio needs of the kit for them: a key, a microphone or a computer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

MORSE, VOICE, DATA = "Morse", "voice", "data"

FAMILIES: dict[str, str] = {
    **dict.fromkeys(("CW", "MORSE"), MORSE),
    **dict.fromkeys(("SSB", "USB", "LSB", "PHONE", "VOICE", "AM", "FM", "NFM", "DIGITAL VOICE"), VOICE),
    **dict.fromkeys(("DATA", "DIGITAL", "RTTY", "PSK", "PSK31", "PSK63", "MFSK", "OLIVIA", "PACKET", "SSTV"), DATA),
    **dict.fromkeys(("FT8", "FT4", "JT65", "JT9", "WSPR", "JS8"), DATA),
}
"""Mode as a plan writes it, in capitals -> what it needs."""


def family_of(mode: str) -> str | None:
    """What a mode needs, as a plan writes it, whatever its capitals; None for one that is not known."""
    return FAMILIES.get(mode.strip().upper())


def planned_families(plan: Mapping[str, Any]) -> frozenset[str]:
    """What the modes need that a plan states for the outing and its slots, as far as they are known."""
    schedule = plan.get("schedule", {})
    written = [schedule.get("mode"), *(slot.get("mode") for slot in schedule.get("slots", ()))]
    return frozenset(family for mode in written if mode is not None and (family := family_of(mode)) is not None)
