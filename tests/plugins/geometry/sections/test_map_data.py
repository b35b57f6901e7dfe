from __future__ import annotations

from collections.abc import Callable
from typing import Any

from jsonschema import Draft202012Validator

from afield.plugins.geometry.map_data import map_data
from afield.plugins.geometry.section import sections

Facts = dict[str, dict[str, dict[str, Any]]]
CLAIM = "claim:freight-road/cinder-crossing"
PARK = "claim:basin-preserves/juniper-basin"


def made(facts: Facts) -> dict[str, Any]:
    data = map_data(facts)
    assert data is not None
    schema = next(section.schema for section in sections() if section.name == "map")
    Draft202012Validator(dict(schema)).validate(data)
    return data


def test_each_part_says_where_it_lies_true_and_by_compass(facts: Facts) -> None:
    table, wire = made(facts)["parts"]
    assert table["where"] == "at the position"
    assert wire["where"] == "from the position; to 20 m (65.6 ft) at 090° true, 078° by compass"
    assert wire["height"] == "6 m (19.7 ft)"


def test_without_a_declination_there_is_no_compass_bearing(facts: Facts) -> None:
    del facts["station.declination"]
    data = made(facts)
    assert data["declination_deg"] is None
    assert data["parts"][1]["where"] == "from the position; to 20 m (65.6 ft) at 090° true"


def test_a_part_without_bearing_is_a_full_circle(with_part: Callable[..., Facts]) -> None:
    data = made(with_part("vertical", "antenna", "circle", [[0.0, 0.0]], radius_m=9.0, full_circle=True))
    assert data["parts"][2]["where"] == "in any direction, within 9 m (29.5 ft) of the position"
    window = data["close"]["window"]
    assert window["west"] <= -9
    assert window["south"] <= -9


def test_the_window_holds_the_station_its_uncertainty_and_both_edges_of_a_near_corridor(facts: Facts) -> None:
    window = made(facts)["close"]["window"]
    assert window["west"] < -8.08
    assert window["east"] > 20
    assert window["north"] > -10 + 24.384
    assert window["south"] < -10 - 24.384


def test_a_far_boundary_comes_on_the_overview(facts: Facts, with_reference: Callable[..., Facts]) -> None:
    assert made(facts)["wide"] is None
    square = [[[-400.0, -900.0], [700.0, -900.0], [700.0, 900.0], [-400.0, 900.0], [-400.0, -900.0]]]
    data = made(with_reference(PARK, "area", areas=[square]))
    assert data["close"]["window"]["west"] > -100
    assert data["wide"]["window"]["west"] < -400


def test_where_a_shape_was_cut_off_is_no_boundary(with_reference: Callable[..., Facts]) -> None:
    ring = [[-2000.0, 30.0], [2000.0, 30.0], [2000.0, -2000.0], [-2000.0, -2000.0], [-2000.0, 30.0]]
    park = made(with_reference(PARK, "area", areas=[[ring]]))["references"][1]
    assert park["lines"] == [[[-2000.0, 30.0], [2000.0, 30.0]]]
    assert park["areas"] == [[ring]]


def test_a_station_in_the_middle_of_a_large_area_gets_no_false_boundary(with_reference: Callable[..., Facts]) -> None:
    ring = [[-2000.0, -2000.0], [2000.0, -2000.0], [2000.0, 2000.0], [-2000.0, 2000.0], [-2000.0, -2000.0]]
    data = made(with_reference(PARK, "area", areas=[[ring]]))
    assert data["references"][1]["lines"] == []
    assert data["wide"] is None


def test_the_farthest_part_is_marked_with_the_line_to_measure(facts: Facts) -> None:
    detail = {"part": "wire", "point": [20.0, 0.0], "nearest": [20.0, -10.0]}
    facts["place.farthest_part_from_line"] = {CLAIM: {"value": 10.0, "detail": detail}}
    assert made(facts)["worst"] == [
        {
            "claim": CLAIM,
            "point": [20.0, 0.0],
            "nearest": [20.0, -10.0],
            "label": "farthest: wire",
            "words": "wire is farthest from Cinder Crossing",
        }
    ]


def test_a_measured_distance_keeps_the_mark_of_the_computed_one(facts: Facts) -> None:
    computed = {"detail": {"part": "wire", "point": [20.0, 0.0], "nearest": [20.0, -10.0]}}
    facts["place.farthest_part_from_line"] = {CLAIM: {"value": 10.2, "detail": {}, "displaced": computed}}
    assert [worst["point"] for worst in made(facts)["worst"]] == [[20.0, 0.0]]


def test_a_boundary_far_away_marks_no_part(facts: Facts) -> None:
    detail = {"part": "wire", "point": [20.0, 0.0], "nearest": [800.0, 0.0]}
    facts["place.margin_inside_area"] = {PARK: {"value": 780.0, "detail": detail}}
    assert made(facts)["worst"] == []


def test_a_place_that_could_not_be_read_is_named(facts: Facts) -> None:
    facts["reference.shape"][PARK] = {"value": None, "reason": {"text": "the layer preserves is not in the file"}}
    assert made(facts)["notes"] == [
        "Metres east and north of the station's position; up is true north.",
        "juniper-basin of basin-preserves is not drawn: the layer preserves is not in the file.",
    ]


def test_a_note_on_a_shape_is_passed_on(facts: Facts) -> None:
    facts["reference.shape"][CLAIM]["value"]["notes"] = ["a ring that crosses itself was repaired"]
    assert made(facts)["notes"][1] == "cinder-crossing of freight-road: a ring that crosses itself was repaired"


def test_nothing_to_draw_leaves_the_section_out() -> None:
    assert map_data({}) is None
    assert map_data({"station.position": {}, "part.outline": {"part:wire": {"value": None}}}) is None
