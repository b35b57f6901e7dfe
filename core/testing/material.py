"""What a plugin is tried with: its check values, the plans that reach its facts, and what it says of itself."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import field
from pathlib import Path
from types import ModuleType
from typing import Any

from afield.core.frozen import frozen
from afield.core.host.entry_points import entry_points
from afield.core.host.loading import GROUP
from afield.core.testing.checkfiles import check_file, loaded

CHECKS_FOLDER = "checks"
"""Folder beside a plugin's registration module."""


@frozen(slots=False)
class Probe:
    """How the inverse of a fact is tried: candidates for what is free, each judged forward and looked for in a region.

    Attributes:
        facts: names of the facts that say what is free, such as `station.at`.
        free: trip -> what is free, as the inverse takes it.
        candidates: trip -> candidates.
        patch: candidate -> the merge patch of the plan that chooses it.
        inside: (region, candidate) -> whether it lies in the region; None where it is too near the edge to say.

    """

    facts: tuple[str, ...]
    free: Callable[[Any], Any]
    candidates: Callable[[Any], Iterable[Any]]
    patch: Callable[[Any], Mapping[str, Any]]
    inside: Callable[[Any, Any], bool | None]


@frozen(slots=False)
class Material:
    """What a plugin is tried with.

    Attributes:
        files: check files, as in `checkfiles`; each may also hold `without`, `outside` and `monotonic`.
        bindings: folder of the modules that adapt the cases' inputs.
        plans: plans that reach the plugin's facts.
        probes: fact -> how its inverse is tried.

    """

    files: tuple[Path, ...] = ()
    bindings: Path | None = None
    plans: tuple[Path, ...] = ()
    probes: Mapping[str, Probe] = field(default_factory=dict)


@frozen(slots=False)
class Declared:
    """What check files say beyond their cases.

    Attributes:
        without: computation -> why it has no check values.
        outside: calls outside of a validity: `computation`, `inputs`; where it widens an interval in place of raising,
            also `widens` (the key of the result that grows) and `beside` (inputs within the validity).
        monotonic: `computation`, `input`, `from`, `to`, `goes` (up or down), the other `inputs`, and `of`, the key of
            the result, where it has several.

    """

    without: Mapping[str, str] = field(default_factory=dict)
    outside: tuple[Mapping[str, Any], ...] = ()
    monotonic: tuple[Mapping[str, Any], ...] = ()


def material_in(folder: Path) -> Material:
    """The material in a folder: `plan*.yaml`, other YAML files as check files, `bindings/`, and `probes.py`."""
    plans = tuple(sorted(folder.glob("plan*.yaml")))
    files = tuple(path for path in sorted(folder.glob("*.yaml")) if path not in plans)
    bindings = folder / "bindings"
    return Material(files, bindings if bindings.is_dir() else None, plans, _probes(folder / "probes.py"))


def shipped_material(plugin: str) -> Material:
    """The material that came with an installed plugin, in the folder `checks` beside its registration module."""
    module = registration_module(plugin)
    file = getattr(module, "__file__", None)
    return material_in(Path(file).parent / CHECKS_FOLDER) if file else Material()


def registration_module(plugin: str) -> ModuleType | None:
    """The registration module of an installed plugin; None where no distribution brings it."""
    point = next((point for point in entry_points(group=GROUP) if point.name == plugin), None)
    return importlib.import_module(point.module) if point is not None else None


def declared_in(files: Iterable[Path]) -> Declared:
    """What the check files say beyond their cases, together; a file that cannot be read says nothing here."""
    texts = [text for path in files if isinstance(text := read_check_file(path), Mapping)]
    without = {name: why for text in texts for name, why in (text.get("without") or {}).items()}
    outside = [entry for text in texts for entry in text.get("outside") or ()]
    monotonic = [entry for text in texts for entry in text.get("monotonic") or ()]
    return Declared(without, tuple(outside), tuple(monotonic))


def read_check_file(path: Path) -> Mapping[str, Any] | str:
    """What a check file holds, or why it cannot be read."""
    try:
        found: Any = check_file(path)
    except Exception as error:  # whatever a YAML reader makes of a stranger's file
        return " ".join(f"{type(error).__name__}: {error}".split())
    return found if isinstance(found, Mapping) else "it holds no mapping"


def _probes(path: Path) -> Mapping[str, Probe]:
    if not path.is_file():
        return {}
    found: Mapping[str, Probe] = loaded(path).PROBES
    return found
