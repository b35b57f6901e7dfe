"""The reference holds every hook with its arguments, kind, fact, computation and schema key, and no two runs differ."""

from __future__ import annotations

import inspect
import re
import subprocess
import sys
from pathlib import Path

import pytest

from afield.core.authoring.plugins.reference import reference_markdown
from afield.core.cli.running import status_of
from afield.core.engine import Engine
from afield.core.host.bundling import SCHEMAS, bundled_schema
from afield.core.host.computations import computations
from afield.core.host.hookspecs import RESULTS, Hooks


@pytest.fixture(scope="module")
def engine() -> Engine:
    return Engine()


@pytest.fixture(scope="module")
def reference(engine: Engine) -> str:
    return reference_markdown(engine)


@pytest.mark.parametrize("hook", RESULTS)
def test_every_hook_stands_with_its_arguments_and_its_words(reference: str, hook: str) -> None:
    block = reference.partition(f"### `{hook}`\n")[2].partition("\n### ")[0]
    arguments = [name for name in inspect.signature(getattr(Hooks, hook)).parameters if name != "self"]
    assert f"def {hook}({', '.join(f'{name}: ' for name in arguments).rstrip(': ')}" in block
    assert (inspect.getdoc(getattr(Hooks, hook)) or "?") in block


def test_what_hooks_give_stands_with_its_fields(reference: str) -> None:
    for result in dict.fromkeys(RESULTS.values()):
        if result is not str:
            assert f"### `{result.__name__}`\n" in reference


def test_every_kind_and_fact_stands_with_its_title_and_plugin(reference: str, engine: Engine) -> None:
    registry = engine.registry
    assert [name for name in registry.kinds if f"\n| `{name}` | " not in reference] == []
    chapter = reference.partition("\n## Facts\n")[2].partition("\n## ")[0]
    rows = {row.split(" | ")[0]: row for row in chapter.splitlines() if row.startswith("| `")}
    for name, fact in registry.facts.items():
        assert rows[f"| `{name}`"].endswith(f"| {registry.owners[name].name} |")
        assert " ".join(fact.title.split()) in rows[f"| `{name}`"]


def test_every_computation_stands_with_its_docstring(reference: str, engine: Engine) -> None:
    known = computations(engine.host)
    for name in known:
        assert f"### `{name}`\n" in reference
        assert (inspect.getdoc(known[name]) or "?") in reference


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_property_at_the_top_of_a_schema_stands_in_its_table(reference: str, engine: Engine, name: str) -> None:
    block = reference.partition(f"\n### `{name}`: ")[2].partition("\n### ")[0]
    properties = bundled_schema(name, engine.registry).get("properties", {})
    assert [key for key in properties if f"| `{key}` |" not in block] == []


def test_keys_inside_are_reached_through_arrays_and_references(reference: str) -> None:
    for key in ("claims[].program", "station.parts[].name", "rules[].require.fact", "limits.*[].source.document"):
        assert re.search(rf"^\| `{re.escape(key)}` \|", reference, re.MULTILINE), key


def test_no_cell_breaks_its_table(reference: str) -> None:
    tables = [line for line in reference.splitlines() if line.startswith("| ")]
    assert {len(re.findall(r"(?<!\\)\|", line)) for line in tables} <= {3, 4, 5, 7}


def test_it_is_written_to_a_file_that_is_named(
    reference: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "reference.md"
    assert status_of(["plugin", "reference", "-o", str(file)]) == 0
    assert (file.read_text(encoding="utf-8"), capsys.readouterr().out) == (reference, f"{file} is written\n")


def test_two_processes_give_the_same_bytes(reference: str) -> None:
    code = "from afield.core.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", code, "plugin", "reference"], capture_output=True, text=True, check=True
    )
    assert done.stdout == reference
