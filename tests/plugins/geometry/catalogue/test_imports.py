"""Asking a catalogue imports nothing heavy: that is what most of a short command's time would go to."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from .conftest import Made, collection, feature, square

HEAVY = {"jsonschema", "numpy", "pint", "platformdirs", "pyogrio", "pyproj", "rich", "shapely", "typer"}
ASKED = """
import sys
from pathlib import Path
from afield.plugins.geometry.catalogue.asked import position_asked, within_m
from afield.plugins.geometry.catalogue.findings import findings
from afield.plugins.geometry.catalogue.opening import opened
from afield.plugins.geometry.catalogue.saying import near_text
with opened(Path(sys.argv[1]), "refs.sqlite") as connection:
    found = findings(connection, "refs.sqlite", position_asked(sys.argv[2], "5 m", "95%"), within_m("5 km"), 25.0)
assert len(found["references"]) == 3 and "inside" in near_text(found)
print(*sorted({name.split(".")[0] for name in sys.modules}))
"""


@pytest.mark.parametrize("position", ["39.90412, -117.30288", "39 54.247 N 117 18.173 W", "DM19iv"])
def test_a_plain_answer_needs_no_library(made: Made, tmp_path: Path, position: str) -> None:
    shapes = [
        feature("wash", "Polygon", [square(-117.3, 39.9, 0.01), square(-117.3, 39.9, 0.001)]),
        feature("trail", "LineString", [[-117.3, 39.9], [-117.2, 39.9]]),
        feature("peak", "Point", [-117.3, 39.9]),
    ]
    made({"all.geojson": collection(shapes)})
    command = [sys.executable, "-c", ASKED, str(tmp_path / "refs.sqlite"), position]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    loaded = set(done.stdout.split())
    assert "sqlite3" in loaded
    assert not HEAVY & loaded
