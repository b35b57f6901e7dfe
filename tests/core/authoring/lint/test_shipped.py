"""The packs that ship are clean, on the day they were checked and as long as their sources are fresh."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from afield.core.authoring.lint.build import lint
from afield.core.engine import Engine
from afield.core.packs.finding import installed_packs
from afield.core.packs.loading import load_pack

SHIPPED = {name: folder for name, folder in installed_packs().items() if (Path(folder) / "cases.yaml").is_file()}
ENGINE = Engine()


@pytest.mark.parametrize("name", SHIPPED)
@pytest.mark.parametrize("now", ["2026-11-28", "2027-05-02"])
def test_nothing_is_found_in_a_shipped_pack(name: str, now: str) -> None:
    linted = lint(load_pack(SHIPPED[name], ENGINE.registry), ENGINE.registry, date.fromisoformat(now))
    assert [found.problem.text() for found in linted.findings] == []
    assert linted.exit_status == 0


@pytest.mark.parametrize("name", SHIPPED)
def test_what_ships_must_be_reviewed_in_time(name: str) -> None:
    linted = lint(load_pack(SHIPPED[name], ENGINE.registry), ENGINE.registry, date(2027, 5, 3))
    assert {found.code for found in linted.findings} == {"source-stale"}
    assert linted.exit_status == 1


def test_all_three_are_looked_at() -> None:
    assert {"freight-road", "basin-preserves", "gear"} <= set(SHIPPED)
