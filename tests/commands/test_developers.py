"""What DEVELOPERS.md shows is run: its rules load, its fact is found, its command works, its tree is the tree."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine
from afield.core.facts.declarations import Fact
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
PACK = """\
id: {name}
version: 1.0.0
title: Shown
publisher: the contributors
licence: MIT
judges: {judges}
needs: [outing, geometry]
date_basis: local
review_every: 365 days
sources:
  - {{document: Freight Road award rules, edition: third, grade: invented}}
  - {{document: Minutes of the club, edition: "2026", grade: published}}
{more}
"""


def shown(language: str) -> list[str]:
    """The blocks of one language, in their order."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return [body for name, body in BLOCK.findall(text) if name == language]


def loaded(folder: Path, rules: str, judges: str, more: str) -> Pack:
    home = folder / "shown"
    home.mkdir()
    (home / "pack.yaml").write_text(PACK.format(name="shown", judges=judges, more=more), encoding="utf-8")
    (home / "rules.yaml").write_text(rules, encoding="utf-8")
    return load_pack(home, Engine().registry)


def test_every_block_is_looked_at() -> None:
    languages = [name for name, _ in BLOCK.findall((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))]
    assert {name: languages.count(name) for name in languages} == {"text": 3, "yaml": 2, "python": 1, "sh": 2}


def test_the_rule_that_is_shown_loads(tmp_path: Path) -> None:
    facts = "facts:\n  program.counted_roles: [antenna]\n  program.required_roles: [antenna]\n"
    pack = loaded(tmp_path, shown("yaml")[0], "program", facts)
    assert [rule.id for rule in pack.rules] == ["whole-station-in-corridor"]
    (version,) = pack.limits["corridor"].versions
    assert (str(version.value), version.unit, str(version.also_printed[0][0])) == ("80", "ft", "24.4")


def test_the_club_s_own_limit_and_severity_that_are_shown_load(tmp_path: Path) -> None:
    pack = loaded(tmp_path, shown("yaml")[1], "trip", "extends: gear\n")
    changed = {rule.id: rule.severity for rule in pack.rules if rule.change is not None}
    assert changed == {"spare-fuse": "advised"}
    assert str(pack.limits["reserve"].versions[0].value) == "30"


def test_the_fact_that_is_shown_is_one_and_computes() -> None:
    names: dict[str, Any] = {}
    exec(compile(shown("python")[0], "DEVELOPERS.md", "exec"), names)
    gap = names["wall_gap"]
    assert isinstance(gap, Fact)
    assert (gap.name, gap.unit, gap.function(5.0, 4.0).value) == ("wall.gap", "m", 3.0)


def test_the_command_that_is_shown_brings_a_catalogue_up_to_date(tmp_path: Path) -> None:
    command, language, folder = shown("sh")[1].strip().rsplit(" ", 2)
    assert command == "python -m afield.core.testing.catalogues"
    shutil.copytree(ROOT / folder, tmp_path / "timing", ignore=shutil.ignore_patterns("__pycache__"))
    found = subprocess.run(
        [sys.executable, *command.split()[1:], language, str(tmp_path / "timing")], capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert (found.returncode, found.stderr) == (0, "")
    assert found.stdout.rstrip().endswith(" sentences, 0 without a translation")
    mine, theirs = (base / f"locale/{language}/LC_MESSAGES/timing.po" for base in (tmp_path / "timing", ROOT / folder))
    assert mine.read_bytes() == theirs.read_bytes()


def test_the_message_that_is_shown_is_one_that_is_pinned() -> None:
    pinned = (Path(__file__).parent / "messages" / "plan.txt").read_text(encoding="utf-8")
    assert f"\n{shown('text')[2]}" in pinned


def test_the_files_that_are_run_are_there() -> None:
    named = re.findall(r"(?:bash|python) (\S+)", shown("sh")[0].replace("-m ", ""))
    files = [name for name in named if "/" in name]
    assert files == [".ci/run", "tests/bench/run.py"]
    assert all((ROOT / name).is_file() for name in files)


@pytest.mark.parametrize("line", [line for line in shown("text")[0].splitlines() if line.strip()])
def test_the_house_that_is_shown_is_there(line: str) -> None:
    part = line.split()[0]
    if not line.startswith(" "):
        assert (ROOT / part).is_dir()
    else:
        assert any((ROOT / top / part).exists() for top in ("core", "plugins"))
