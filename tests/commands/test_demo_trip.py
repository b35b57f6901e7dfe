"""The demo's trip and its variants: what counts, what does not, and what would settle it, as its README.txt tells."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import pytest

from .conftest import Run

GROUND = "lantern-hills/station-on-the-summits-ground"
HEIGHT = "lantern-hills/near-enough-to-the-top"
INSIDE = "basin-preserves/whole-station-inside-boundary"
BUTTE = "claim:lantern-hills/clinker-butte"
WATER = "claim:basin-preserves/tarweed-reservoir"


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    """A copy of the demo's plan with what lies beside it."""
    with as_file(files("afield.programs").joinpath("demo")) as demo:
        shutil.copytree(demo, tmp_path / "demo")
    return tmp_path / "demo" / "trip.yaml"


def outcomes(run: Run, trip: Path, *more: str) -> dict[tuple[str, str], dict[str, Any]]:
    """The verdicts by rule and claim."""
    _, told, problems = run("check", str(trip), "--format", "json", *more)
    assert problems == ""
    return {(verdict["rule"], verdict["subject"]): verdict for verdict in json.loads(told)["verdicts"]}


def edit(path: Path, *changes: tuple[str, str]) -> None:
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


def test_of_four_claims_one_counts_one_does_not_and_two_cannot_be_told(run: Run, trip: Path) -> None:
    status, told, _ = run("check", str(trip))
    assert status == 1
    assert "1 of 4 claims counts; basin-preserves / saltgrass-meadow does not count" in told


def test_the_error_of_the_terrain_leaves_the_butte_open(run: Run, trip: Path) -> None:
    verdict = outcomes(run, trip)[(GROUND, BUTTE)]
    assert (verdict["outcome"], verdict["reason"]["code"]) == ("cannot tell", "within uncertainty")
    assert verdict["settle"]["words"].startswith("Find out more exactly: heights of the terrain grid")


def test_an_altimeter_settles_it(run: Run, trip: Path) -> None:
    edit(trip, ("  # height: {", "  height: {"))
    found = outcomes(run, trip)
    assert (found[(HEIGHT, BUTTE)]["outcome"], found[(GROUND, BUTTE)]["outcome"]) == ("passed", "not applicable")


def test_tape_and_altimeter_settle_all_that_can_be_settled(run: Run, trip: Path) -> None:
    edit(
        trip, ("# measured:", "measured:"), ("#   - fact", "  - fact"), ("#     ", "    "),
        ("  # height: {", "  height: {"),
    )  # fmt: skip
    _, told, _ = run("check", str(trip))
    assert "3 of 4 claims count; basin-preserves / saltgrass-meadow does not count (10 m (32 ft) short)." in told
    status, afloat, _ = run("check", str(trip), "--variant", "boat")
    assert (status, "All claims count." in afloat) == (0, True)


def test_the_boat_counts_by_its_whole_swing_circle(run: Run, trip: Path) -> None:
    verdict = outcomes(run, trip, "--variant", "boat")[(INSIDE, WATER)]
    assert verdict["outcome"] == "passed"
    # From the anchor to the dam, less the circle: the rode's reach and 7 m of boat behind the bow.
    reach = (22**2 - (4 + 1.1) ** 2) ** 0.5 + 7
    assert verdict["margin"]["value"] == pytest.approx(39.0 - reach, abs=0.6)


def test_more_rode_makes_it_doubtful(run: Run, trip: Path) -> None:
    edit(trip, ("rode: 22 m", "rode: 32 m"))
    verdict = outcomes(run, trip, "--variant", "boat")[(INSIDE, WATER)]
    assert (verdict["outcome"], verdict["reason"]["code"]) == ("cannot tell", "within uncertainty")


def test_cautions_for_the_water_are_printed(run: Run, trip: Path, tmp_path: Path) -> None:
    assert run("brief", str(trip), "--variant", "boat", "-o", str(tmp_path / "out"))[0] == 0
    told = (tmp_path / "out" / "briefing.txt").read_text(encoding="utf-8")
    assert "Cold water: about 1 min to master the breath" in told
    assert "swing circle: each may be anywhere within 28.4 m (93.2 ft) of the anchor" in told


def test_the_check_of_the_demo_imports_no_gdal() -> None:
    with as_file(files("afield.programs").joinpath("demo", "trip.yaml")) as plan:
        code = (
            "import sys; from afield.core.cli.running import status_of; "
            f"status_of(['check', {str(plan)!r}]); print(*sorted({{'rasterio', 'pyogrio'}} & set(sys.modules)), 'end')"
        )
        done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "end"
