"""Small stations made by hand: items and the ways between them, as the plugin kit gives them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from afield.core.api import Subject

Way = dict[str, Any]
Items = dict[str, dict[str, Any]]


class Bench:
    """A station: its items, and what gives to what through what."""

    def __init__(self) -> None:
        self.items: Items = {}
        self.ways: list[Way] = []

    def item(self, key: str, class_: str | None, **data: Any) -> Bench:
        self.items[key] = {"name": key, "class": class_, "data": data}
        return self

    def way(self, start: str, end: str, *through: str, role: str = "RF", fits: bool | None = True) -> Bench:
        item, _, port = start.partition(".")
        steps = [{"item": name, "in": "a", "out": "b"} for name in through]
        ends = {"from": {"item": item, "port": port or "antenna"}, "to": {"item": end, "port": "in"}}
        self.ways.append({"role": role, **ends, "through": steps, "fits": fits, "inferred": False})
        return self

    def subject(self, key: str) -> Subject:
        return Subject(f"item:{key}", "item", key, {"trip": "trip"}, self.items[key]["data"])

    def table(self, *uses: dict[str, Any]) -> list[dict[str, Any]]:
        """The power table for these uses of the station."""
        from afield.plugins.radio.table import power_table

        return power_table(self.ways, self.items, uses)

    def row(self, **use: Any) -> dict[str, Any]:
        """The only row for one use."""
        (row,) = self.table(use)
        return row


def power_of(rows: list[dict[str, Any]]) -> Any:
    """The estimate of the fact `radio.power_at_antenna`."""
    from afield.plugins.radio.ground_facts import GROUPS, radio_weakest
    from afield.plugins.radio.power_facts import radio_power_at_antenna

    assert radio_weakest.function is not None
    assert radio_power_at_antenna.function is not None
    groups = dict.fromkeys((name.replace(".", "_") for name in GROUPS), None)
    weakest = radio_weakest.function(rows)
    return radio_power_at_antenna.function(radio_power_table=rows, radio_weakest=weakest, **groups)


def low_power(bench: Bench) -> Bench:
    """A radio of 5 W, 10 m of RG-58 and a wire for two bands."""
    return (
        bench.item("radio", "radio", transmitter={"power": ["0.5 W", "5 W"]})
        .item("coax", "feed line", line={"type": "RG-58", "length": "10 m"})
        .item("wire", "antenna", antenna={"bands": ["20m", "40m"], "swr": [{"band": "20m", "ratio": 1.6}]})
        .way("radio", "wire", "coax")
    )


def amplified(bench: Bench, **amplifier: Any) -> Bench:
    """The same with an amplifier of 13 dB and 100 W between radio and line."""
    figures = amplifier or {"gain": "13 dB", "output": "100 W"}
    made = low_power(bench).item("linear", "amplifier", amplifier=figures)
    made.ways.clear()
    return made.way("radio", "linear").way("linear.output", "wire", "coax")


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.fixture
def low(bench: Bench) -> Bench:
    return low_power(bench)


@pytest.fixture
def make_amplified() -> Callable[..., Bench]:
    """Makes the station with an amplifier of these figures."""
    return lambda **figures: amplified(Bench(), **figures)


KIT = """\
items:
  - {name: radio, is: hf-radio-10-w, transmitter: {power: [0.5 W, 10 W], overshoot: 8 W, keys_before: 20 ms}}
  - {name: feed line, is: coax-bnc-bnc-10-m, line: {type: RG-58, length: 10 m}}
  - {name: wire, is: linked-dipole, antenna: {bands: [20m, 40m], swr: [{band: 20m, ratio: 1.6}]}}
  - {name: battery, is: lithium-iron-battery-6-ah}
  - {name: power lead, is: dc-lead-coaxial}
  - pencil
"""
AMPLIFIER = """\
items:
  - name: linear
    is: hf-amplifier-100-w
    amplifier: {drive: [3 W, 6 W], most: 10 W, gain: 13 dB, output: 100 W, average: 50 W, averaging: 6 min,
      change_over: 15 ms, filters: [20m, 40m]}
  - {name: patch, is: patch-lead-bnc, line: {type: RG-58, length: 0.5 m}}
  - {name: keying lead, is: keying-lead-jack-rca}
  - {name: adapter, is: adapter-bnc-socket-to-uhf-plug, insertion_loss: 0.05 dB}
  - {name: big battery, is: lithium-iron-battery-20-ah}
"""
PLAN = """\
trip: A day out
date: 2026-06-27
packs: [gear]
kit: [kit.yaml]
schedule: {on_air: ["15:30", "20:30"], power: 5 W, mode: SSB, transmit_share: 30 %, band: 20m}
connections: [[radio.antenna, feed line.plug-a], [feed line.plug-b, wire.feed]]
variants:
  with-amplifier:
    kit: [kit.yaml, amplifier.yaml]
    connections:
      - [radio.antenna, patch.plug-a]
      - [patch.plug-b, linear.input]
      - [linear.output, adapter.uhf]
      - [adapter.bnc, feed line.plug-a]
      - [feed line.plug-b, wire.feed]
      - [radio.key-out, keying lead.jack]
      - [keying lead.rca, linear.key-in]
      - [big battery.terminals, linear.dc]
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A whole plan with a variant that has an amplifier; its packs and kit files beside it."""
    (tmp_path / "kit.yaml").write_text(KIT, encoding="utf-8")
    (tmp_path / "amplifier.yaml").write_text(AMPLIFIER, encoding="utf-8")
    path = tmp_path / "trip.yaml"
    path.write_text(PLAN, encoding="utf-8")
    return path
