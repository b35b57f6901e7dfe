from __future__ import annotations

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.plugins.geometry.coordinates_data import accuracy_words, coordinates_data
from afield.plugins.geometry.map_data import map_data
from afield.plugins.geometry.pacing import paced, seen_from_position
from afield.plugins.geometry.plain import coordinates_text, map_text
from afield.plugins.geometry.section import sections

Facts = dict[str, dict[str, dict[str, Any]]]


def test_the_forms_stand_one_a_line_with_datum_and_accuracy(facts: Facts) -> None:
    data = coordinates_data(facts)
    assert data is not None
    schema = next(section.schema for section in sections() if section.name == "coordinates")
    Draft202012Validator(dict(schema)).validate(data)
    assert coordinates_text(data) == (
        "Decimal degrees      39.90412, -117.30288\n"
        "Degrees and minutes  39° 54.247' N 117° 18.173' W\n"
        "UTM                  11S 474110 4417159\n"
        "Grid locator         DM19iv36\n"
        "Datum WGS 84.\n"
        "Within 5 m (16.4 ft) at 68 % (the level is not stated; 68 % is what phones mean), "
        "that is within 8.1 m (26.5 ft) at 95 %.\n"
        "A compass needle points 12.1° east of true north here."
    )


@pytest.mark.parametrize(
    ("position", "words"),
    [
        (
            {"accuracy_m": 5.0, "level": 95.0, "level_stated": True, "radius_95_m": 5.0},
            "Within 5 m (16.4 ft) at 95 % (as the plan states).",
        ),
        (
            {"accuracy_m": 5.0, "level": 68.0, "level_stated": True, "radius_95_m": 8.08},
            "Within 5 m (16.4 ft) at 68 % (as the plan states), that is within 8.1 m (26.5 ft) at 95 %.",
        ),
        (
            {"accuracy_m": None, "level": None, "level_stated": False, "radius_95_m": None},
            "The plan states no accuracy.",
        ),
    ],
)
def test_the_accuracy_is_said_with_its_level(position: dict[str, Any], words: str) -> None:
    assert accuracy_words(position) == words


def test_digits_that_leave_much_open_are_told_wherever_the_accuracy_is(facts: Facts) -> None:
    facts["station.position"]["trip"]["value"]["digits_leave_m"] = [427.3, 555.1]
    data, drawn = coordinates_data(facts), map_data(facts)
    assert data is not None
    assert drawn is not None
    assert data["headline"] == (
        "39.90412, -117.30288 (WGS 84), within 8.1 m (26.5 ft) (95 %), its digits leave 430 m east or west and "
        "560 m north or south open, grid locator DM19iv36"
    )
    assert data["accuracy"] == (
        "Within 5 m (16.4 ft) at 68 % (the level is not stated; 68 % is what phones mean), that is within 8.1 m "
        "(26.5 ft) at 95 %. The digits written leave 430 m east or west and 560 m north or south open besides."
    )
    assert drawn["position"]["words"] == (
        "the position lies within 8.1 m (26.5 ft) of its mark (95 %); its digits leave 430 m east or west and "
        "560 m north or south open besides, which is not drawn"
    )


def test_digits_that_leave_little_open_are_not_worth_a_word(facts: Facts) -> None:
    facts["station.position"]["trip"]["value"]["digits_leave_m"] = [50.0, 50.0]
    data = coordinates_data(facts)
    assert data is not None
    assert data["headline"] == "39.90412, -117.30288 (WGS 84), within 8.1 m (26.5 ft) (95 %), grid locator DM19iv36"


def test_a_needle_that_points_west(facts: Facts) -> None:
    facts["station.declination"]["trip"]["value"] = -3.04
    data = coordinates_data(facts)
    assert data is not None
    assert data["declination"] == "A compass needle points 3.0° west of true north here."


def test_without_a_position_the_section_is_left_out() -> None:
    assert coordinates_data({"station.position": {"trip": {"value": None}}}) is None


@pytest.mark.parametrize(
    ("length_m", "words"),
    [(0.3048, "0.3 m (1 ft)"), (24.384, "24.4 m (80 ft)"), (3.0, "3 m (9.8 ft)"), (310.0, "310 m (1017 ft)")],
)
def test_a_length_is_paced_in_both_units(length_m: float, words: str) -> None:
    assert paced(length_m) == words


@pytest.mark.parametrize(
    ("point", "needle_deg", "words"),
    [
        ((0.0, 0.02), None, "the position"),
        ((0.0, 10.0), None, "10 m (32.8 ft) at 000° true"),
        ((-10.0, 0.0), 10.0, "10 m (32.8 ft) at 270° true, 260° by compass"),
        ((-0.01, 10.0), 0.3, "10 m (32.8 ft) at 000° true, 000° by compass"),
    ],
)
def test_a_point_is_seen_from_the_position(point: tuple[float, float], needle_deg: float | None, words: str) -> None:
    assert seen_from_position(point, needle_deg) == words


def test_the_map_in_words(facts: Facts) -> None:
    data = map_data(facts)
    assert data is not None
    assert map_text(data) == (
        "table (operating position): at the position\n"
        "wire (antenna, 6 m (19.7 ft) high): from the position; to 20 m (65.6 ft) at 090° true, 078° by compass\n"
        "Cinder Crossing: line, from a map good to 3 m (9.8 ft) (95 %); corridor 24.4 m (80 ft) to each side\n"
        "the position lies within 8.1 m (26.5 ft) of its mark (95 %)\n"
        "Metres east and north of the station's position; up is true north."
    )
