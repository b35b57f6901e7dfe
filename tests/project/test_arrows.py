"""Imports run one way: plugins -> afield.core.api -> the parts of core, each importing only what stands before it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ORDER = (
    "frozen", "language", "quantities", "documents", "facts", "host", "rules", "packs", "placing", "report",
    "report.formats", "briefing", "comparing", "engine", "api", "authoring", "authoring.plugins", "authoring.lint",
    "authoring.sampling", "authoring.mutation", "authoring.difference", "authoring.scaffold", "authoring.rulebook",
    "cli", "testing",
)  # fmt: skip
"""The parts of core; each may import itself and what stands before it."""

EXCEPTIONS = {
    ("afield.core.cli.plugin_check", "testing"): "`afield plugin check` runs the kit for check values",
}
"""(module, part): why it may reach ahead."""

AHEAD_FOR_TYPES = {
    ("afield.core.host.hookspecs", "api"),
}
"""Imports that only type checkers see, and that reach ahead."""


def imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every import of a module, also within functions, as (dotted name, dots before it)."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((alias.name, 0) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            yield from ((f"{base}.{alias.name}", node.level) for alias in node.names)


def part_of(module: str) -> str | None:
    """The part of core that a module, or a name within it, belongs to."""
    inner = module.removeprefix("afield.core").removeprefix(".")
    fitting = [part for part in ORDER if inner == part or inner.startswith(f"{part}.")]
    return max(fitting, key=len) if fitting else None


@pytest.fixture(scope="module")
def imported(modules: dict[str, Path]) -> dict[str, list[tuple[str, int]]]:
    """Module -> its imports."""
    return {name: list(imports(path)) for name, path in modules.items()}


def test_no_import_is_relative_or_skips_the_name_afield(all_files: list[Path], root: Path) -> None:
    bare = ("core", "plugins", "programs", "schemas", "tests")
    wrong = [
        f"{path}: {name}"
        for path in all_files
        if path.suffix == ".py"
        for name, dots in imports(root / path)
        if (dots and path.parts[0] != "tests") or (not dots and name.split(".")[0] in bare)
    ]
    assert not wrong


def test_every_module_of_core_stands_in_the_order(modules: dict[str, Path]) -> None:
    inner = [name for name in modules if name.startswith("afield.core.")]
    assert len(inner) > 50
    assert not [name for name in inner if part_of(name) is None]


def test_each_part_of_core_imports_only_what_stands_before_it(imported: dict[str, list[tuple[str, int]]]) -> None:
    wrong = [
        f"{module}: {name}"
        for module, names in imported.items()
        for name, _ in names
        if (mine := part_of(module)) and (other := part_of(name)) and name.startswith("afield.core.")
        if ORDER.index(other) > ORDER.index(mine) and (module, other) not in EXCEPTIONS
    ]
    assert not wrong


def test_no_exception_is_left_that_nobody_needs(imported: dict[str, list[tuple[str, int]]]) -> None:
    needed = {(module, part_of(name)) for module, names in imported.items() for name, _ in names}
    assert needed >= EXCEPTIONS.keys()


def test_core_imports_no_plugin_and_no_program(imported: dict[str, list[tuple[str, int]]]) -> None:
    wrong = [
        f"{module}: {name}"
        for module, names in imported.items()
        if module.startswith("afield.core")
        for name, _ in names
        if name.startswith(("afield.plugins", "afield.programs"))
    ]
    assert not wrong


def test_plugins_import_the_api_their_own_package_and_third_parties(imported: dict[str, list[tuple[str, int]]]) -> None:
    wrong = [
        f"{module}: {name}"
        for module, names in imported.items()
        if module.startswith("afield.plugins.")
        for name, _ in names
        if name.startswith("afield.")
        if not name.startswith(("afield.core.api.", f"{'.'.join(module.split('.')[:3])}."))
    ]
    assert not wrong
