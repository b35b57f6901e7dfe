"""Stations judged against a real trail and real protected areas from open data (sources beside the files).

The packs are the invented ones; each claim brings its own geometry, as a plan may.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine, judge, load, report

DATA = Path(__file__).parents[1] / "data"
TRAIL = "trail_mojstrovka/Mojstrovka.gpx"
PARK = "rocky_mountain_park/rmnp.geojson"
WILDERNESS = "us_wilderness/coutwildrnp.shp"


def judged(folder: Path, position: str, claims: list[str]) -> dict[str, dict[str, Any]]:
    """Claim's reference -> its required verdict, for a station of one spot."""
    for name in (TRAIL, PARK):
        shutil.copy(DATA / name, folder)
    for path in (DATA / WILDERNESS).parent.glob("coutwildrnp.*"):
        shutil.copy(path, folder)
    plan = folder / "trip.yaml"
    plan.write_text(
        f"""trip: real ground
date: 2026-06-27
station:
  at: {{{position}, accuracy: 1 m, level: 95 %}}
  parts:
    - {{name: table, role: operating position}}
    - {{name: whip, role: antenna, at: [0 m, 0 m]}}
claims:
"""
        + "".join(f"  - {claim}\n" for claim in claims),
        encoding="utf-8",
    )
    engine = Engine()
    found = report(judge(load(plan, engine), engine), engine)
    assert not found["warnings"]
    wanted = ("whole-station-in-corridor", "whole-station-inside-boundary")
    return {
        verdict["subject"].rsplit("/", 1)[1]: verdict
        for verdict in found["verdicts"]
        if verdict["rule"].split("/")[1] in wanted
    }


def trail(accuracy: str) -> str:
    return (
        "{program: freight-road, reference: track, geometry: {kind: line, file: Mojstrovka.gpx, "
        f"source: recorded track, map_accuracy: {accuracy}, level: 95 %}}}}"
    )


def area(name: str, file: str, accuracy: str) -> str:
    return (
        f"{{program: basin-preserves, reference: {name}, geometry: {{kind: area, {file}, "
        f"source: open data, map_accuracy: {accuracy}, level: 95 %}}}}"
    )


def test_a_station_beside_a_real_trail_counts(tmp_path: Path) -> None:
    # Check value trail-Mojstrovka-120: 6.305 m by two ways; 0.75 m of it is the half width of the tread.
    verdict = judged(tmp_path, "lat: 46.433439, lon: 13.742108", [trail("5 m")])["track"]
    leaf = next(leaf for leaf in verdict["leaves"] if leaf["fact"] == "place.farthest_part_from_line")
    assert verdict["outcome"] == "passed"
    assert leaf["margin"]["value"] == pytest.approx((24.384 - 5.555) / 0.3048, abs=0.05)


def test_a_station_at_the_edge_of_a_real_corridor_needs_a_tape(tmp_path: Path) -> None:
    # Check value trail-Mojstrovka-60: 25.035 m, 24.285 m from the tread's edge, 80 ft being 24.384 m.
    verdict = judged(tmp_path, "lat: 46.431752, lon: 13.738844", [trail("5 m")])["track"]
    assert verdict["outcome"] == "cannot tell"
    assert verdict["reason"]["code"] == "within uncertainty"
    assert verdict["settle"]["tool"] == "tape measure"


def test_a_station_that_two_real_areas_claim_is_told_so_by_good_maps(tmp_path: Path) -> None:
    # Check value overlap-park-wilderness-comanche: inside both; 143.4 m inside the park.
    claims = [
        area("wilderness", 'file: coutwildrnp.shp, id: "365", id_field: WILDRNP020', "10 m"),
        area("park", "file: rmnp.geojson", "10 m"),
    ]
    found = judged(tmp_path, "lat: 40.5294, lon: -105.6594", claims)
    assert {name: verdict["outcome"] for name, verdict in found.items()} == {"wilderness": "passed", "park": "passed"}
    assert found["park"]["margin"]["value"] == pytest.approx(143.4, abs=1.0)


def test_the_same_station_cannot_be_told_by_the_maps_as_they_are(tmp_path: Path) -> None:
    # 1:2 000 000 by the National Map Accuracy Standards of 1947 is 1/50 inch at 90 %: 1016 m, about 1160 m at 95 %.
    claims = [
        area("wilderness", 'file: coutwildrnp.shp, id: "365", id_field: WILDRNP020', "1160 m"),
        area("park", "file: rmnp.geojson", "1160 m"),
    ]
    found = judged(tmp_path, "lat: 40.5294, lon: -105.6594", claims)
    outcomes = {name: verdict["outcome"] for name, verdict in found.items()}
    assert outcomes == {"wilderness": "cannot tell", "park": "cannot tell"}


def test_a_hole_in_a_real_park_does_not_count(tmp_path: Path) -> None:
    # Check value park-inholding-hole: outside, 36.8 m from the hole's edge.
    found = judged(tmp_path, "lat: 40.39929, lon: -105.57745", [area("park", "file: rmnp.geojson", "10 m")])
    assert found["park"]["outcome"] == "failed"
    assert found["park"]["margin"]["value"] == pytest.approx(-36.8, abs=1.0)
