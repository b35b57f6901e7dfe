"""Schemas in one piece, as they are printed for editors."""

from __future__ import annotations

from importlib.resources import files

from jsonschema import Draft202012Validator

from afield.core.engine import Engine
from afield.core.host.bundling import COMMON, SCHEMAS, bundled_schema


def test_every_schema_that_ships_is_offered_but_the_common_one() -> None:
    shipped = {entry.name.removesuffix(".json") for entry in files("afield.schemas").iterdir()}
    assert {name for name in shipped if "." not in name and not name.startswith("_")} - {"sections"} == {
        *SCHEMAS,
        COMMON,
    }
    assert SCHEMAS[0] == "plan"
    assert len(SCHEMAS) == len(set(SCHEMAS))


def test_the_schema_of_kit_files_judges_by_itself() -> None:
    validator = Draft202012Validator(bundled_schema("kit", Engine().registry))
    assert list(validator.iter_errors({"items": [{"name": "radio", "ports": [{"name": "antenna"}]}]})) == []
    (error,) = validator.iter_errors({"items": ["pencil"], "connections": [["radio.antenna"]]})
    assert list(error.absolute_path) == ["connections", 0]


def test_what_another_schema_defines_is_inside() -> None:
    validator = Draft202012Validator(bundled_schema("catalogue", Engine().registry))
    item = {"title": "thing", "class": "battery", "ports": [{"name": "antenna", "role": "RF"}]}
    assert list(validator.iter_errors({"thing": item})) == []
    assert list(validator.iter_errors({"thing": {**item, "battery": {"capacity": 6}}})) != []
