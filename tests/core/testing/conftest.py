"""Plugins written for a test, installed as pip would leave them."""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable, Iterator
from importlib.metadata import entry_points
from pathlib import Path

import pytest

from afield.core.engine import Engine
from afield.core.host.loading import GROUP, installed_host
from afield.core.testing.conformance import conformance
from afield.core.testing.findings import Finding

Written = Callable[[str, dict[str, str]], list[Finding]]


@pytest.fixture(scope="module")
def examined(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Written]:
    """Writes a plugin of the name with these files, and gives what the kit finds of it, no other plugin beside."""
    with pytest.MonkeyPatch.context() as patch:

        def findings(name: str, files: dict[str, str]) -> list[Finding]:
            folder = tmp_path_factory.mktemp(name)
            install(folder, name, files)
            patch.syspath_prepend(str(folder))
            importlib.invalidate_caches()
            point = next(point for point in entry_points(group=GROUP) if point.name == name)
            return conformance(name, Engine(installed_host([point])))

        yield findings
        for module in [module for module in sys.modules if module.startswith("toy_of_")]:
            del sys.modules[module]


def install(folder: Path, name: str, files: dict[str, str]) -> None:
    package = folder / f"toy_of_{name}"
    for path, text in {"__init__.py": "", **files}.items():
        target = package / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    about = folder / f"{name}-1.0.dist-info"
    about.mkdir()
    (about / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n")
    (about / "entry_points.txt").write_text(f"[{GROUP}]\n{name} = toy_of_{name}.plugin\n")
