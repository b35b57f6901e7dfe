"""The comparison as JSON: closed, the same at each run, and without a word that ranks."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.comparing.page import comparison_html
from afield.core.comparing.text import comparison_text
from afield.core.host.hookspecs import Comparison

SCHEMA = json.loads(files("afield.schemas").joinpath("comparison.json").read_text("utf-8"))
RANKING = re.compile(r"\b(better|best|worse|worst|winner|rank(?!ed here)\w*|score\w*|total\w*|overall|recommend\w*)\b")


def boom(*records: Any) -> str:
    raise RuntimeError("the shelf fell")


def objects(schema: Any) -> list[Any]:
    if isinstance(schema, list):
        return [found for inner in schema for found in objects(inner)]
    if not isinstance(schema, dict):
        return []
    return [schema, *(found for inner in schema.values() for found in objects(inner))]


def test_it_fits_its_schema(house: Any) -> None:
    assert list(Draft202012Validator(SCHEMA).iter_errors(house.json())) == []


def test_it_fits_its_schema_where_plugins_fail(bare: Any) -> None:
    bare.toys.add("yard", facts=boom, comparisons=lambda: [Comparison("yard.size", "Yard", 1)])
    bare.bring(Comparison("wall.gap", "Gap", 1, boom, boom), Comparison("trip.date", "Date", 2))
    found = bare.json(variants={"next": {"date": "2026-06-28", "packs": ["tidy"], "confirmed": ["tidy/box"]}})
    assert found["exit_status"] == 4
    assert list(Draft202012Validator(SCHEMA).iter_errors(found)) == []


def test_its_schema_is_closed_and_describes_all() -> None:
    mappings = [schema for schema in objects(SCHEMA) if schema.get("type") == "object"]
    assert len(mappings) > 20
    assert all(schema["additionalProperties"] is False for schema in mappings)
    assert all(set(schema["required"]) == set(schema["properties"]) for schema in mappings)


def test_two_runs_give_the_same_bytes(house: Any) -> None:
    assert json.dumps(house.json()) == json.dumps(house.json())


def test_no_word_ranks(house: Any) -> None:
    found = house.json()
    shown = comparison_text(found) + re.sub(r"<style>.*?</style>", "", comparison_html(found), flags=re.DOTALL)
    assert RANKING.findall(shown.lower()) == []


@pytest.mark.parametrize("word", ["the best one", "totals", "Ranked first"])
def test_the_check_for_such_words_finds_them(word: str) -> None:
    assert RANKING.search(word.lower())


def test_the_engine_imports_it_when_it_is_asked_for() -> None:
    code = "import sys, afield.core.engine, afield.core.api; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "afield.core.engine" in done.stdout.split()
    assert not [name for name in done.stdout.split() if name.startswith("afield.core.comparing")]


def test_plugins_have_it_from_the_api() -> None:
    from afield.core import api, engine

    assert api.compare is engine.compare
