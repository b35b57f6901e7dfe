"""A plugin of its own distribution, written whole: it installs and keeps all promises, and is changed from there."""

from __future__ import annotations

import keyword
import re
from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from afield.core import __version__
from afield.core.documents.writing import UsageError
from afield.core.engine import Engine
from afield.core.host.composition import plan_schema

NAME = re.compile("[a-z][a-z0-9]*")
LONGEST = 30
WORD = re.compile("@(name|package|distribution|afield)@")
ENDING = ".txt"
"""Of the templates, so that no tool takes them for code of afield."""


def plugin_files(name: str, engine: Engine) -> dict[str, str]:
    """The files of a new plugin: path below its folder -> text.

    Args:
        name: the plugin's name, also of what it adds to a plan, and how its facts begin.
        engine: the plugins that it must fit beside.

    Raises:
        UsageError: no fit name, or one that is taken.

    """
    refuse_name(name, engine)
    package = f"afield_{name}"
    words = {"name": name, "package": package, "distribution": distribution_of(name), "afield": __version__}
    found = {}
    for path, template in _templates(files(__package__).joinpath("templates"), ()):
        place = "/".join(_placed(path, name, package)).removesuffix(ENDING)
        found[place] = WORD.sub(lambda match: words[match[1]], template.read_text(encoding="utf-8"))
    return found


def distribution_of(name: str) -> str:
    """What pip calls it."""
    return f"afield-{name}"


def folder_for(name: str, folder: Path | None) -> Path:
    """Where a new plugin is written."""
    return folder if folder is not None else Path(distribution_of(name))


def refuse_name(name: str, engine: Engine) -> None:
    """Refuse a name that Python, pip or a plan could not use, or that something has already.

    Raises:
        UsageError: with what to write instead.

    """
    if not NAME.fullmatch(name) or keyword.iskeyword(name) or len(name) > LONGEST:
        advice = f"Write one lower-case word of up to {LONGEST} letters, for example: jetty"
        raise UsageError(f"{name} is no name for a plugin\n    = {advice}")
    if name in engine.host.plugins:
        raise UsageError(f"a plugin {name} is installed already\n    = Choose another name, or change that one.")
    registry = engine.registry
    if name in plan_schema(registry.fragments, registry.incomplete)["properties"]:
        raise UsageError(f"a plan has a property {name} already\n    = Choose another name.")
    taken = next((fact for fact in registry.facts if fact.startswith(f"{name}.")), None)
    if taken is not None:
        what = f"{registry.owners[taken]} has facts that begin with {name}, such as {taken}"
        raise UsageError(f"{what}\n    = Choose another name.")


def _templates(folder: Traversable, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Traversable]]:
    for entry in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if entry.is_dir():
            yield from _templates(entry, (*path, entry.name))
        elif entry.name.endswith(ENDING):
            yield (*path, entry.name), entry


def _placed(path: tuple[str, ...], name: str, package: str) -> tuple[str, ...]:
    """The template's path with the names that the plugin gives its folders."""
    if path[0] != "package":
        return path
    renamed = [f"{name}-rules" if step == "rules" else step for step in path[1:]]
    return (package, *renamed)
