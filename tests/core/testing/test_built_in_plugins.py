"""The built-in plugins before the kit that strangers are measured by."""

from __future__ import annotations

import shutil
from dataclasses import replace
from functools import lru_cache
from importlib.metadata import entry_points
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from afield.core.engine import Engine
from afield.core.host.loading import GROUP
from afield.core.testing.conformance import conformance, counted, nothing_ran
from afield.core.testing.findings import ABOUT_CALLS, Finding
from afield.core.testing.material import Material
from afield.core.testing.observing import addresses_of

TESTS = Path(__file__).parents[2]
CHECKS = TESTS / "checks"
OURS = tuple(sorted(point.name for point in entry_points(group=GROUP) if point.module.startswith("afield.plugins.")))

FAULTS = {
    "geometry": {
        ("facts of a plan", "station.plane"): "a plane of the map has no encoder",
        ("facts of a plan", "reference.zone"): "the zone of a summit has no encoder",
        ("facts of a plan", "station.afloat"): "what swings at an anchor has no encoder",
        ("check values", "anchor_swing_radius"): "it has neither a published value nor a test of its own yet",
        ("check values", "turn_between_fixes"): "it has neither a published value nor a test of its own yet",
        ("NaN and infinity", "dem_zone_below_summit"): "the area of a cell is not refused where it is no number",
    },
    "timing": {
        ("documentation", "sunrise_sunset"): "the docstring names no errors",
        ("documentation", "twilight_events"): "the docstring names no source and no errors",
        ("NaN and infinity", "sun_events_in_utc_window"): "a longitude that is no number gives no event",
        ("NaN and infinity", "sunrise_sunset"): "a longitude that is no number gives no event",
        ("NaN and infinity", "twilight_events"): "a longitude that is no number gives no event",
    },
}
"""Faults that are known and not yet mended."""

CHANGES = {
    "conditions: {temperature: 24 degC}": (
        "conditions: {temperature: 24 degC, f107: 120}\ncontacts: {earlier: [{contacts: 23, time: 2 h}]}"
    ),
    "\nkit: [kit/antenna.yaml, kit/low-power.yaml]": (
        "\nkit: [kit/antenna.yaml, kit/low-power.yaml, kit/amplifier.yaml]"
    ),
    "  power: 10 W\n": "  power: 5 W\n",
}
"""What is changed in the trip of the demo."""


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The trip of the demo with an amplifier, the sun's flux and earlier counts, so that more facts are reached."""
    folder = tmp_path_factory.mktemp("demo")
    with as_file(files("afield.programs").joinpath("demo")) as demo:
        shutil.copytree(demo, folder, dirs_exist_ok=True)
    path = folder / "trip.yaml"
    text = path.read_text(encoding="utf-8")
    for old, new in CHANGES.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")
    return path


@lru_cache
def tried_elsewhere(plugin: str) -> str:
    """The text of all tests of a plugin, in which a computation without a published value must be called."""
    return "\n".join(path.read_text(encoding="utf-8") for path in (TESTS / "plugins" / plugin).rglob("test_*.py"))


def material(plugin: str, plan: Path, folder: Path) -> Material:
    """The published check values; what has none must have tests of its own, which is the reason that is stated."""
    shared = Material(tuple(sorted(CHECKS.glob("*.yaml"))), CHECKS / "bindings", (plan,))
    cases = "\n".join(path.read_text(encoding="utf-8") for path in shared.files)
    names = [name for name in addresses_of(plugin, Engine()) if f"computation: {name}\n" not in cases]
    reasons = [f"  {name}: tried by tests of its own\n" for name in names if name in tried_elsewhere(plugin)]
    reasoned = folder / "reasons.yaml"
    reasoned.write_text("without:\n" + "".join(reasons), encoding="utf-8")
    return replace(shared, files=(*shared.files, reasoned))


@pytest.fixture(scope="module", params=OURS)
def findings(request: pytest.FixtureRequest, plan: Path, tmp_path_factory: pytest.TempPathFactory) -> list[Finding]:
    """What the kit finds of one plugin."""
    plugin: str = request.param
    return [Finding("plugin", plugin, "passed"), *conformance(
        plugin, Engine(), material(plugin, plan, tmp_path_factory.mktemp("reasons")),
    )]  # fmt: skip


def test_no_built_in_plugin_has_a_fault_that_is_not_known(findings: list[Finding]) -> None:
    known = FAULTS.get(findings[0].of, {})
    failed = [one for one in findings if one.outcome == "failed" and (one.check, one.of) not in known]
    assert not failed, "\n".join(f"{one.check}: {one.of}: {one.text}" for one in failed)


def test_what_the_kit_calls_of_each_is_most_of_it(findings: list[Finding]) -> None:
    called = [one for one in findings if one.check == "same answer twice"]
    assert not nothing_ran(findings[1:])
    assert counted(called)["passed"] > counted(called)["not looked at"]


def test_every_check_about_calls_passed_somewhere(findings: list[Finding]) -> None:
    passed = {one.check for one in findings if one.outcome == "passed"}
    always = {"facts of a plan", "same answer twice", "same answer with another hash seed", "no clock", "no network"}
    assert always <= passed
    assert always <= set(ABOUT_CALLS)
