"""What is missing without being wrong: exit status 3, the reason, and what would settle it; never a green verdict."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import Run

AT = "  at: {lat: 39.90412, lon: -117.30288, accuracy: 5 m, level: 68 %}\n"
ROAD = "The whole station stays inside the corridor"
BASIN = "The whole station stands inside"

MISSING = {
    "no limit in force": (
        "my-road/rules.yaml", 'from: 2024-01-01\n      value: "80"',
        'from: 2024-01-01\n      until: 2026-01-01\n      value: "80"',
        ROAD, "because the limit corridor has no value in force on 2026-06-27",
        "to settle it: Get a version of the pack my-road that covers 2026-06-27.",
    ),
    "map accuracy": (
        "my-basin/references.yaml", "      map_accuracy: 5 m\n", "",
        BASIN, "because the accuracy of the map is not stated: add `map_accuracy:` to the geometry",
        "to settle it: State `claims[].geometry.map_accuracy`.",
    ),
    "position accuracy": (
        "trip.yaml", ", accuracy: 5 m, level: 68 %", "",
        BASIN, "because the accuracy of the position is not stated", "to settle it: State `station.at.accuracy`.",
    ),
    "position": (
        "trip.yaml", AT, "", BASIN, "because position is not stated", "to settle it: State `station.at`.",
    ),
    "antenna": (
        "trip.yaml", "role: antenna", "role: guy",
        BASIN, "because the plan has no antenna: add a part with `role: antenna` and where it lies",
        "to settle it: State `station.parts`.",
    ),
    "north of old bearings": (
        "trip.yaml", "date: 2026-06-27", "date: 2036-06-27",
        BASIN, "because year 2036.49 is outside WMM2025, which holds from 2025.0 to 2030.0",
        "to settle it: Change `station.bearings`.",
    ),
    "plugin": (
        "my-road/rules.yaml", "place.farthest_part_from_line", "sonar.depth",
        ROAD, "because sonar.depth needs the plugin sonar, which is not there",
        "to settle it: Install the plugin sonar.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", MISSING)
def test_says_why_and_what_would_settle_it(name: str, base: Path, run: Run) -> None:
    file, old, new, title, because, settle = MISSING[name]
    _replace(base / file, old, new)
    if name == "plugin":
        _replace(base / "my-road/pack.yaml", "geometry]", "geometry, sonar]")
    if name == "north of old bearings":
        _replace(base / "trip.yaml", "station:\n", "station:\n  bearings: magnetic\n")
    status, out, err = run("check", "trip.yaml")
    lines = [line.strip() for line in out.splitlines()]
    at = lines.index(f"cannot tell     {title}")
    assert (status, err) == (3, "")
    assert lines[at + 1 : at + 3] == [because, settle]


def test_a_failed_rule_comes_before_what_cannot_be_told(base: Path, run: Run) -> None:
    _replace(base / "trip.yaml", "distance: 15 m", "distance: 90 m")
    _replace(base / "my-basin/references.yaml", "      map_accuracy: 5 m\n", "")
    assert run("check", "trip.yaml")[0] == 1


def test_open_checklist_items_count_only_if_strict(base: Path, run: Run) -> None:
    _replace(base / "trip.yaml", "confirmed: [my-list/papers]", "confirmed: [my-list/fuse]")
    assert [run("check", "trip.yaml")[0], run("check", "trip.yaml", "--strict")[0]] == [0, 3]


def _replace(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))
