"""The section of the briefing: its data by its schema, drawn and told from that and the placement alone."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from dataclasses import replace
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.api import UsageError
from afield.core.engine import load
from afield.plugins.geometry.placement import exports
from afield.plugins.geometry.placement.asking import Flags, Unplaced, fix_of, half_side_m, placed, wanted
from afield.plugins.geometry.placement.figures import samples
from afield.plugins.geometry.placement.page import placement_html
from afield.plugins.geometry.placement.section import SAMPLES, placement_section, solve
from afield.plugins.geometry.placement.text import placement_text

from .conftest import ENGINE, TABLE, WIRE, Land

SECTION = placement_section()
WOOD = [[(-60, -45), (60, -45), (60, 45), (-60, 45)]]
PARK = [[(150, -60), (199, -60), (199, 60), (150, 60)]]
FITTING, MISSING, CLUELESS, ALIKE = "fitting", "missing", "clueless", "alike"


def laid_out(land: Land, name: str) -> Land:
    """A plan of which the placement ends in one way or another."""
    land.area("wood", WOOD)
    if name == MISSING:
        land.area("park", PARK)
    if name == CLUELESS:
        land.parts = [TABLE]
    if name == ALIKE:
        land.parts = [TABLE, {"name": "whip", "role": "antenna", "length": "5 m"}]
    return land


def made(land: Land, **settings: str) -> dict[str, Any]:
    """The section's data with the answer, as they are drawn."""
    trip = load(land.plan(), ENGINE)
    found = json.loads(json.dumps(solve(trip, ENGINE, {"within": "200 m", **settings}).found))
    return {**json.loads(json.dumps(SECTION.data({"solution": found}))), "solution": found}


@pytest.fixture(params=[FITTING, MISSING, CLUELESS, ALIKE])
def data(land: Land, request: pytest.FixtureRequest) -> dict[str, Any]:
    return made(laid_out(land, request.param))


def test_data_and_answer_keep_to_their_schemas(data: dict[str, Any]) -> None:
    assert SECTION.solver is not None
    Draft202012Validator(dict(SECTION.solver.schema)).validate(data.pop("solution"))
    Draft202012Validator(dict(SECTION.schema)).validate(data)


def test_every_sample_of_the_keys_can_be_drawn(data: dict[str, Any]) -> None:
    shown = {sample for key in ("map", "bearings") for row in data[key]["key"] for sample in row["samples"]}
    assert shown <= set(SAMPLES) <= set(samples())
    assert {name for name in SAMPLES if not SECTION.figures[name](data).startswith("<svg")} == set()


def test_what_the_words_name_is_drawn(data: dict[str, Any]) -> None:
    assert "data-window" in SECTION.figures["map"](data)
    for place in data["places"]:
        drawn = SECTION.figures[f"there {place['which']}"](data)
        assert drawn.startswith("<svg") == (place["caption"] is not None)
    has_rose = bool(SECTION.figures["rose"](data))
    assert has_rose == bool(data["bearings"]["key"])


def test_the_page_of_the_command_has_the_same_part(data: dict[str, Any]) -> None:
    assert SECTION.text is not None
    page, found = placement_html(data["solution"]), data["solution"]
    assert data["answer"] in page
    assert all(place["position"] in page for place in data["places"])
    assert all(drawn in page for name in ("map", "rose") if (drawn := SECTION.figures[name](data)))
    assert SECTION.text(data).split() == placement_text(found).split(found["trip"]["date"], 1)[1].split()


def test_the_files_are_those_of_the_command(data: dict[str, Any]) -> None:
    found = data["solution"]
    assert {name: write(data) for name, write in SECTION.files.items()} == {
        "placement.geojson": exports.geojson(found), "placement.gpx": exports.gpx(found),
        "placement.kml": exports.kml(found),
    }  # fmt: skip


def test_where_nothing_fits_it_says_by_how_much_and_what_can_be_had(land: Land) -> None:
    data = made(laid_out(land, MISSING))
    assert data["answer"] == "No place and bearing was found at which all 2 claims count."
    (place,) = data["places"]
    assert place["title"] == "Nearest miss"
    assert any(re.match(r"too little by \d+(\.\d)? m \(", line) for line in place["lines"])
    assert data["sets"] == ["basin-preserves/park", "basin-preserves/wood"]
    assert "all claims count" not in [row["name"] for row in data["map"]["key"]]


def test_areas_are_told_apart_by_their_hatching(land: Land) -> None:
    rows = {row["name"]: row for row in made(laid_out(land, MISSING))["map"]["key"]}
    shown = {name: row["samples"] for name, row in rows.items() if name and name != "all claims count"}
    assert sorted(shown.values()) == [["area 0"], ["area 1"]]
    assert all(rows[name]["words"].endswith("; hatched ground is outside it") for name in shown)


def test_what_was_not_searched_is_said(land: Land) -> None:
    found = {**made(laid_out(land, FITTING))["solution"], "unsearched": ["the wind: it cannot be turned round"]}
    assert SECTION.text is not None
    data = {**SECTION.data({"solution": found}), "solution": found}  # type: ignore[dict-item]
    assert "the wind: it cannot be turned round" in SECTION.text(data)
    assert "the wind: it cannot be turned round" in placement_html(found)


def test_settings_do_what_the_options_of_the_command_do(land: Land) -> None:
    laid_out(land, FITTING)
    settings = {"within": "150 m", "around": "47.2001,11.4", "from": "47.201,11.4", "accuracy": "2 m"}
    trip = load(land.plan(), ENGINE)
    found = solve(trip, ENGINE, settings).found
    assert found == placed(trip, ENGINE, wanted(settings))[0]
    assert (found["window"]["half_m"], found["accuracy"]["radius"]) == (150.0, "2 m")
    assert found["nearest"]["from_access"]["distance_m"] > 50
    assert set(settings) == set(SECTION.solver.settings if SECTION.solver else ())


SET = Flags("--set place.", "=")
REFUSED = {
    "too wide": (
        {"within": "9 km"},
        "--set place.within=9 km: at most 5000 m (16404 ft) can be searched at once\n"
        "    = True north turns across a wider window, so that bearings would not hold in all of it; search around "
        "several middles with --set place.around.",
    ),
    "nothing": (
        {"within": "0 m"},
        "--set place.within=0 m: it must be more than 0\n    = Write for example --set place.within='500 m'.",
    ),
    "no length": (
        {"within": "near"},
        '--set place.within: "near" does not begin with a number\n'
        '    = Write a number and its unit, for example "5 m".',
    ),
    "no position": (
        {"around": "here"},
        '--set place.around: "here" is no position\n'
        '    = Write latitude and longitude in degrees, for example "39.90412,-117.30288".',
    ),
    "no access": (
        {"from": "here"},
        '--set place.from: "here" is no position\n'
        '    = Write latitude and longitude in degrees, for example "39.90412,-117.30288".',
    ),
    "no accuracy": (
        {"accuracy": "-5 m"},
        "--set place.accuracy=-5 m: it must be more than 0\n    = Write for example --set place.accuracy='5 m'.",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("settings", "said"), REFUSED.values(), ids=REFUSED)
def test_a_setting_that_is_none_is_refused(land: Land, settings: dict[str, str], said: str) -> None:
    trip = load(laid_out(land, FITTING).plan(), ENGINE)
    with pytest.raises(UsageError) as caught:
        solve(trip, ENGINE, settings)
    assert str(caught.value) == said


def test_a_plan_that_stands_nowhere_is_refused(land: Land) -> None:
    plan = json.loads(laid_out(land, FITTING).plan().read_text(encoding="utf-8"))
    path = land.folder / "changed.yaml"
    path.write_text(json.dumps({**plan, "station": {"parts": [TABLE, WIRE]}}), encoding="utf-8")
    with pytest.raises(UsageError) as caught:
        solve(load(path, ENGINE), ENGINE, {})
    assert str(caught.value) == (
        "cannot tell: position of the station is not stated\n"
        "    = Write `station.at` in the plan, or name the middle of the window with --set place.around=LAT,LON."
    )


def test_without_an_accuracy_the_setting_is_named() -> None:
    with pytest.raises(UsageError) as caught:
        fix_of({}, None, SET)
    assert str(caught.value) == (
        "the plan states no accuracy of its position, so it is not known how well the place will be found\n"
        "    = Add what your receiver shows (68 %), for example --set place.accuracy='5 m'."
    )


def test_the_command_speaks_of_its_own_options() -> None:
    with pytest.raises(UsageError, match=re.escape("    = Write for example --within '500 m'.")):
        half_side_m("0 m")
    assert "--around LAT,LON." in str(Unplaced(Flags()))


def test_the_section_is_registered_without_the_search() -> None:
    code = (
        "import sys; from afield.core.engine import Engine; Engine().sections;"
        "print([name for name in sys.modules if '.placement' in name or 'core.placing' in name])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    base = "afield.plugins.geometry.placement"
    assert done.stdout.splitlines()[-1] == str([base, f"{base}.section"])


def test_texts_are_escaped_and_no_identifier_stands_twice(land: Land) -> None:
    laid_out(land, MISSING)
    land.parts = [TABLE, {**WIRE, "name": "<script>wire & co"}]
    page = placement_html(made(land)["solution"])
    assert "<script" not in page
    names = re.findall(r' id="([^"]*)"', page)
    assert len(names) == len(set(names)) > 3


def test_only_the_section_that_is_asked_for_has_a_solver() -> None:
    solving = [section for section in ENGINE.sections if section.solver is not None]
    assert [section.name for section in solving] == ["place"]
    assert replace(SECTION, figures={}, files={}, data=SECTION.data).solver == SECTION.solver
    assert json.loads(files("afield.schemas").joinpath("placement.json").read_text("utf-8")) == SECTION.solver.schema  # type: ignore[union-attr]
