"""What looks like a pass and is none: a fix without accuracy, an expired reference, an unsure date, a wrong reading."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from afield.core.documents import InputError
from afield.core.engine import Engine, judge, load, report

CORRIDOR = "freight-road/whole-station-in-corridor"


def verdict(folder: Path, day: str, at: str, claim: str = "cinder-crossing", more: str = "") -> dict[str, Any]:
    plan = folder / "trip.yaml"
    plan.write_text(
        f"""trip: no false pass
date: {day}
station:
  at: {{{at}}}
  parts:
    - {{name: table, role: operating position}}
    - {{name: whip, role: antenna, at: [0 m, 0 m]}}
claims: [{{program: freight-road, reference: {claim}}}]
{more}""",
        encoding="utf-8",
    )
    engine = Engine()
    found = report(judge(load(plan, engine), engine), engine)
    return next(verdict for verdict in found["verdicts"] if verdict["rule"] == CORRIDOR)


FIX = "lat: 39.90412, lon: -117.30288, accuracy: 3 m, level: 95 %"


@pytest.mark.parametrize("at", ["mgrs: 11SME7411017159", "locator: DM19iv36", "lat: 39.90412, lon: -117.30288"])
def test_a_fine_position_without_accuracy_cannot_be_told(tmp_path: Path, at: str) -> None:
    found = verdict(tmp_path, "2026-06-27", at)
    assert (found["outcome"], found["reason"]["text"]) == (
        "cannot tell",
        "the accuracy of the position is not stated",
    )


def test_with_its_accuracy_it_counts(tmp_path: Path) -> None:
    assert verdict(tmp_path, "2026-06-27", "mgrs: 11SME7411017159, accuracy: 3 m, level: 95 %")["outcome"] == "passed"


READ = """measured:
  - {fact: place.farthest_part_from_line, of: "claim:freight-road/ledge-spur", value: 3 m, how: tape}
"""


@pytest.mark.parametrize("more", ["", READ], ids=["computed", "read"])
def test_a_reference_not_yet_in_force_counts_by_no_reading(tmp_path: Path, more: str) -> None:
    found = verdict(tmp_path, "2023-05-01", FIX, "ledge-spur", more)
    assert found["outcome"] == "cannot tell"
    assert found["reason"]["code"] == "no value in force"
    assert (found["settle"] or {"kind": None})["kind"] != "measure"


def test_a_reference_that_begins_on_the_day_itself_cannot_be_told(tmp_path: Path) -> None:
    # The pack goes by UTC dates, and no zone is known: the outing may still lie in the day before.
    found = verdict(tmp_path, "2023-06-01", FIX, "ledge-spur", READ)
    assert (found["outcome"], found["reason"]["code"]) == ("cannot tell", "versions disagree")


def test_two_days_later_the_reading_counts(tmp_path: Path) -> None:
    assert verdict(tmp_path, "2023-06-03", FIX, "ledge-spur", READ)["outcome"] == "passed"


@pytest.mark.parametrize(
    ("entry", "what"),
    [
        (
            "{fact: program.line_width, of: 'program:freight-road', value: 40 m, how: tape}",
            "program.line_width is what the program's pack says; it cannot be measured",
        ),
        (
            "{fact: reference.kind, of: 'claim:freight-road/cinder-crossing', value: area, how: eye}",
            "reference.kind cannot be read off a tool",
        ),
        (
            "{fact: place.farthest_part_from_line, of: 'claim:freight-road/cinder-crossing', value: -3 m, how: tape}",
            "distance of the farthest part from the line is never below 0 m",
        ),
    ],
)
def test_a_reading_of_what_nobody_can_read_is_refused(tmp_path: Path, entry: str, what: str) -> None:
    with pytest.raises(InputError) as caught:
        verdict(tmp_path, "2026-06-27", FIX, more=f"measured:\n  - {entry}\n")
    assert [problem.what for problem in caught.value.problems] == [what]
