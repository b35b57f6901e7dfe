"""The wheel holds the house and nothing else, and its command works."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def packed(wheel: Path) -> set[str]:
    """The wheel's files without those that describe it."""
    names = zipfile.ZipFile(wheel).namelist()
    return {name for name in names if ".dist-info/" not in name}


def test_every_file_of_the_house_is_in_the_wheel(packed: set[str], house_files: list[Path]) -> None:
    missing = {f"afield/{path.as_posix()}" for path in house_files} - packed
    assert not missing, f"name their packages or endings in [tool.setuptools] of pyproject.toml: {sorted(missing)}"


def test_the_wheel_holds_nothing_but_the_house(packed: set[str], house_files: list[Path]) -> None:
    assert packed <= {f"afield/{path.as_posix()}" for path in house_files}


def test_afield_itself_is_a_namespace_and_its_parts_are_typed(packed: set[str]) -> None:
    assert "afield/__init__.py" not in packed
    assert {f"afield/{name}/py.typed" for name in ("core", "plugins", "programs", "schemas")} <= packed


def test_the_licence_goes_with_the_wheel(wheel: Path, root: Path) -> None:
    archive = zipfile.ZipFile(wheel)
    licence = next(name for name in archive.namelist() if name.endswith(".dist-info/licenses/LICENSE"))
    assert archive.read(licence) == (root / "LICENSE").read_bytes()


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """The installed command, with the installed wheel before anything else."""
    command = [sys.executable, str(folder / "bin" / "afield"), *arguments]
    environment = {**os.environ, "PYTHONPATH": str(folder)}
    return subprocess.run(command, capture_output=True, text=True, cwd=folder, env=environment, check=False)


def test_the_command_of_the_wheel_makes_the_demo(installed_wheel: Path, tmp_path: Path) -> None:
    done = run(installed_wheel, "demo", str(tmp_path / "demo"))
    assert (done.returncode, done.stderr) == (0, "")
    assert (tmp_path / "demo" / "briefing" / "briefing.html").stat().st_size > 10_000
    assert (tmp_path / "demo" / "README.txt").is_file()


def test_the_command_of_the_wheel_runs_the_wheel(installed_wheel: Path) -> None:
    code = "import afield.core, afield.plugins.outing, afield.programs, afield.schemas, sys; "
    code += "print([m.__file__ for n, m in sys.modules.items() if n.startswith('afield.')])"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True, text=True, cwd=installed_wheel, env={**os.environ, "PYTHONPATH": str(installed_wheel)},
        check=True,
    )  # fmt: skip
    assert done.stdout.count(str(installed_wheel)) >= 4
    assert run(installed_wheel, "--version").stdout == "0.1.0\n"
