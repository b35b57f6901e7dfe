"""Every schema is valid JSON Schema 2020-12 with a name of ours, and every reference in it leads somewhere."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.engine import Engine
from afield.core.host.bundling import SCHEMAS, bundled_schema

FOLDER = Path(__file__).parents[2] / "schemas"
FILES = sorted(FOLDER.rglob("*.json"))


def read(path: Path) -> Any:
    """The schema in a file."""
    return json.loads(path.read_text(encoding="utf-8"))


def parts(schema: Any) -> Iterator[dict[str, Any]]:
    """Every object within a schema."""
    if isinstance(schema, dict):
        yield schema
        for inner in schema.values():
            yield from parts(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from parts(inner)


def named(path: Path) -> str:
    """How messages of this test call a file."""
    return path.relative_to(FOLDER).as_posix()


@pytest.mark.parametrize("path", FILES, ids=named)
def test_every_schema_is_valid(path: Path) -> None:
    schema = read(path)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert Draft202012Validator.check_schema(schema) is None


@pytest.mark.parametrize("path", FILES, ids=named)
def test_every_schema_is_named_after_its_file(path: Path) -> None:
    inner = "" if path.parent == FOLDER else f"{path.parent.name.removesuffix('s')}-"
    assert re.fullmatch(rf"urn:afield:schema:{inner}{path.stem}:[1-9][0-9]*", read(path)["$id"])


def test_no_two_schemas_have_one_name() -> None:
    names = [read(path)["$id"] for path in FILES]
    assert len(names) == len(set(names)) >= 9


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_schema_in_one_piece_is_valid_and_refers_to_nothing_outside(name: str) -> None:
    schema = bundled_schema(name, Engine().registry)
    assert Draft202012Validator.check_schema(schema) is None
    known = {part["$id"] for part in parts(schema) if isinstance(part.get("$id"), str)}
    referred = {part["$ref"].split("#")[0] for part in parts(schema) if isinstance(part.get("$ref"), str)} - {""}
    assert referred <= known


@pytest.mark.parametrize("section", Engine().sections, ids=lambda section: section.name)
def test_every_section_of_the_briefing_has_a_schema_of_its_own(section: Any) -> None:
    assert dict(section.schema) == read(FOLDER / "sections" / f"{section.name}.json")
