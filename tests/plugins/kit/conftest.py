"""A bag: kit files and a plan in a folder of their own, and what the plugin makes of them."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import Any

import pytest

from afield.core.documents import InputError, read_document
from afield.core.engine import Engine, judge, load, report
from afield.core.host.loading import PluginInfo, new_host
from afield.plugins.geometry import plugin as geometry
from afield.plugins.kit import plugin as kit_plugin
from afield.plugins.kit.assembling import kit_of
from afield.plugins.kit.model import Kit
from afield.plugins.kit.wiring import ChainState, Wiring, wired
from afield.plugins.outing import plugin as outing

PLUGINS = {"outing": outing, "geometry": geometry, "kit": kit_plugin}


PACK = """\
id: day
version: "1.0.0"
title: A day out
publisher: the household
licence: MIT
notice: Made for tests.
judges: trip
needs: [kit]
date_basis: local
review_every: 365 days
sources:
  - {document: Notes, edition: "2026", grade: invented}
"""
RULES = """\
rules:
  - id: whole
    title: Every chain of leads is complete
    why: A lead that is left at home ends the day.
    severity: required
    for_each: chain
    require: {fact: chain.complete, is: true}
    source: {document: Notes, section: kit, edition: "2026", grade: invented, last_checked: 2026-05-02}
"""
"""A pack of its own, so that what other plugins compute is not needed here."""


class Bag:
    """Kit files beside a plan."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        host = new_host()
        for name, module in PLUGINS.items():
            host.add(module, PluginInfo(name, "afield", "0.1.0"))
        self.engine = Engine(host)
        self.file("day/pack.yaml", PACK)
        self.file("day/rules.yaml", RULES)

    def file(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(textwrap.dedent(text), encoding="utf-8")
        return path

    def plan(self, more: str = "", kit: str = "[kit.yaml]") -> Path:
        head = f"trip: A day out\ndate: 2026-06-27\npacks: [day]\nkit: {kit}\n"
        return self.file("trip.yaml", head + textwrap.dedent(more))

    def kit(self, text: str, more: str = "") -> Kit:
        """The kit of a plan with this kit file."""
        self.file("kit.yaml", text)
        return self.read(more)

    def read(self, more: str = "", kit: str = "[kit.yaml]") -> Kit:
        """The kit of a plan with the files that are there."""
        return kit_of(read_document(self.plan(more, kit), "trip.yaml"), self.folder)

    def wiring(self, text: str, more: str = "") -> Wiring:
        return wired(self.kit(text, more))

    def chain(self, text: str, more: str = "") -> ChainState:
        """The state of the only chain."""
        (state,) = self.wiring(text, more).chains
        return state

    def complaint(self, text: str, more: str = "") -> str:
        """All that is said of a wrong kit file."""
        with pytest.raises(InputError) as refused:
            self.kit(text, more)
        return refused.value.text(verbose=True)

    def report(self, text: str, more: str = "", variant: str | None = None, briefing: bool = True) -> dict[str, Any]:
        self.file("kit.yaml", text)
        trip = load(self.plan(more), self.engine, variant)
        made = report(judge(trip, self.engine), self.engine, briefing)
        assert self.engine.failures() == []
        return made

    def facts(self, text: str, *names: str, more: str = "") -> dict[tuple[str, str], Any]:
        """(subject, fact) -> record of the World, for the facts of those names."""
        self.file("kit.yaml", text)
        trip = load(self.plan(more), self.engine)
        assert self.engine.failures() == []
        facts = trip.registry.facts
        return {
            (subject.key, name): trip.world.value(subject.key, name)
            for subject in trip.subjects.values()
            for name in names
            if subject.kind == facts[name].kind
        }


@pytest.fixture
def bag(tmp_path: Path) -> Bag:
    return Bag(tmp_path)


LOW_POWER = """\
items:
  - {name: radio, is: hf-radio-10-w, bag: shoulder bag}
  - {name: feed line, is: coax-bnc-bnc-10-m, bag: shoulder bag}
  - {name: wire, is: end-fed-wire-20-m, bag: roll}
  - {name: battery, is: lithium-iron-battery-6-ah, bag: shoulder bag, mass: 820 g}
  - {name: power lead, is: dc-lead-coaxial, bag: shoulder bag}
"""


@pytest.fixture
def low_power() -> str:
    """A kit whose wiring can be inferred whole."""
    return LOW_POWER
