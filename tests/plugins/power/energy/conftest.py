"""Kits by hand with a timeline, and what the balances of their batteries say."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.plugins.power.energy.balances import balances_of
from afield.plugins.power.energy.sun import Place

Json = dict[str, Any]

RADIO_LOADS = [
    {"state": "receive", "amperes": "0.5 A"},
    {"state": "transmit", "at": "5 W", "amperes": "1.5 A"},
    {"state": "transmit", "at": "10 W", "amperes": "2.5 A"},
]


def slot(**more: Any) -> Json:
    """A slot of the timeline."""
    return {
        "name": "on air", "from_h": 1.0, "to_h": 5.0, "mode": "CW", "band": "20m", "frequency_mhz": None,
        "power_w": 10.0, "transmit_share": None, "transmit_share_around": None, "operator": None, **more,
    }  # fmt: skip


def timeline(*slots: Json, leave_h: float = 6.0, arrive: str = "14:00") -> Json:
    """A timeline; on the air from 1 to 5 h after arrival."""
    return {
        "arrive_h": 0.0, "leave_h": leave_h, "clock": {"arrive": arrive, "leave": "20:00"}, "on_air": [[1.0, 5.0]],
        "slots": list(slots or [slot()]),
    }  # fmt: skip


class Energy:
    """A kit made by hand: a radio on a battery unless it is changed."""

    def __init__(self, hand_made: Any) -> None:
        self.kit = hand_made()
        self.battery()
        self.kit.thing("radio", "radio", loads=RADIO_LOADS, transmitter={"power": ["0.5 W", "10 W"]})
        self.kit.way("battery.out", "radio.dc", "lead.a.b")

    def battery(self, **more: Any) -> Energy:
        """Change the battery: 10 Ah of 12 V, all usable, no Peukert's law, full."""
        plain = {
            "chemistry": "lithium iron phosphate", "capacity": "10 Ah", "nominal": "12 V", "usable": "100 %",
            "peukert": 1, "charged": "100 %", "rated_hours": "20 h", **more,
        }  # fmt: skip
        self.kit.thing("battery", "battery", battery=plain)
        return self

    def balances(self, line: Mapping[str, Any] | None = None, **place: Any) -> dict[str, Json]:
        """The balance of each battery."""
        line = line or timeline()
        where = {"at": None, "date": "2026-06-27", "arrive": line["clock"]["arrive"], "air_c": None, **place}
        return balances_of(self.kit.ways, self.kit.things, line, Place(**where))

    def balance(self, line: Mapping[str, Any] | None = None, key: str = "battery", **place: Any) -> Json:
        """The balance of one battery."""
        found = self.balances(line, **place)[key]
        assert "cannot" not in found, found
        return found

    def silence(self, line: Mapping[str, Any] | None = None, **place: Any) -> tuple[str, str | None, str]:
        """Why the battery's balance cannot be told, what would settle it, and of which subject."""
        why = self.balances(line, **place)["battery"]["cannot"]
        return why["text"], why["settle"], why["subject"]


@pytest.fixture
def energy(hand_made: Any) -> Energy:
    return Energy(hand_made)


@pytest.fixture
def slot_of() -> Any:
    return slot


@pytest.fixture
def timeline_of() -> Any:
    return timeline


def value(balance: Mapping[str, Any], name: str) -> float:
    """One of the answers."""
    answer = balance["answers"][name]
    if "why" in answer:
        raise CannotTell(answer["why"])
    return float(answer["value"])


@pytest.fixture
def answer() -> Any:
    return value
