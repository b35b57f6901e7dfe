"""How one gets there and what feeds the station: facts that packs can judge, and words that are no choice."""

from __future__ import annotations

from pathlib import Path

import pytest

from afield.core.api import Engine, InputError, load

PLAN = """\
trip: Walk
date: 2026-06-27
access: {means: on foot}
supply: {kind: battery and solar}
station: {in_vehicle: false}
packs: [gear]
"""


def plan(folder: Path, old: str = "", new: str = "") -> Path:
    path = folder / "trip.yaml"
    path.write_text(PLAN.replace(old, new), encoding="utf-8")
    return path


def test_packs_can_ask_for_them(tmp_path: Path) -> None:
    world = load(plan(tmp_path), Engine()).world
    asked = ("access.means", "supply.kind", "station.in_vehicle")
    assert [world.value("trip", name).value for name in asked] == ["on foot", "battery and solar", False]


def test_left_out_they_are_not_stated(tmp_path: Path) -> None:
    world = load(plan(tmp_path, PLAN, "trip: Walk\ndate: 2026-06-27\npacks: [gear]\n"), Engine()).world
    assert all(world.value("trip", name).not_stated for name in ("access.means", "supply.kind", "station.in_vehicle"))


@pytest.mark.parametrize(
    ("old", "new", "text"),
    [
        (
            "on foot", "on feet",
            'trip.yaml:3:17: "on feet" is not a choice for means of the last stretch to the position\n'
            'Did you mean "on foot"? Choices: "on foot", "ski", "bicycle", "horse", "paddle", "sail", "motor boat", '
            '"motor vehicle", "cable car", "aircraft".',
        ),
        (
            "battery and solar", "diesel",
            'trip.yaml:4:16: "diesel" is not a choice for kind of supply\n'
            'Choices: "battery", "battery and solar", "solar", "hand generator", "fuel generator", "vehicle", "mains".',
        ),
    ],
)  # fmt: skip
def test_other_words_are_refused_whole(tmp_path: Path, old: str, new: str, text: str) -> None:
    with pytest.raises(InputError) as caught:
        load(plan(tmp_path, old, new), Engine())
    [problem] = caught.value.problems
    assert f"{problem.place}: {problem.what}\n{problem.advice}" == text
