"""What the plugins' schema fragments say beyond their schema: subjects (x-kind, x-key) and stated facts (x-fact)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from afield.core.facts.declarations import Fact, Kind, Tool
from afield.core.host.hookspecs import Fragment
from afield.core.quantities import DIMENSIONS

SUBJECT_OF_DOCUMENT = {"plan": "trip", "references": "claim"}
"""Kind of subject that a property outside any array with x-kind states its fact of."""

KindsByPath = Mapping[str, str]
"""Path of an array's item ("station.parts[]") -> kind of the subject that it makes."""


def kinds_by_path(fragments: Iterable[Fragment]) -> dict[str, str]:
    """Which arrays of the plan make subjects, core's claims included."""
    found = {"claims[]": "claim"}
    for fragment in fragments:
        prefix = () if fragment.at == "/" else tuple(fragment.at.split("."))
        for path, schema in walked(fragment.properties, prefix):
            if "x-kind" in schema:
                found[".".join(path) + "[]"] = schema["x-kind"]
    return found


def kind_of(document: str, path: tuple[str, ...], kinds: KindsByPath) -> str:
    """The kind whose subjects a property at the path belongs to: that of the innermost array with x-kind around it."""
    around = [".".join(path[: length + 1]) for length in range(len(path))]
    inner = [kinds[place] for place in around if place in kinds]
    return inner[-1] if document == "plan" and inner else SUBJECT_OF_DOCUMENT[document]


def stated_kinds(fragment: Fragment, kinds: KindsByPath) -> list[Kind]:
    """The kinds of subject that a fragment's arrays make, each within the kind around it."""
    return [
        Kind(
            schema["x-kind"], (kind_of(fragment.document, path, kinds),), schema["items"].get("title", schema["x-kind"])
        )
        for path, schema in _properties(fragment)
        if "x-kind" in schema
    ]


def stated_facts(fragment: Fragment, kinds: KindsByPath) -> list[Fact]:
    """The facts that a fragment's leaves state."""
    return [
        stated_fact(schema, kind_of(fragment.document, path, kinds))
        for path, schema in _properties(fragment)
        if "x-fact" in schema
    ]


def _properties(fragment: Fragment) -> Iterator[tuple[tuple[str, ...], Mapping[str, Any]]]:
    return walked(fragment.properties, () if fragment.at == "/" else tuple(fragment.at.split(".")))


def walked(properties: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Mapping[str, Any]]]:
    """Every property below an object with its path; the items of an array `parts` lie at `parts[]`."""
    for name, schema in properties.items():
        yield (*path, name), schema
        items = schema.get("items", {})
        if "properties" in items:
            yield from walked(items["properties"], (*path, f"{name}[]"))
        elif "properties" in schema and "x-fact" not in schema:
            yield from walked(schema["properties"], (*path, name))


def stated_fact(schema: Mapping[str, Any], kind: str) -> Fact:
    """The fact that a leaf marked x-fact states; number with a unit where it has a dimension."""
    dimension = schema.get("x-dimension")
    unit = schema.get("x-unit", DIMENSIONS[dimension] if dimension else None)
    type_ = schema.get("x-type") or ("number" if dimension else _fact_type(schema))
    unit = "" if unit is None and type_ == "number" else unit
    tool = schema.get("x-tool")
    return Fact(
        name=schema["x-fact"], kind=kind, type=type_, unit=unit if type_ == "number" else None,
        title=schema.get("title", schema["x-fact"]), exact=bool(schema.get("x-exact", not dimension)),
        default_uncertainty=schema.get("x-default-uncertainty"), tool=Tool(**tool) if tool else None,
        settle=schema.get("x-settle"), choices=tuple(schema.get("enum", ())), stated=True,
    )  # fmt: skip


def _fact_type(schema: Mapping[str, Any]) -> str:
    names = {"string": "text", "boolean": "bool", "number": "number", "integer": "number", "array": "list"}
    return names.get(str(schema.get("type")), "opaque")
