"""What the README shows is what the program does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from afield.core.cli.running import status_of

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def block(beginning: str) -> str:
    """The fenced block of the README that begins so."""
    blocks = re.findall(r"```(?:yaml|text)\n(.*?)```", README, re.DOTALL)
    return next(text for text in blocks if text.startswith(beginning))


def test_the_plan_gives_the_verdict_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "trip.yaml").write_text(block("trip: Cinder Wash"), encoding="utf-8")
    assert status_of(["check", str(tmp_path / "trip.yaml")]) == 3
    said = capsys.readouterr().out.splitlines()
    assert [line for line in block("freight-road").splitlines() if line not in said] == []


def test_the_reading_settles_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = block("trip: Cinder Wash") + block("measured:")
    (tmp_path / "trip.yaml").write_text(text, encoding="utf-8")
    assert status_of(["check", str(tmp_path / "trip.yaml")]) == 0
    assert "All claims count." in capsys.readouterr().out


def test_the_kit_lacks_the_lead_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "kit.yaml").write_text(block("kit: club bag"), encoding="utf-8")
    plan = "trip: a bag\ndate: 2026-06-27\nkit: [kit.yaml]\npacks: [gear]\n"
    (tmp_path / "trip.yaml").write_text(plan, encoding="utf-8")
    assert status_of(["check", str(tmp_path / "trip.yaml")]) == 1
    said = capsys.readouterr().out.splitlines()
    assert [line for line in block("RF from radio").splitlines() if line not in said] == []


def test_the_comparison_is_that_of_the_demo(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["demo", str(tmp_path / "demo")]) == 0
    capsys.readouterr()
    assert status_of(["compare", str(tmp_path / "demo" / "trip.yaml")]) == 0
    said = capsys.readouterr().out
    assert block("Power at the antenna") in said
    plan = (tmp_path / "demo" / "trip.yaml").read_text(encoding="utf-8")
    assert all(f"kit: [{kit}]" in plan for kit in re.findall(r"kit: \[([^\]]*)\]", block("variants:")))


def test_what_is_said_of_the_operating_is_judged(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "kit.yaml").write_text(block("kit: club bag"), encoding="utf-8")
    plan = "trip: a bag\ndate: 2026-06-27\nkit: [kit.yaml]\npacks: [gear]\n"
    (tmp_path / "trip.yaml").write_text(plan + block("schedule: {arrive"), encoding="utf-8")
    status_of(["check", str(tmp_path / "trip.yaml")])
    assert "  passed          The battery lasts until leaving" in capsys.readouterr().out
