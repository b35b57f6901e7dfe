"""The plan's schema: core's own properties and those that plugins add at named objects, each object then closed."""

from __future__ import annotations

import json
from collections.abc import Iterable
from copy import deepcopy
from functools import cache
from importlib.resources import files
from typing import Any

from afield.core.host.hookspecs import Fragment
from afield.core.host.loading import PluginInfo, SetupError

Schema = dict[str, Any]


@cache
def shipped_schema(name: str) -> Schema:
    """A schema of `afield.schemas`, by its file name without the ending; read once, so nobody may change it."""
    loaded: Schema = json.loads(files("afield.schemas").joinpath(f"{name}.json").read_text(encoding="utf-8"))
    return loaded


def composed(base: Schema, fragments: Iterable[tuple[PluginInfo, Fragment]], incomplete: bool = False) -> Schema:
    """The base schema with every fragment merged at its object, and every object closed.

    Args:
        base: core's own part.
        fragments: those that plugins add.
        incomplete: a plugin failed to say what it adds. Objects are then left open: what the user wrote may be that
            plugin's, and the fault is not the user's.

    Raises:
        SetupError: a property contributed twice, or an object that nobody declares.

    """
    schema = deepcopy(base)
    owners: dict[tuple[str, str], PluginInfo] = {}
    for plugin, fragment in sorted(fragments, key=lambda pair: _depth(pair[1].at)):
        target = _object_at(schema, fragment.at)
        if target is None and incomplete:
            continue
        if target is None:
            what = f"{plugin} adds properties at {fragment.at}, an object that no installed plugin declares"
            raise SetupError(what, "Install the plugin that declares it.")
        _merge(target, plugin, fragment, owners)
    if not incomplete:
        closed(schema)
    return schema


def _depth(at: str) -> int:
    return 0 if at == "/" else len(at.split("."))


def _object_at(schema: Schema, at: str) -> Schema | None:
    found: Schema | None = schema
    for step in [] if at == "/" else at.split("."):
        found = (found or {}).get("properties", {}).get(step.removesuffix("[]"))
        if found is not None and step.endswith("[]"):
            found = found.get("items")
    return found


def _merge(target: Schema, plugin: PluginInfo, fragment: Fragment, owners: dict[tuple[str, str], PluginInfo]) -> None:
    properties = target.setdefault("properties", {})
    for name, schema in fragment.properties.items():
        if name in properties:
            first = owners.get((fragment.at, name))
            raise SetupError(
                f"the property {name} at {fragment.at} is contributed by {first or 'core'} and by {plugin}",
                "Uninstall one of the two plugins, or rename the property in one of them.",
            )
        properties[name] = deepcopy(dict(schema))
        owners[fragment.at, name] = plugin
    if fragment.required:
        target["required"] = [*target.get("required", []), *fragment.required]


def closed(schema: Any) -> None:
    """Close every object of a schema that lists its properties, in place: an unknown key is an error, never ignored."""
    if isinstance(schema, dict):
        if "properties" in schema and "x-open" not in schema:
            schema.setdefault("additionalProperties", False)
        for inner in schema.values():
            closed(inner)
    elif isinstance(schema, list):
        for inner in schema:
            closed(inner)


def plan_schema(fragments: Iterable[tuple[PluginInfo, Fragment]], incomplete: bool = False) -> Schema:
    """The schema of a plan, bundled in one piece for editors; `incomplete` as in `composed`."""
    return composed(shipped_schema("plan"), [pair for pair in fragments if pair[1].document == "plan"], incomplete)


def references_schema(fragments: Iterable[tuple[PluginInfo, Fragment]], incomplete: bool = False) -> Schema:
    """The schema of a pack's references; `incomplete` as in `composed`."""
    mine = [(plugin, _in_entries(fragment)) for plugin, fragment in fragments if fragment.document == "references"]
    return composed(shipped_schema("references"), mine, incomplete)


def _in_entries(fragment: Fragment) -> Fragment:
    at = "references[]" if fragment.at == "/" else f"references[].{fragment.at}"
    return Fragment(fragment.document, at, fragment.properties, fragment.required)
