"""A plan with no antenna never passes a whole-station rule, not even by a reading."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine, judge, load, report

PLAN = """trip: no antenna
date: 2026-06-27
station:
  at: {lat: 39.90412, lon: -117.30288, accuracy: 1 m}
  parts:
    - {name: table, role: operating position}
claims:
  - {program: freight-road, reference: cinder-crossing}
  - {program: basin-preserves, reference: juniper-basin}
"""
READINGS = """measured:
  - {fact: place.farthest_part_from_line, of: "claim:freight-road/cinder-crossing", value: 3 m, how: tape}
  - {fact: place.margin_inside_area, of: "claim:basin-preserves/juniper-basin", value: 300 m, how: tape}
"""


@pytest.fixture(params=[PLAN, PLAN + READINGS], ids=["computed", "measured"])
def verdicts(request: pytest.FixtureRequest, tmp_path: Path) -> list[dict[str, Any]]:
    plan = tmp_path / "trip.yaml"
    plan.write_text(request.param, encoding="utf-8")
    engine = Engine()
    found = report(judge(load(plan, engine), engine), engine)
    wanted = ("freight-road/whole-station-in-corridor", "basin-preserves/whole-station-inside-boundary")
    return [verdict for verdict in found["verdicts"] if verdict["rule"] in wanted]


def test_it_cannot_be_told_and_says_what_to_add(verdicts: list[dict[str, Any]]) -> None:
    assert [verdict["outcome"] for verdict in verdicts] == ["cannot tell", "cannot tell"]
    for verdict in verdicts:
        assert verdict["reason"]["text"] == "the plan has no antenna: add a part with `role: antenna` and where it lies"


def test_it_is_not_settled_by_measuring(verdicts: list[dict[str, Any]]) -> None:
    assert [(verdict["settle"]["kind"], verdict["settle"]["input"]) for verdict in verdicts] == [
        ("state", "station.parts"),
        ("state", "station.parts"),
    ]
