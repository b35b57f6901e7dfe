from typing import Any

import pytest

from afield.plugins.geometry.readers import Feature, GeoFileError, Kind, Layer, choose_feature


def feature(name: str | None, kind: Kind = "area", id: str | None = None, **properties: Any) -> Feature:
    return Feature(id, name, kind, properties=properties)


def layer(*features: Feature) -> Layer:
    return Layer("units", "units.geojson", "", "lonlat", "WGS 84", 0.0, list(features), [])


def refusal(read: Layer, due: Kind = "area", **wanted: Any) -> tuple[str, str]:
    with pytest.raises(GeoFileError) as caught:
        choose_feature(read, wanted.get("name"), wanted.get("id"), wanted.get("id_field"), due)
    return caught.value.what, caught.value.advice


UNITS = layer(feature("Low Meadow", id="1", code=17), feature("High Meadow", id="2", code=18), feature("Low Meadow"))


def test_all_parts_of_a_name_are_taken() -> None:
    assert choose_feature(UNITS, "Low Meadow", None, None, "area") == [UNITS.features[0], UNITS.features[2]]


def test_an_id_is_exact_and_goes_before_the_name() -> None:
    assert choose_feature(UNITS, "Low Meadow", "2", None, "area") == [UNITS.features[1]]
    assert choose_feature(UNITS, None, "17", "code", "area") == [UNITS.features[0]]


def test_the_only_feature_needs_no_name() -> None:
    one = layer(feature(None), feature("Ford", "point"))
    assert choose_feature(one, None, None, None, "area") == [one.features[0]]
    assert choose_feature(one, None, None, None, "point") == [one.features[1]]


def test_parts_of_one_name_need_no_name() -> None:
    parts = layer(feature("Basin"), feature("Basin"))
    assert choose_feature(parts, None, None, None, "area") == parts.features


def test_a_name_of_several_kinds_is_taken_as_the_kind_that_is_due() -> None:
    mixed = layer(feature("Ford", "point"), feature("Ford", "line"))
    assert choose_feature(mixed, "Ford", None, None, "line") == [mixed.features[1]]


def test_several_features_are_listed() -> None:
    assert refusal(UNITS) == (
        "units.geojson: there are 3 areas in it, and none is named",
        'Name one of "Low Meadow", "High Meadow".',
    )


def test_several_features_without_names_are_said() -> None:
    assert refusal(layer(feature(None), feature(None))) == (
        "units.geojson: there are 2 areas in it, and none is named",
        "2 have no name: choose by id, or give names in the file.",
    )
    assert refusal(layer(feature("Basin"), feature(None)))[1] == (
        'Name one of "Basin". 1 has no name: choose by id, or give names in the file.'
    )


def test_a_long_list_is_cut_short() -> None:
    many = layer(*(feature(f"unit {number}") for number in range(14)))
    assert refusal(many)[1].endswith('"unit 11" and 2 more.')


def test_a_name_that_is_not_there_is_answered_with_a_near_one() -> None:
    assert refusal(UNITS, name="low medow") == (
        'units.geojson: there is no feature with the name "low medow" in it',
        'Did you mean "Low Meadow"? It has "Low Meadow", "High Meadow".',
    )


def test_a_name_where_nothing_has_one_is_said() -> None:
    assert refusal(layer(feature(None)), name="Basin") == (
        'units.geojson: there is no feature with the name "Basin" in it',
        "Its features have no names.",
    )


def test_an_id_or_a_field_that_is_not_there_is_said() -> None:
    assert refusal(UNITS, id="3")[0] == 'units.geojson: there is no feature with the id "3" in it'
    assert refusal(UNITS, id="178", id_field="code") == (
        'units.geojson: there is no feature with the code "178" in it',
        'Did you mean "18"? It has "17", "18".',
    )
    assert refusal(UNITS, id="19", id_field="kode") == (
        'units.geojson: there is no field "kode" in it',
        'Did you mean "code"? Its fields are "code".',
    )
    assert refusal(layer(feature("x")), id="19", id_field="code")[1] == "Its features have no fields."


AS_POLYGON = "Save the outline as a polygon; a closed line is not taken for an area."


def test_lines_where_an_area_is_due_are_refused() -> None:
    trail = layer(feature("Ford", "point"), feature("Road", "line"))
    assert refusal(trail) == ("units.geojson: points and lines are in it, where an area is due", AS_POLYGON)
    assert refusal(trail, name="Road") == ('units.geojson: "Road": lines are in it, where an area is due', AS_POLYGON)


def test_areas_where_a_line_or_a_point_is_due_are_refused() -> None:
    assert refusal(UNITS, due="line") == (
        "units.geojson: areas are in it, where a line is due",
        "Save it as a line (in GPX: a track or a route).",
    )
    assert refusal(UNITS, due="point", id="1") == (
        'units.geojson: "1": areas are in it, where a point is due',
        "Save it as a point (in GPX: a waypoint).",
    )
