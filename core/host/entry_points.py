"""Entry points of a group, read from what each installed distribution says of itself.

The standard library's `importlib.metadata` does the same and more, and to import it takes a fifth of the time that
`afield near` may take as a whole. Where anything but plain folders may hold a distribution, it is asked.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from importlib.machinery import PathFinder
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

SUFFIXES = (".dist-info", ".egg-info")


class Installed:
    """An installed distribution, by the folder that says what it is."""

    def __init__(self, folder: str) -> None:
        self._folder = folder

    @property
    def name(self) -> str:
        """Its name, as it says."""
        return self._header("Name")

    @property
    def version(self) -> str:
        """Its version, as it says."""
        return self._header("Version")

    def _header(self, field: str) -> str:
        """A field of the headers. Source: Python Packaging User Guide, Core metadata specifications."""
        text = _text(self._folder, "METADATA") or _text(self._folder, "PKG-INFO")
        headers = (line.partition(":") for line in text.partition("\n\n")[0].splitlines())
        return next((value.strip() for key, _, value in headers if key.lower() == field.lower()), "?")


class InstalledPoint(NamedTuple):
    """An entry point: what it is called in its group, the module that it names, and whose it is."""

    name: str
    module: str
    dist: Installed


def entry_points(group: str) -> Sequence[EntryPoint | InstalledPoint]:
    """The entry points of a group, of each distribution that Python finds first by its name."""
    if _only_folders():
        return list(_in_folders(group))
    from importlib import metadata

    return list(metadata.entry_points(group=group))


def _only_folders() -> bool:
    """Whether distributions can stand in plain folders only: not in archives, nor where a finder of its own looks."""
    if any(hasattr(finder, "find_distributions") for finder in sys.meta_path if finder is not PathFinder):
        return False
    return not any(os.path.isfile(path) or path.lower().rstrip("/").endswith(".egg") for path in sys.path)


def _in_folders(group: str) -> Iterator[InstalledPoint]:
    for folder in _first_of_each_name(sys.path):
        text = _text(folder, "entry_points.txt")
        if group in text:
            installed = Installed(folder)
            yield from (InstalledPoint(name, module, installed) for name, module in _listed(text, group))


def _first_of_each_name(paths: Iterable[str]) -> Iterator[str]:
    known: set[str] = set()
    for path in paths:
        for entry in _entries(path or "."):
            name = _normal(entry)
            if name not in known:
                known.add(name)
                yield os.path.join(path, entry)


def _entries(path: str) -> list[str]:
    try:
        return [entry for entry in os.listdir(path) if entry.lower().endswith(SUFFIXES)]
    except OSError:
        return []  # a path that is not there is passed over, as by an import


def _normal(entry: str) -> str:
    """The distribution's name by its folder's. Source: Python Packaging User Guide, Names and normalization."""
    return re.sub(r"[-_.]+", "-", os.path.splitext(entry)[0].partition("-")[0]).lower()


def _text(folder: str, name: str) -> str:
    try:
        with open(os.path.join(folder, name), encoding="utf-8", errors="replace") as stream:
            return stream.read()
    except OSError:
        return ""


def _listed(text: str, group: str) -> Iterator[tuple[str, str]]:
    """Name and module of each entry. Source: Python Packaging User Guide, Entry points specification, File format."""
    section = ""
    for line in map(str.strip, text.splitlines()):
        if line.startswith("[") and line.endswith("]"):
            section = line.strip("[]")
        elif section == group and line and not line.startswith("#"):
            name, _, value = line.partition("=")
            yield name.strip(), re.split(r"[:\[]", value, maxsplit=1)[0].strip()
