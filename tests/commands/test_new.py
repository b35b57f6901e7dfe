"""`afield new`: from flags, from questions, from another plan."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from .conftest import Run

FLAGS = ("--trip", "A day", "--date", "2026-06-27", "--claims", "my-road/cinder-crossing")
STATION = ("--position", "39.9042, -117.3029 within 5 m", "--antenna", "20 m at 40 deg")
WHOLE = """\
trip: A day
date: 2026-06-27    # local date of arrival
claims:
  - {program: my-road, reference: cinder-crossing}
station:
  at: {lat: 39.9042, lon: -117.3029, accuracy: 5 m}    # the accuracy that the phone shows: a 68 % circle
  parts:                               # true bearings from the position; no bearing = its full circle
    - {name: table, role: operating position, at: [0 m, 0 m]}
    - {name: antenna, role: antenna, from: {bearing: 40 deg, distance: 0 m}, to: {bearing: 40 deg, distance: 20 m}}
packs: [gear]    # the checklist; `afield brief` prints it
"""


def test_flags_make_a_short_commented_plan_that_check_accepts(base: Path, run: Run) -> None:
    assert run("new", "new.yaml", *FLAGS, *STATION) == (
        0,
        "new.yaml is written; `afield check new.yaml` judges it.\n",
        "",
    )
    assert (base / "new.yaml").read_text() == WHOLE
    assert len(WHOLE.splitlines()) < 15
    assert run("check", "new.yaml")[0] in (0, 1, 3)


@pytest.mark.parametrize(
    ("position", "written"),
    [
        ("DM19iv", "at: {locator: DM19iv}"),
        ("11S 473915 4417214 within 5 m", 'at: {utm: "11S 473915 4417214", accuracy: 5 m}'),
        ("11SMD7391517214", 'at: {mgrs: "11SMD7391517214"}'),
        ("39.9042,-117.3029 within 30 ft", "at: {lat: 39.9042, lon: -117.3029, accuracy: 30 ft}"),
    ],
)
def test_every_form_of_position(base: Path, run: Run, position: str, written: str) -> None:
    assert run("new", "new.yaml", *FLAGS, "--position", position, "--antenna", "20 m")[0] == 0
    text = (base / "new.yaml").read_text()
    assert f"  {written}    #" in text
    assert "{name: antenna, role: antenna, length: 20 m}" in text


def test_questions_are_asked_for_what_no_flag_tells(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = ["A day", "2026-06-27", "my-road/cinder-crossing", "39.9042, -117.3029 within 5 m", "20 m at 40 deg"]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    status, out, err = run("new", "new.yaml")
    assert (status, err) == (0, "")
    assert out.count("\n> ") == len(answers)
    assert (base / "new.yaml").read_text() == WHOLE


def test_a_question_is_asked_again_until_it_can_be_read(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = ["A day", "tomorrow", "2026-06-27", "my-raod/x", "my-road/cinder-crossing"]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    status, _, err = run("new", "new.yaml", *STATION)
    assert status == 0
    assert err == (
        "--date: tomorrow is no date\n    = Write year, month and day, for example 2026-06-27.\n"
        "--claims: there is no pack my-raod\n"
        '    = Did you mean "my-road"? A pack of your own is a folder or zip file of that name beside the plan.\n'
    )
    assert (base / "new.yaml").read_text() == WHOLE


def test_answers_that_end_early_write_nothing(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("A day\n"))
    status, _, err = run("new", "new.yaml")
    assert (status, err) == (2, "stopped; nothing was written\n")
    assert not (base / "new.yaml").exists()


def test_a_trip_without_claims_is_asked_for_no_station(base: Path, run: Run) -> None:
    assert run("new", "new.yaml", *FLAGS[:4], "--claims", "none")[0] == 0
    assert (base / "new.yaml").read_text().splitlines()[2:] == [WHOLE.splitlines()[-1]]


def test_names_are_quoted_where_yaml_would_read_something_else(base: Path, run: Run) -> None:
    for name in ('a: "b" \\ #c', "yes", "null", "12", "{a}", "- x", "*a", "'", "Café"):
        assert run("new", "new.yaml", "--trip", name, *FLAGS[2:], *STATION, "--force")[0] == 0
        assert run("check", "new.yaml")[1].startswith(f"{name}, 2026-06-27\n")


@pytest.mark.parametrize("position", ["99S 473915 4417214 within 5 m", "39.9, -117.3 within 5 kg", "north"])
def test_nothing_is_written_that_check_would_refuse(base: Path, run: Run, position: str) -> None:
    assert run("new", "new.yaml", *FLAGS, "--position", position, "--antenna", "20 m")[0] == 2
    assert sorted(path.name for path in base.iterdir()) == ["my-basin", "my-list", "my-road", "trip.yaml"]


def test_force_writes_over(base: Path, run: Run) -> None:
    assert run("new", "trip.yaml", *FLAGS, *STATION, "--force")[0] == 0
    assert (base / "trip.yaml").read_text() == WHOLE


def test_from_keeps_everything_but_what_belonged_to_the_other_outing(base: Path, run: Run) -> None:
    old = (base / "trip.yaml").read_text()
    old = old.replace("date: 2026-06-27", "date: 2026-06-27    # a Saturday").replace(
        "schedule:", "# read with the tape\nmeasured: []\n# when we are there\nschedule:"
    )
    (base / "old.yaml").write_text(old + "\n# the end\n")
    assert run("new", "new.yaml", "--from", "old.yaml", "--trip", "Again", "--date", "2026-07-04")[0] == 0
    expected = old.replace("Cinder Wash", "Again").replace("date: 2026-06-27", "date: 2026-07-04")
    expected = expected.replace("confirmed: [my-list/papers]\n", "").replace("# read with the tape\nmeasured: []\n", "")
    assert (base / "new.yaml").read_text() == expected + "\n# the end\n"


def test_from_leaves_the_other_plan_alone(base: Path, run: Run) -> None:
    before = (base / "trip.yaml").read_bytes()
    assert run("new", "trip.yaml", "--from", "trip.yaml", "--trip", "A", "--date", "2026-07-04")[0] == 2
    assert (base / "trip.yaml").read_bytes() == before
