"""`afield near`: what it finds, how sure it is, and what the rules say of it."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from afield.core.host.composition import shipped_schema

from .conftest import Run
from .test_catalogue import parks

HERE = "39.90412, -117.30288"


@pytest.fixture
def refs(base: Path, run: Run) -> Path:
    """A catalogue of five references around the base plan's station."""
    (base / "parks.geojson").write_text(parks(), encoding="utf-8")
    stated = ("--map-accuracy", "5 m", "--level", "95%", "--source", "county survey", "--dated", "2021")
    assert run("catalogue", "build", "parks.geojson", *stated)[0] == 0
    return base / "refs.sqlite"


def found(run: Run, *arguments: str) -> dict[str, Any]:
    """The JSON of a command, which must fit its schema."""
    status, out, err = run("near", *arguments, "--format", "json")
    assert (status, err) == (0, "")
    made: dict[str, Any] = json.loads(out)
    jsonschema.Draft202012Validator(shipped_schema("near")).validate(made)
    return made


def test_all_that_it_says(run: Run, refs: Path) -> None:
    status, out, err = run("near", HERE, "--reach", "25 m", "--accuracy", "3 m", "--within", "500 m")
    assert (status, err) == (0, "")
    assert out == (
        "39.90412, -117.30288 (WGS 84, from lat/lon)\n"
        "References within 500 m, of 5 references in refs.sqlite:\n"
        "  upper-wash (my-basin, area)\n"
        "    inside: 96 m ± 7 m (95 %; 314 ft ± 23 ft) to the boundary, at 270 deg true (west)\n"
        "    a station that reaches 25 m (82 ft) from there is inside as a whole, whatever its bearing\n"
        "  slope (my-basin, area)\n"
        "    inside: 19 m ± 7 m (95 %; 62 ft ± 23 ft) to the boundary, at 270 deg true (west)\n"
        "    cannot tell whether a station that reaches 25 m (82 ft) from there is inside as a whole\n"
        "  edge (my-basin, area)\n"
        "    cannot tell whether inside: 6 m ± 7 m (95 %; 20 ft ± 23 ft) to the boundary, at 270 deg true (west)\n"
        "    cannot tell whether a station that reaches 25 m (82 ft) from there is inside as a whole\n"
        "  peak (other-award, point)\n"
        "    0 m ± 7 m (95 %; 0 ft ± 23 ft) to the point\n"
        "    a station that reaches 25 m (82 ft) from there has no part farther than 25 m (82 ft) from it, as drawn\n"
        "  track (my-road, line)\n"
        "    11 m ± 7 m (95 %; 36 ft ± 23 ft) to the line, at 000 deg true (north)\n"
        "    a station that reaches 25 m (82 ft) from there has no part farther than 36 m (120 ft) from it, as drawn\n"
        "Hold such a station as a whole, all at once: upper-wash\n"
        "What counts is for each program's rules to say: judge it with --trip.\n"
        "source: parks.geojson#parks: county survey, 2021, lonlat edges\n"
    )


def test_the_uncertainty_is_that_of_position_map_digits_and_edges(run: Run, refs: Path) -> None:
    made = found(run, HERE, "--accuracy", "3 m", "--level", "95%")
    reference = made["references"][0]
    per_axis = math.hypot(3 / 2.4477, 5 / 2.4477)
    width = 2.4477 * per_axis + reference["edge_doubt_m"]
    assert reference["uncertainty_m"] == pytest.approx(math.hypot(width, *made["position"]["bound_m"]), abs=0.002)


def test_what_is_not_stated_is_said(run: Run, base: Path) -> None:
    (base / "parks.geojson").write_text(parks(), encoding="utf-8")
    assert run("catalogue", "build", "parks.geojson")[0] == 0
    out = run("near", HERE, "--within", "50 m")[1]
    assert (
        "  inside as drawn: 96 m (310 ft) (± not known: the accuracy of the map is not stated) to the boundary" in out
    )
    assert "\nnote: how accurate the position is, is not stated and not in the ±: give --accuracy.\n" in out
    assert out.endswith("source: parks.geojson#parks: source not stated, lonlat edges\n")
    made = found(run, HERE, "--reach", "1 m")
    assert {each["reach"]["finding"] for each in made["references"]} == {"cannot tell", None}
    assert made["whole_inside"] == []


@pytest.mark.parametrize(("reach", "finding"), [("80 m", "inside"), ("100 m", "cannot tell"), ("150 m", "by bearing")])
def test_the_reach_of_a_station_inside(run: Run, refs: Path, reach: str, finding: str) -> None:
    assert found(run, HERE, "--reach", reach)["references"][0]["reach"]["finding"] == finding


def test_the_reach_of_a_station_outside(run: Run, refs: Path) -> None:
    for reach, finding in (("10 m", "outside"), ("200 m", "cannot tell")):
        made = found(run, "39.90400, -117.30550", "--reach", reach)
        (upper,) = (each for each in made["references"] if each["name"] == "upper-wash")
        assert (upper["inside"], upper["sure"], upper["reach"]["finding"]) == (False, True, finding)


def test_a_locator_bounds_the_position_and_nothing_near_its_middle_is_sure(run: Run, refs: Path) -> None:
    made = found(run, "DM19iv")
    assert made["position"]["form"] == "locator"
    assert min(made["position"]["bound_m"]) > 2000
    assert not any(each["sure"] for each in made["references"])


def test_a_point_of_a_file(run: Run, refs: Path) -> None:
    gpx = '<gpx version="1.1"><wpt lat="39.90412" lon="-117.30288"><name>post 1</name></wpt></gpx>'
    (refs.parent / "walk.gpx").write_text(gpx, encoding="utf-8")
    by_name, alone = found(run, "walk.gpx:post 1"), found(run, "walk.gpx")
    assert by_name == alone
    assert by_name["references"][0]["distance_m"] == found(run, HERE)["references"][0]["distance_m"]


def test_nothing_near(run: Run, refs: Path) -> None:
    out = run("near", "10 N 10 E")[1]
    assert "References within 5 km, of 5 references in refs.sqlite:\n  none\n" in out


def test_the_rules_judge_what_is_found_with_the_plans_station(run: Run, refs: Path) -> None:
    status, out, err = run("near", "--trip", "trip.yaml")
    assert (status, err) == (0, "")
    assert "a station that reaches 15 m (49 ft) from there" in out
    assert "What counts is for each program's rules" not in out
    judged = out.partition("Judged with the station and the packs of trip.yaml:\n")[2]
    assert judged == (
        "  my-basin / upper-wash: counts, 95 m (314 ft) of room\n"
        "  my-basin / slope: counts, 18 m (61 ft) of room\n"
        "  my-basin / edge: cannot tell (6 m ± 8 m (95 %) does not decide against 0 m)\n"
        "  my-road / track: counts, 46 ft (14 m) of room\n"
        "  other-award / peak: not judged: there is no pack other-award\n"
        "  3 of 4 claims count; my-basin / edge cannot be told (6 m ± 8 m (95 %) does not decide against 0 m).\n"
        "source: parks.geojson#parks: county survey, 2021, lonlat edges\n"
    )


def test_another_position_takes_the_plans_station_and_its_accuracy(run: Run, refs: Path) -> None:
    made = found(run, "39.90412, -117.30200", "--trip", "trip.yaml")
    assert (made["position"]["accuracy_m"], made["position"]["level"]) == (5.0, 68)
    assert {each["label"]: each["outcome"] for each in made["trip"]["claims"]} == {
        "my-basin / upper-wash": "passed",
        "my-basin / slope": "passed",
        "my-basin / edge": "passed",
        "my-road / track": "passed",
    }
    far = found(run, "39.95000, -117.30200", "--trip", "trip.yaml", "--within", "20 km", "--accuracy", "2 m")
    assert far["position"]["accuracy_m"] == 2.0
    assert {each["outcome"] for each in far["trip"]["claims"]} == {"failed"}


def test_a_plan_with_a_fault_is_named_as_given(run: Run, refs: Path) -> None:
    (refs.parent / "other").mkdir()
    (refs.parent / "other" / "bad.yaml").write_text("trip: 5\n", encoding="utf-8")
    status, out, err = run("near", HERE, "--trip", "other/bad.yaml", "--catalogue", "refs.sqlite")
    assert (status, out) == (2, "")
    assert err.startswith("other/bad.yaml:1:")


def test_a_plan_without_a_position(run: Run, refs: Path) -> None:
    text = (refs.parent / "trip.yaml").read_text(encoding="utf-8")
    (refs.parent / "trip.yaml").write_text(text.replace("accuracy: 5 m, level: 68 %", ""), encoding="utf-8")
    status, _, err = run("near", "--trip", "trip.yaml")
    assert status == 2
    assert err == (
        "trip.yaml:2:1: the station's position cannot be told: the accuracy of the position is not stated\n"
        "    = Mend that, or name the position on the command line.\n"
    )
    assert found(run, HERE, "--trip", "trip.yaml")["position"]["accuracy_m"] is None


def test_the_usual_catalogue_is_beside_the_plan_or_among_the_users_data(
    run: Run, refs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    elsewhere, data = tmp_path / "elsewhere", tmp_path / "data"
    elsewhere.mkdir()
    monkeypatch.setattr("platformdirs.user_data_path", lambda name: data / name)
    monkeypatch.chdir(elsewhere)
    assert run("near", HERE) == (
        2,
        "",
        f"there is no catalogue: neither refs.sqlite here, nor {data / 'afield' / 'refs.sqlite'}\n"
        "    = Build one: `afield catalogue build FILES... -o refs.sqlite`; or name one with --catalogue.\n",
    )
    assert run("near", "--trip", str(refs.parent / "trip.yaml"))[0] == 0
    (data / "afield").mkdir(parents=True)
    refs.rename(data / "afield" / "refs.sqlite")
    assert found(run, HERE)["catalogue"] == {"file": str(data / "afield" / "refs.sqlite"), "references": 5}


def test_a_damaged_catalogue_is_no_crash(run: Run, refs: Path) -> None:
    data = refs.read_bytes()
    refs.write_bytes(data[:4096] + bytes(len(data) - 4096))
    assert run("near", HERE) == (
        2,
        "",
        "refs.sqlite: the catalogue is damaged (database disk image is malformed)\n"
        "    = Build it again: `afield catalogue build FILES... -o refs.sqlite --force`.\n",
    )


def test_a_name_cannot_steer_the_terminal(run: Run, base: Path) -> None:
    hostile = parks().replace("upper-wash", "upper\\u001b[2J\\nwash")
    (base / "parks.geojson").write_text(hostile, encoding="utf-8")
    assert run("catalogue", "build", "parks.geojson", "--source", "a\x1b[31m\nb")[0] == 0
    said = run("near", HERE)[1] + run("catalogue", "show", "refs.sqlite")[1]
    assert "  upper�[2J�wash (my-basin, area)\n" in said
    assert "a�[31m�b" in said
    assert "\x1b" not in said
    assert found(run, HERE)["references"][0]["name"] == "upper\x1b[2J\nwash"
