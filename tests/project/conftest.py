"""The tree under test and a wheel built from it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
HOUSE = ("core", "plugins", "programs", "schemas")
REST = ("README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", ".gitignore", ".ci", ".pictures", "tests")
CACHES = ("__pycache__", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".hypothesis")


def files_below(*names: str) -> list[Path]:
    """Every file of the tree below these names, caches left out, relative to the root."""
    tops = [ROOT / name for name in names]
    found = [path for top in tops for path in ([top] if top.is_file() else top.rglob("*")) if path.is_file()]
    return sorted(path.relative_to(ROOT) for path in found if not set(path.parts) & set(CACHES))


@pytest.fixture(scope="session")
def root() -> Path:
    """The folder of the project."""
    return ROOT


@pytest.fixture(scope="session")
def house_files() -> list[Path]:
    """The files of the four folders that are installed, relative to the root."""
    return files_below(*HOUSE)


@pytest.fixture(scope="session")
def all_files() -> list[Path]:
    """The files of the project, relative to the root."""
    return files_below(*HOUSE, *REST)


@pytest.fixture(scope="session")
def modules(house_files: list[Path]) -> dict[str, Path]:
    """Dotted import name -> file, of every module of core and plugins."""
    files = [path for path in house_files if path.suffix == ".py" and path.parts[0] in ("core", "plugins")]
    return {".".join(("afield", *path.with_suffix("").parts)).removesuffix(".__init__"): ROOT / path for path in files}


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel of the tree, built without network and without what an earlier build has left in it."""
    copy, into = tmp_path_factory.mktemp("tree"), tmp_path_factory.mktemp("wheel")
    for name in ("README.md", "LICENSE", "pyproject.toml"):
        shutil.copy(ROOT / name, copy)
    for name in HOUSE:
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns(*CACHES))
    pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(into), str(copy))
    return next(into.glob("*.whl"))


@pytest.fixture(scope="session")
def installed_wheel(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder into which the wheel alone is installed."""
    folder = tmp_path_factory.mktemp("installed")
    pip("install", "--no-deps", "--no-index", "--target", str(folder), str(wheel))
    return folder


def pip(*arguments: str) -> None:
    """Run pip; what it says is shown if it fails."""
    subprocess.run([sys.executable, "-m", "pip", "--quiet", *arguments], check=True, env=os.environ, text=True)
