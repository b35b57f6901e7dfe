"""A plan with claims under a small program of the tests, and the facts that it gives."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine, load
from afield.core.host.loading import PluginInfo, new_host
from afield.plugins.contacts import plugin as contacts
from afield.plugins.geometry import plugin as geometry
from afield.plugins.outing import plugin as outing
from afield.plugins.timing import plugin as timing

PLUGINS = {"outing": outing, "geometry": geometry, "timing": timing, "contacts": contacts}
SOURCE = '{document: Hilltop rules, section: "1", grade: invented, last_checked: 2026-05-02}'
PACK = """\
id: hilltop
version: "1.0.0"
title: Hilltop
publisher: the tests
licence: MIT
judges: program
needs: [outing, geometry, timing, contacts]
date_basis: local
review_every: 365 days
sources: [{document: Hilltop rules, publisher: the tests, edition: "2026", grade: invented}]
"""
RULES = f"""\
rules:
  - id: likely
    title: The contacts are likely
    why: It counts with them only.
    severity: advised
    for_each: claim
    require: {{fact: claim.chance_of_minimum, at_least: "80 %"}}
    source: {SOURCE}
"""
SCHEDULE = 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", zone: America/Los_Angeles, mode: SSB'
Facts = Callable[..., Any]


@pytest.fixture
def world_of(tmp_path: Path) -> Facts:
    """(program facts, more lines of the plan, claims, date, schedule) -> the plan's World."""

    def made(
        program: str,
        more: str = "",
        claims: str = "{program: hilltop, reference: one}",
        date: str = "2026-06-27",
        schedule: str = SCHEDULE,
    ) -> Any:
        folder = tmp_path / "hilltop"
        folder.mkdir(exist_ok=True)
        (folder / "pack.yaml").write_text(f"{PACK}facts: {{{program}}}\n")
        (folder / "rules.yaml").write_text(RULES)
        plan = tmp_path / "trip.yaml"
        plan.write_text(f"trip: A hill\ndate: {date}\nclaims: [{claims}]\nschedule: {{{schedule}}}\n{more}")
        host = new_host()
        for name, module in PLUGINS.items():
            host.add(module, PluginInfo(name, "afield", "0.1.0"))
        engine = Engine(host)
        trip = load(plan, engine)
        assert engine.failures() == []
        return trip.world

    return made
