"""`afield brief` writes the files that sections offer beside the page: the calendar of the outing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine

Run = Callable[..., tuple[int, str, str]]


def with_zone(base: Path) -> None:
    plan = base / "trip.yaml"
    text = plan.read_text().replace('leave: "21:15"}', 'leave: "21:15", zone: America/Los_Angeles}')
    plan.write_text(text)


def test_the_calendar_stands_beside_the_page(base: Path, run: Run) -> None:
    with_zone(base)
    assert run("brief", "trip.yaml")[0] == 0
    names = {path.name for path in (base / "briefing").iterdir()}
    assert names == {"briefing.html", "briefing.txt", "report.json", "outing.ics"}
    calendar = (base / "briefing" / "outing.ics").read_bytes()
    assert b"SUMMARY:Cinder Wash: on the air\r\nDTSTART:20260627T223000Z\r\n" in calendar


def test_without_times_there_is_no_calendar(base: Path, run: Run) -> None:
    plan = base / "trip.yaml"
    plan.write_text("".join(line for line in plan.read_text().splitlines(True) if not line.startswith("schedule:")))
    assert run("brief", "trip.yaml")[0] == 0
    assert not (base / "briefing" / "outing.ics").exists()


def test_a_calendar_that_stands_is_not_overwritten(base: Path, run: Run) -> None:
    with_zone(base)
    (base / "briefing").mkdir()
    mine = base / "briefing" / "outing.ics"
    mine.write_text("mine\n")
    assert run("brief", "trip.yaml") == (
        2, "", "briefing/outing.ics stands already; nothing was written\n    = Name another place, or add --force.\n",
    )  # fmt: skip
    assert [path.name for path in (base / "briefing").iterdir()] == ["outing.ics"]
    assert run("brief", "trip.yaml", "--force")[0] == 0
    assert mine.read_text() != "mine\n"


def test_a_file_that_fails_is_named_and_the_page_stands(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    with_zone(base)
    sections = Engine().sections

    def broken(data: Any) -> str:
        raise RuntimeError("no ink")

    failing = [replace(one, files=dict.fromkeys(one.files, broken)) for one in sections]
    monkeypatch.setattr(Engine, "sections", failing)
    status, _, err = run("brief", "trip.yaml")
    assert (status, err) == (4, "afield.plugins.timing could not write outing.ics: RuntimeError: no ink\n")
    assert (base / "briefing" / "briefing.html").exists()
    assert not (base / "briefing" / "outing.ics").exists()
