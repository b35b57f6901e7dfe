"""A small pack of which nothing is to be found, and ways to spoil it."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from afield.core.authoring.lint.build import Linted, lint
from afield.core.facts.declarations import Fact, Kind
from afield.core.packs.loading import load_pack

HERE = Path(__file__).parent
NOW = date(2026, 6, 27)
Edit = tuple[str, str | None, str | None]


@dataclass
class Spoiled:
    """One way to spoil the pack, and the whole text of what is found then."""

    name: str
    edits: list[Edit] = field(default_factory=list)
    text: str = ""

    @property
    def code(self) -> str:
        """The code that it is meant to provoke."""
        return self.name.split(":")[0]


def spoiled() -> list[Spoiled]:
    """The blocks of findings.txt: a name after ####, edits (file, old, new), then what is found."""
    blocks = (HERE / "findings.txt").read_text(encoding="utf-8").split("\n#### ")[1:]
    return [_spoiled(block) for block in blocks]


def _spoiled(block: str) -> Spoiled:
    name, *lines = block.rstrip("\n").split("\n")
    found = Spoiled(name)
    while lines and lines[0].startswith("edit "):
        found.edits.append(tuple(json.loads(lines.pop(0).removeprefix("edit "))))
    found.text = "\n".join(lines)
    return found


class Bench:
    """The pack `club` in a house that has a shed too."""

    def __init__(self, house: Any, folder: Path) -> None:
        self.folder = folder / "club"
        shutil.copytree(HERE / "club", self.folder)
        shed = Fact("shed.tools", "trip", unit="", title="number of tools", exact=True)
        hooks = {"afield_facts": [shed], "afield_kinds": [Kind("tool", ("trip",), "tool")]}
        house.add("shed", **{name.removeprefix("afield_"): _given(value) for name, value in hooks.items()})
        self.house = house

    def edit(self, edits: Iterable[Edit]) -> Bench:
        """Replace the first of old by new; without new, remove the file."""
        for name, old, new in edits:
            path = self.folder / name
            if new is None or old is None:
                path.unlink()
            else:
                before = path.read_text(encoding="utf-8")
                assert old in before, f"{name} holds no {old!r}"
                path.write_text(before.replace(old, new, 1), encoding="utf-8")
        return self

    def linted(self, now: date = NOW, folder: Path | None = None) -> Linted:
        """The pack looked through."""
        registry = self.house.engine.registry
        return lint(load_pack(folder or self.folder, registry), registry, now)

    def codes(self, now: date = NOW) -> list[str]:
        """The codes that stand."""
        return [found.code for found in self.linted(now).findings]


def _given(value: Any) -> Any:
    return lambda: value


@pytest.fixture
def bench(house: Any, tmp_path: Path) -> Bench:
    return Bench(house, tmp_path)


@pytest.fixture
def house_maker(house: Any) -> Any:
    """Makes a house in a folder, as the fixture `house` does, for tests that need many."""
    return lambda folder: type(house)(folder).house()
