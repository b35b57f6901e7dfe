"""`afield place`: what it prints and writes, and with which status it ends."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import pytest

from .conftest import Run

FILES = ("placement.html", "placement.geojson", "placement.gpx", "placement.kml", "placement.json")
CAUTIONS = """\
Places are found on the map only. Whether there is land there at all, ground, water, cliffs, power lines,
fences and leave to be there are not looked at: judge them when you stand there.
Only what the rules ask of the place is sought. The heights of trees, wires and masts are not in it.
The uncertainty of the map and of a fix as stated above is taken off already; a worse fix needs more room.
"""
NOWHERE = """\
Cinder Wash, 2026-06-27
No place and bearing was found at which all 3 claims count.

Nearest miss
  39.904435, -117.303328
  from the position in the plan: 51.8 m (170 ft) at 312° true, 300° by compass
  wire: 130° true, 118° by compass
  too little by 40 m (131 ft), limits and uncertainty together
  failed: The whole station stays inside the corridor (my-road/cinder-crossing): margin -39 ft ± 23 ft (95 %;
    -12 m ± 7 m)
  failed: The whole station stands inside (my-basin/yard): margin -28 m ± 7 m (95 %; -92 ft ± 22 ft)

What can be had together
  my-basin/juniper-basin, my-road/cinder-crossing

Each claim alone, laid as planned
  my-road / cinder-crossing: nowhere in the window for sure
  my-basin / juniper-basin: 40 000 m² of the window
  my-basin / yard: nowhere in the window for sure

At no bearing the wire was found to fit for sure.

Looked at 100 m (328 ft) to each side of 39.90412, -117.30288; the place will be found to 5 m (68 %).
"""
FITTING = """\
Cinder Wash, 2026-06-27
Here all 2 claims count.

Nearest, laid as planned
  39.904120, -117.302880
  the position in the plan
  from the access point: 265 m (869 ft) at 248° true, 236° by compass
  wire: 040° true, 028° by compass
  laid so, the position may move by 2.7 m (8.9 ft) before a claim is lost

Most room
  39.904101, -117.302825
  from the position in the plan: 5.1 m (16.7 ft) at 115° true, 102° by compass
  from the access point: 261 m (858 ft) at 248° true, 235° by compass
  wire: 091° true, 079° by compass
  room beyond limits and uncertainty: 16.3 m (53.6 ft)
  laid so, the position may move by 16.3 m (53.6 ft) before a claim is lost

Each claim alone, laid as planned
  my-road / cinder-crossing: 12 379 m² of the window
  my-basin / juniper-basin: 360 000 m² of the window

The wire fits somewhere at every bearing that was tried, 15° apart.

Looked at 300 m (984 ft) to each side of 39.90412, -117.30288; the place will be found to 5 m (68 %).
"""


def placed(run: Run, *more: str) -> tuple[int, str, str]:
    """The demo's plan placed."""
    with as_file(files("afield.programs").joinpath("demo", "trip.yaml")) as plan:
        return run("place", str(plan), "--within", "300 m", *more)


def test_one_that_fits(base: Path, run: Run) -> None:
    words = ("place", "trip.yaml", "--within", "300 m", "--from", "39.905,-117.300")
    assert run(*words) == (0, FITTING + CAUTIONS, "")


def test_the_demo_fits(run: Run) -> None:
    status, out, err = placed(run)
    claims = json.loads(placed(run, "--format", "json")[1])["claims"]
    assert (status, err, out.splitlines()[1].startswith(f"Here all {len(claims)} claims count.")) == (0, "", True)


def test_one_that_fits_nowhere(base: Path, run: Run) -> None:
    west, east, south, north = -117.30308, -117.30268, 39.90402, 39.90427
    ring = [[west, south], [east, south], [east, north], [west, north], [west, south]]
    claim_own_area(base, "yard", ring)
    text = (base / "trip.yaml").read_text(encoding="utf-8").replace("distance: 15 m", "distance: 100 m")
    (base / "trip.yaml").write_text(text, encoding="utf-8")
    assert run("place", "trip.yaml", "--within", "100 m") == (1, NOWHERE + CAUTIONS, "")


def claim_own_area(base: Path, name: str, ring: list[list[float]]) -> None:
    """Claim an area that the plan itself brings."""
    area = {"type": "Feature", "id": name, "properties": {}, "geometry": {"type": "Polygon", "coordinates": [ring]}}
    (base / f"{name}.geojson").write_text(json.dumps(area), encoding="utf-8")
    geometry = f"{{kind: area, file: {name}.geojson, id: {name}, map_accuracy: 1 m}}"
    claim = f"  - {{program: my-basin, reference: {name}, geometry: {geometry}}}\n"
    text = (base / "trip.yaml").read_text(encoding="utf-8")
    (base / "trip.yaml").write_text(text.replace("packs:", f"{claim}packs:"), encoding="utf-8")


def test_an_antenna_that_is_not_described_cannot_be_placed(base: Path, run: Run) -> None:
    text = (base / "trip.yaml").read_text(encoding="utf-8").replace("role: antenna", "role: mast")
    (base / "trip.yaml").write_text(text, encoding="utf-8")
    status, out, err = run("place", "trip.yaml")
    assert (status, err) == (3, "")
    assert "Whether all 2 claims count anywhere here cannot be told." in out
    assert "the plan has no antenna: add a part with `role: antenna` and where it lies" in out


def test_a_plan_that_stands_nowhere_needs_a_middle(base: Path, run: Run) -> None:
    text = (base / "trip.yaml").read_text(encoding="utf-8")
    at = "  at: {lat: 39.90412, lon: -117.30288, accuracy: 5 m, level: 68 %}\n"
    (base / "trip.yaml").write_text(text.replace(at, ""), encoding="utf-8")
    assert run("place", "trip.yaml") == (3, "", (
        "cannot tell: position of the station is not stated\n"
        "    = Write `station.at` in the plan, or name the middle of the window with --around LAT,LON.\n"
    ))  # fmt: skip
    middle = ("--around", "39.90412,-117.30288")
    assert run("place", "trip.yaml", *middle)[0] == 2
    status, out, _ = run("place", "trip.yaml", *middle, "--accuracy", "5 m", "--within", "200 m")
    assert (status, "from the position in the plan" in out) == (0, False)
    assert "\nNearest to the middle of the window, laid as planned\n" in out


def test_a_locator_is_a_middle_once_the_accuracy_is_given(base: Path, run: Run) -> None:
    text = (base / "trip.yaml").read_text(encoding="utf-8")
    at = "{lat: 39.90412, lon: -117.30288, accuracy: 5 m, level: 68 %}"
    (base / "trip.yaml").write_text(text.replace(at, "{locator: DM19iv37}"), encoding="utf-8")
    status, out, _ = run("place", "trip.yaml", "--accuracy", "5 m", "--within", "500 m")
    assert status in (0, 1)
    assert "the place will be found to 5 m (68 %)" in out


def test_a_worse_fix_leaves_less_room(run: Run) -> None:
    answers = [json.loads(placed(run, "--format", "json", "--accuracy", fix)[1]) for fix in ("3 m", "8 m")]
    rooms = [answer["best"]["room_m"] for answer in answers]
    assert rooms[0] > rooms[1] + 5


def test_references_on_other_continents_are_told_at_once(base: Path, run: Run) -> None:
    claim_own_area(base, "far", [[151, -33], [151.2, -33], [151, -33.2], [151, -33]])
    status, out, _ = run("place", "trip.yaml", "--within", "200 m")
    assert status == 1
    away = "it is 12 400 km from the middle of the window: no position in it can count for it"
    assert f"  my-basin / far: nowhere in the window for sure\n    wherever the station stands: {away}\n" in out
    assert "What can be had together\n  my-basin/juniper-basin, my-road/cinder-crossing\n" in out


def test_everything_is_written(base: Path, run: Run) -> None:
    status, out, err = placed(run, "-o", "out")
    assert (status, err) == (0, "")
    assert out.endswith("out/placement.html is written; print it, or open it on the phone.\n")
    assert sorted(path.name for path in (base / "out").iterdir()) == sorted(FILES)
    found = json.loads((base / "out" / "placement.json").read_text(encoding="utf-8"))
    assert found["outcome"] == "fits"
    assert (base / "out" / "placement.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_json_is_json_alone(base: Path, run: Run) -> None:
    status, out, err = run("place", "trip.yaml", "--within", "60 m", "--format", "json", "-o", "out")
    assert (status, json.loads(out)["schema"]) == (0, "urn:afield:schema:placement:1")
    assert err == "out/placement.html is written; print it, or open it on the phone.\n"
    assert (base / "out" / "placement.json").read_text(encoding="utf-8") == out


def test_nothing_is_written_where_one_file_stands(base: Path, run: Run) -> None:
    (base / "out").mkdir()
    (base / "out" / "placement.kml").write_text("mine", encoding="utf-8")
    assert run("place", "trip.yaml", "-o", "out")[0] == 2
    assert [path.name for path in (base / "out").iterdir()] == ["placement.kml"]
    assert run("place", "trip.yaml", "--within", "60 m", "-o", "out", "--force")[0] == 0
    assert (base / "out" / "placement.kml").read_text(encoding="utf-8") != "mine"


def test_nothing_is_written_where_the_page_fails(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(found: Any) -> str:
        raise RuntimeError("no ink")

    monkeypatch.setattr("afield.plugins.geometry.placement.page.placement_html", broken)
    status, _, err = placed(run, "-o", "out")
    assert (status, "internal error: RuntimeError: no ink" in err) == (4, True)
    assert not (base / "out").exists()


def test_a_variant_is_placed(base: Path, run: Run) -> None:
    status, out, _ = run("place", "trip.yaml", "--variant", "next-day", "--within", "150 m")
    assert out.startswith("Cinder Wash, 2026-06-28 (variant next-day)\n")
    assert status in (0, 1, 3)


def test_a_plugin_that_fails_ends_with_4(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*asked: Any) -> Any:
        raise RuntimeError("no map")

    monkeypatch.setattr("afield.plugins.geometry.placement.inverses.inside_area", broken)
    status, _, err = run("place", "trip.yaml", "--within", "100 m")
    assert status == 4
    assert "failed at turning place.margin_inside_area round: RuntimeError: no map" in err


def test_progress_is_told_on_a_terminal_only(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    told = run("place", "trip.yaml", "--within", "50 m")[2]
    assert "\rlooking for places: bearings turned by 15°" in told
    assert told.endswith("\r") and not told.rsplit("\r", 2)[1].strip()


def test_checking_imports_nothing_of_it(base: Path) -> None:
    code = (
        "import sys; from afield.core.cli.running import status_of; status_of(['check', 'trip.yaml']);"
        "print([name for name in sys.modules if '.placement' in name or 'core.placing' in name], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stderr.splitlines()[-1] == "[]"
