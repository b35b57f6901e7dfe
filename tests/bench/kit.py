"""A kit of 300 items and 400 connections: read, joined, its ways found; against parsing its YAML alone in the same run.

Run: python tests/bench/kit.py

Fifty stations of six items each: battery, splitter, radio, amplifier, meter and antenna, joined by eight connections
that are all stated.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

from ruamel.yaml import YAML

from afield.core.api import Engine, load

STATIONS, ITEMS, CONNECTIONS = 50, 300, 400
FACTS = ("kit.wiring", "kit.ways", "kit.things", "kit.items")
DC, RF = "connector: genderless 15-45 A housing, role: DC", "connector: BNC, role: RF"
STATION = f"""\
  - {{name: battery N, class: battery, ports: [{{name: out, {DC}, direction: source, volts: [11 V, 14 V], amperes: 30 A}}]}}
  - name: splitter N
    class: adapter
    ports: [{{name: a, {DC}, direction: both}}, {{name: b, {DC}, direction: both}}, {{name: c, {DC}, direction: both}}, {{name: d, {DC}, direction: both}}]
  - name: radio N
    class: radio
    ports: [{{name: dc, {DC}, direction: sink}}, {{name: rf, {RF}, gender: female, direction: source}}, {{name: key, connector: RCA, gender: female, role: keying, direction: source}}]
  - name: amplifier N
    class: amplifier
    ports: [{{name: dc, {DC}, direction: sink}}, {{name: in, {RF}, gender: male, direction: sink}}, {{name: out, {RF}, gender: female, direction: source}}, {{name: key, connector: RCA, gender: male, role: keying, direction: sink}}]
  - name: meter N
    class: meter
    ports: [{{name: dc, {DC}, direction: sink}}, {{name: a, {RF}, gender: male, direction: both}}, {{name: b, {RF}, gender: female, direction: both}}]
  - {{name: antenna N, class: antenna, ports: [{{name: feed, {RF}, gender: male, direction: sink}}]}}
"""  # noqa: E501
JOINED = """\
  - [battery N.out, splitter N.a]
  - [splitter N.b, radio N.dc]
  - [splitter N.c, amplifier N.dc]
  - [splitter N.d, meter N.dc]
  - [radio N.rf, amplifier N.in]
  - [radio N.key, amplifier N.key]
  - [amplifier N.out, meter N.a]
  - [meter N.b, antenna N.feed]
"""


def kit_text() -> str:
    """The kit file."""
    stations = [(STATION.replace(" N", f" {number}"), JOINED.replace(" N", f" {number}")) for number in range(STATIONS)]
    items, joined = ("".join(part) for part in zip(*stations, strict=True))
    return f"items:\n{items}connections:\n{joined}"


def best_seconds(work: Callable[[], object], times: int = 3) -> float:
    """The least of several timings."""
    spans = []
    for _ in range(times):
        start = perf_counter()
        work()
        spans.append(perf_counter() - start)
    return min(spans)


def found(plan: Path, engine: Engine) -> dict[str, object]:
    """What the kit's facts say, each of a world of its own."""
    world = load(plan, engine).world
    records = {name: world.value("trip", name) for name in FACTS}
    assert not [record.reason for record in records.values() if record.reason]
    return {name: record.value for name, record in records.items()}


def main() -> None:
    """Prints the figures."""
    with tempfile.TemporaryDirectory() as folder:
        plan, kit = Path(folder, "trip.yaml"), Path(folder, "kit.yaml")
        kit.write_text(kit_text(), encoding="utf-8")
        plan.write_text("trip: A\ndate: 2026-06-27\npacks: [gear]\nkit: [kit.yaml]\n", encoding="utf-8")
        engine = Engine()
        ways = found(plan, engine)
        assert ways["kit.items"] == ITEMS
        assert kit.read_text("utf-8").count("  - [") == CONNECTIONS
        assert isinstance(ways["kit.ways"], list)
        took = best_seconds(lambda: found(plan, engine))
        floor = best_seconds(lambda: YAML(typ="safe").load(kit))
        print(f"{ITEMS} items, {CONNECTIONS} connections, {len(ways['kit.ways'])} ways")
        print(f"read, joined, ways found:       {took:12.3f} s")
        print(f"parsing its YAML alone:         {floor:12.3f} s")
        print(f"ratio to the parsing:           {took / floor:12.1f} x")


if __name__ == "__main__":
    main()
