"""The catalogue that ships: every entry is valid, and cutting it at its keys loses nothing."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.documents import check_schema, read_text
from afield.plugins.kit import catalogue
from afield.plugins.kit.connectors import Connectors
from afield.plugins.kit.fragments import kit_schema
from afield.plugins.kit.words import CLASSES

CONNECTORS = Connectors()


def registry() -> dict[str, Any]:
    return {schema["$id"]: schema for schema in (kit_schema(), kit_schema("catalogue"))}


@pytest.mark.parametrize("file", catalogue.catalogue_files())
def test_every_file_of_items_fits_the_schema(file: str) -> None:
    document = read_text(catalogue.catalogue_text(file), file)
    assert [problem.text() for problem in check_schema(document, kit_schema("catalogue"), registry())] == []


def test_the_connectors_fit_their_schema() -> None:
    document = read_text(catalogue.catalogue_text(catalogue.CONNECTORS), catalogue.CONNECTORS)
    schema = {"$id": "connectors", "$ref": "urn:afield:schema:catalogue:1#/$defs/connectors"}
    assert [problem.text() for problem in check_schema(document, schema, registry())] == []


@pytest.mark.parametrize("file", [*catalogue.catalogue_files(), catalogue.CONNECTORS])
def test_the_entries_of_a_file_are_the_file(file: str) -> None:
    text = catalogue.catalogue_text(file)
    whole = read_text(text, file).data
    cut = {name: read_text(entry, file).data[name] for name, entry in catalogue.entries(text).items()}
    assert cut == whole


def test_no_two_items_have_one_name() -> None:
    counted = [
        name for file in catalogue.catalogue_files() for name in catalogue.entries(catalogue.catalogue_text(file))
    ]
    assert len(counted) == len(set(counted)) == len(catalogue.item_names()) > 60


def test_every_item_can_be_taken_up_without_a_complaint(bag: Any) -> None:
    names = catalogue.item_names()
    kit = bag.kit("items:\n" + "".join(f"  - {{name: {name}, is: {name}}}\n" for name in names))
    assert list(kit.items) == names
    assert all(item.ports is not None for item in kit.items.values())


@pytest.mark.parametrize("name", catalogue.connector_names())
def test_every_connector_is_known_with_all_that_it_fits(name: str) -> None:
    proper, gender = CONNECTORS.found(name)
    assert proper in CONNECTORS.names
    assert gender is None or CONNECTORS.gendered(proper)
    assert all(CONNECTORS.found(mate) for mate in CONNECTORS.entry(proper).get("mates", ()))


def test_the_classes_of_the_schema_are_those_of_the_plugin() -> None:
    assert tuple(kit_schema()["$defs"]["item"]["properties"]["class"]["enum"]) == CLASSES
