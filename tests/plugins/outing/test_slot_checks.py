"""Slots that are refused as soon as a plan is read, whatever its rules ask."""

from __future__ import annotations

from pathlib import Path

import pytest

from afield.core.documents import InputError
from afield.core.engine import Engine, load
from afield.core.host.loading import PluginInfo, new_host
from afield.plugins.outing import plugin as outing


def read(folder: Path, *lines: str) -> list[str]:
    """The keys of the slots."""
    host = new_host()
    host.add(outing, PluginInfo("outing", "afield", "0.1.0"))
    path = folder / "trip.yaml"
    path.write_text("\n".join(["trip: A day out", "date: 2026-06-27", "packs: [gear]", *lines, ""]), encoding="utf-8")
    engine = Engine(host)
    world = load(path, engine).world
    assert engine.failures() == []
    return [key for key in world.subjects if key.startswith("slot:")]


def complaint(folder: Path, *lines: str) -> str:
    with pytest.raises(InputError) as refused:
        read(folder, *lines)
    return refused.value.text(verbose=True).replace(f"{folder}/", "")


def test_a_slot_with_one_of_its_times_is_refused(tmp_path: Path) -> None:
    line = 'schedule: {slots: [{name: early, from: "22:00"}, {name: late, to: "23:00"}]}'
    assert complaint(tmp_path, line) == (
        f"trip.yaml:4:40: slot early has a start, 22:00, and no end\n    | {line}\n"
        "    = Write its `to` too; only a slot that is the only one may leave both out.\n"
        f"trip.yaml:4:67: slot late has an end, 23:00, and no start\n    | {line}\n"
        "    = Write its `from` too; only a slot that is the only one may leave both out."
    )


OPERATORS = "operators: [{name: anna}, {name: bert}]"


@pytest.mark.parametrize(
    ("who", "hint"), [("ana", 'Did you mean "anna"? '), ("carl", ""), ("Anna", 'Did you mean "anna"? ')]
)
def test_a_slot_of_an_operator_who_does_not_go_is_refused(tmp_path: Path, who: str, hint: str) -> None:
    line = f'schedule: {{slots: [{{name: late, from: "22:00", to: "23:00", operator: {who}}}]}}'
    assert complaint(tmp_path, OPERATORS, line) == (
        f"trip.yaml:5:{line.index(who) + 1}: slot late is of the operator {who}, whom `operators` does not list\n"
        f'    | {line}\n    = {hint}Name one of "anna", "bert", or add {who} to `operators`.'
    )


def test_where_the_plan_lists_no_operators_a_slot_may_name_one(tmp_path: Path) -> None:
    line = 'schedule: {slots: [{name: late, from: "22:00", to: "23:00", operator: bert}]}'
    assert read(tmp_path, line) == ["slot:late"]
    assert read(tmp_path, OPERATORS, line) == ["slot:late"]
