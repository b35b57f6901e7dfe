"""Stations: kit files and a plan in a folder of their own, hand-made kits, and what the plugin says of them."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine, load
from afield.core.facts.measured import Measured

Json = dict[str, Any]


@lru_cache
def engine() -> Engine:
    return Engine()


class Station:
    """A plan with one kit file."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def facts(self, kit: str, more: str = "") -> Callable[[str, str], Measured]:
        """(item's key without its kind, or "trip"; fact) -> record of the World."""
        (self.folder / "kit.yaml").write_text(textwrap.dedent(kit), encoding="utf-8")
        plan = self.folder / "trip.yaml"
        head = "trip: A day out\ndate: 2026-06-27\npacks: [gear]\nkit: [kit.yaml]\n"
        plan.write_text(head + textwrap.dedent(more), encoding="utf-8")
        trip = load(plan, engine())
        assert engine().failures() == []

        def record(item: str, name: str) -> Measured:
            found = trip.world.value(item if item == "trip" else f"item:{item}", name)
            assert trip.world.crashes == []
            return found

        return record


@pytest.fixture
def station(tmp_path: Path) -> Station:
    return Station(tmp_path)


class HandMade:
    """Ways and things as the plugin kit gives them, made by hand."""

    def __init__(self) -> None:
        self.ways: list[Json] = []
        self.things: dict[str, Json] = {}

    def thing(self, key: str, class_: str | None = None, **data: Any) -> HandMade:
        self.things[key] = {"name": key.replace("-", " "), "class": class_, "data": data}
        return self

    def way(self, source: str, sink: str, *through: str, role: str = "DC") -> HandMade:
        """A way between ports, each written as ITEM.PORT; pieces as ITEM.IN.OUT."""
        ends = [dict(zip(("item", "port"), end.split("."), strict=True)) for end in (source, sink)]
        pieces = [dict(zip(("item", "in", "out"), piece.split("."), strict=True)) for piece in through]
        self.ways.append(
            {"role": role, "from": ends[0], "to": ends[1], "through": pieces, "fits": True, "inferred": False}
        )
        return self


@pytest.fixture
def hand_made() -> type[HandMade]:
    return HandMade


def battery(**more: Any) -> Mapping[str, Any]:
    return {"chemistry": "lithium iron phosphate", "capacity": "10 Ah", "cells": 4, "end_voltage": "12 V", **more}


@pytest.fixture
def lfp() -> Callable[..., Mapping[str, Any]]:
    """A described battery of four lithium iron phosphate cells."""
    return battery


STATION = """\
items:
  - name: radio
    class: radio
    ports:
      - {name: dc, connector: T DC 2-pin, gender: male, role: DC, direction: sink, volts: [11.7 V, 15 V], amperes: 22 A}
    loads: [{state: receive, amperes: 1 A}, {state: transmit, at: 50 W, amperes: 13 A}, {state: transmit, at: 100 W, amperes: 20 A}]
  - name: battery
    class: battery
    ports:
      - {name: out, connector: genderless 15-45 A housing, role: DC, direction: source, volts: [12 V, 14.4 V], amperes: 30 A}
    battery: {chemistry: lithium iron phosphate, capacity: 20 Ah, cells: 4, end_voltage: 12 V, amperes: 30 A}
  - name: lead
    class: lead
    ports:
      - {name: a, connector: genderless 15-45 A housing, role: DC, direction: both, volts: 30 V, amperes: 30 A}
      - {name: b, connector: T DC 2-pin, gender: female, role: DC, direction: both, volts: 30 V, amperes: 30 A}
    conductor: {awg: 12, length: 3 m, contacts: 6 mohm}
    fuse: 25 A
connections: [[battery.out, lead.a], [lead.b, radio.dc]]
"""  # noqa: E501


@pytest.fixture
def simple() -> str:
    """A radio of 100 W on a battery by one fused lead."""
    return STATION
