"""What a command imports before it begins: most of a short command's time would go to it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

RING = "[[-117.4, 39.8], [-117.2, 39.8], [-117.2, 40.0], [-117.4, 40.0], [-117.4, 39.8]]"
AREA = f"""{{"type": "FeatureCollection", "features": [{{"type": "Feature", "properties": {{"name": "wash"}},
"geometry": {{"type": "Polygon", "coordinates": [{RING}]}}}}]}}
"""

RUN = """
import atexit, gc, sys
atexit.register(lambda: print("\\n", gc.get_freeze_count(), *sys.modules, file=sys.stderr))
sys.argv = ["afield", *sys.argv[1:]]
from afield.core.cli import main
main()
"""
"""Runs a command as it is run; as the process ends, tells how many objects are frozen, and every module."""

HEAVY = {
    "attrs", "certifi", "email", "ephem", "jinja2", "jsonschema", "mgrs", "networkx", "numpy", "pint",
    "platformdirs", "pydantic", "pygeomag", "pyogrio", "pyproj", "rasterio", "referencing", "rich", "ruamel", "shapely",
    "typer", "tzdata", "zipfile",
}  # fmt: skip
"""Packages, and modules of the standard library that are slow to import, that `afield near` does without."""
OURS_OF_NEAR = 85
"""Modules of ours that `afield near` may import; each costs a fifth of a millisecond and more."""


class Ran:
    """A command in a process of its own."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        command = [sys.executable, "-c", RUN, *arguments]
        done = subprocess.run(command, cwd=folder, capture_output=True, text=True, encoding="utf-8", check=False)
        self.status, self.out = done.returncode, done.stdout
        self.err, _, told = done.stderr.rpartition("\n \n" if "\n \n" in done.stderr else "\n ")
        frozen, *self.modules = told.split()
        self.frozen = int(frozen)

    @property
    def packages(self) -> set[str]:
        """The packages that it imported."""
        return {name.split(".")[0] for name in self.modules}

    @property
    def ours(self) -> list[str]:
        """Its modules that are of this project."""
        return [name for name in self.modules if name.startswith("afield.")]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """With a catalogue of one area."""
    folder = tmp_path_factory.mktemp("near")
    (folder / "areas.geojson").write_text(AREA)
    built = Ran(folder, "catalogue", "build", "areas.geojson", "-o", "refs.sqlite", "--map-accuracy", "5 m")
    assert (built.status, built.err.strip()) == (0, "")
    return folder


@pytest.fixture(scope="module")
def near(folder: Path) -> Ran:
    return Ran(folder, "near", "39.90412, -117.30288", "--accuracy", "5 m", "--reach", "25 m")


def test_near_imports_nothing_heavy(near: Ran) -> None:
    assert (near.status, near.err.strip()) == (0, "")
    assert "Hold such a station as a whole, all at once: wash" in near.out
    assert "sqlite3" in near.packages
    assert not HEAVY & near.packages


def test_near_imports_few_modules_of_ours(near: Ran) -> None:
    assert 30 < len(near.ours) <= OURS_OF_NEAR, sorted(near.ours)


def test_near_imports_neither_engine_nor_rules(near: Ran) -> None:
    parts = {".".join(name.split(".")[:3]) for name in near.ours}
    unwanted = ("engine", "rules", "packs", "placing", "briefing", "comparing", "authoring")
    assert not parts & {f"afield.core.{part}" for part in unwanted}
    assert "afield.core.host" in parts


def test_every_plugin_is_asked_for_its_commands(near: Ran) -> None:
    """However short the way, a name that two plugins bring, or a plugin that fails, is told."""
    assert {"afield.plugins.outing.plugin", "afield.plugins.geometry.plugin"} <= set(near.modules)


def test_the_json_of_near_is_that_of_the_way_by_typer(folder: Path) -> None:
    plain = Ran(folder, "near", "39.90412, -117.30288", "--format", "json", "--catalogue", "refs.sqlite")
    typers = Ran(folder, "near", "--format", "json", "--catalogue", "refs.sqlite", "--", "39.90412, -117.30288")
    assert (plain.status, plain.out) == (typers.status, typers.out)
    assert plain.out.startswith("{")
    assert ("typer" in plain.packages, "typer" in typers.packages) == (False, True)


def test_the_version_imports_no_command(tmp_path: Path) -> None:
    ran = Ran(tmp_path, "--version")
    assert (ran.status, ran.out) == (0, "0.1.0\n")
    assert not HEAVY & ran.packages


def test_nothing_is_swept_at_the_end(near: Ran) -> None:
    """Without this the interpreter looks through every object once more: a tenth of `afield check`."""
    assert near.frozen > 1000
