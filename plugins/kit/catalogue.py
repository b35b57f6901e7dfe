"""The catalogue of generic items and connectors that ships with the programs.

A file of the catalogue is cut at its top-level keys, and only the entries asked for are parsed: parsing it whole would
cost every check more than the rest of the kit.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import Any

from afield.core.api import read_text

CONNECTORS = "connectors.yaml"
_KEY = re.compile(r"^([A-Za-z0-9][^:#\n]*):(?=\s)", re.MULTILINE)


def catalogue_files() -> list[str]:
    """Names of the catalogue's files of items."""
    found = (entry.name for entry in files("afield.programs").joinpath("catalogue").iterdir())
    return sorted(name for name in found if name.endswith(".yaml") and name != CONNECTORS)


def catalogue_text(file: str) -> str:
    """The text of a file of the catalogue."""
    return files("afield.programs").joinpath("catalogue", file).read_text(encoding="utf-8")


def entries(text: str) -> dict[str, str]:
    """The text cut at its top-level keys: name -> the text of its entry."""
    found = list(_KEY.finditer(text))
    ends = [match.start() for match in found[1:]] + [len(text)]
    return {match[1]: text[match.start() : end] for match, end in zip(found, ends, strict=True)}


@cache
def _items() -> dict[str, str]:
    return {name: entry for file in catalogue_files() for name, entry in entries(catalogue_text(file)).items()}


@cache
def _connectors() -> dict[str, str]:
    return entries(catalogue_text(CONNECTORS))


def item_names() -> list[str]:
    """Names of the catalogue's items."""
    return list(_items())


def connector_names() -> list[str]:
    """Names of the catalogue's connectors, other names included."""
    return list(_connectors())


@cache
def catalogue_item(name: str) -> dict[str, Any]:
    """What the catalogue says of an item.

    Raises:
        KeyError: it has none of that name.

    """
    item: dict[str, Any] = read_text(_items()[name], f"catalogue item {name}").data[name]
    return item


@cache
def catalogue_connector(name: str) -> dict[str, Any]:
    """What the catalogue says of a connector; KeyError as above."""
    connector: dict[str, Any] = read_text(_connectors()[name], f"catalogue connector {name}").data[name]
    return connector
