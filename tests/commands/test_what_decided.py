"""`check` and `why` say what a verdict stands on: the notes of its facts, the map, the reading."""

from __future__ import annotations

from pathlib import Path

from .conftest import Run

CLAIM = "{program: my-road, reference: cinder-crossing}"
MAP = "geometry: {kind: line, file: my-road/road.geojson, source: own survey, map_accuracy: 3 m, level: 95 %}"
READING = """\
measured:
  - {fact: place.farthest_part_from_line, of: "claim:my-road/cinder-crossing", value: 13.2 m, uncertainty: 0.2 m,
     how: tape}
"""


def edited(old: str, new: str) -> None:
    plan = Path("trip.yaml")
    text = plan.read_text(encoding="utf-8")
    assert old in text
    plan.write_text(text.replace(old, new), encoding="utf-8")


def notes(out: str) -> list[str]:
    return [line.strip() for line in out.splitlines() if line.strip().startswith("note: ")]


def map_notes(out: str) -> list[str]:
    return [note for note in notes(out) if note.startswith("note: Judged by")]


def test_check_prints_each_note_once_a_claim(base: Path, run: Run) -> None:
    always = [
        "note: 0.75 m are taken off: half the width of what the line means.",
        "note: The pack does not say which roles count: every part does.",
    ]
    assert notes(run("check", "trip.yaml")[1]) == always
    edited(", level: 68 %", "")
    told = "note: The accuracy is stated without a level; it is taken as a 68 % circle, which is what phones state."
    assert notes(run("check", "trip.yaml")[1]) == [always[0], told, always[1], told]


def test_check_says_that_the_plans_own_map_is_judged_by(base: Path, run: Run) -> None:
    edited(CLAIM, f"{{program: my-road, reference: cinder-crossing, {MAP}}}")
    assert map_notes(run("check", "trip.yaml")[1]) == [
        "note: Judged by the plan's own map my-road/road.geojson (own survey); the pack lists another map for it."
    ]


def test_check_says_that_the_pack_does_not_list_the_reference(base: Path, run: Run) -> None:
    edited(CLAIM, f"{{program: my-road, reference: other-road, {MAP}}}")
    assert map_notes(run("check", "trip.yaml")[1]) == [
        "note: Judged by the plan's own map my-road/road.geojson (own survey); the pack does not list this reference."
    ]


def test_check_says_that_the_pack_lists_no_map(base: Path, run: Run) -> None:
    references = base / "my-road" / "references.yaml"
    head, _, rest = references.read_text(encoding="utf-8").partition("    geometry:")
    references.write_text(head + rest[rest.index("    source: {document") :], encoding="utf-8")
    edited(CLAIM, f"{{program: my-road, reference: cinder-crossing, {MAP}}}")
    assert map_notes(run("check", "trip.yaml")[1]) == [
        "note: Judged by the plan's own map my-road/road.geojson (own survey); the pack lists no map for it."
    ]


def test_check_and_why_say_which_reading_decided(base: Path, run: Run) -> None:
    edited("variants:\n", f"{READING}variants:\n")
    said = run("check", "trip.yaml")[1]
    lines = [line.strip() for line in said.splitlines()]
    told = (
        "by hand (tape): 13.2 m ± 0.2 m (95 %; 43.3 ft ± 0.7 ft) instead of the computed "
        "13 m ± 7 m (95 %; 43 ft ± 23 ft)"
    )
    assert told in lines
    assert f"├─ {told}" in run("why", "trip.yaml", "in-corridor")[1].splitlines()


def test_nothing_is_said_of_a_reading_where_none_decided(base: Path, run: Run) -> None:
    assert "by hand" not in run("check", "trip.yaml")[1] + run("why", "trip.yaml", "in-corridor")[1]


def far_notes(out: str) -> list[str]:
    return [line.strip() for line in out.splitlines() if "The station stands" in line]


def test_of_a_station_in_another_country_the_position_is_asked_about(base: Path, run: Run) -> None:
    assert far_notes(run("check", "trip.yaml")[1]) == []
    edited("lat: 39.90412", "lat: 29.90412")
    told = "note: The station stands 1109 km away: look whether its position, or the reference, is the right one."
    assert far_notes(run("check", "trip.yaml")[1]) == [told, told]
