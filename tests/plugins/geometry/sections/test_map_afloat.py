"""A station on the water on the map: the swing circle or the track once, not once for every part in the same place."""

from __future__ import annotations

from typing import Any

import pytest

from afield.plugins.geometry.map_data import map_data
from afield.plugins.geometry.plain import map_text

Facts = dict[str, dict[str, dict[str, Any]]]
CLAIM = "claim:basin-preserves/tarweed-reservoir"


def record(value: Any, **more: Any) -> dict[str, Any]:
    return {"value": value, "detail": {}, "displaced": None, "reason": None, **more}


def part(name: str, role: str, height_m: float | None, **where: Any) -> dict[str, Any]:
    fields = {"points": [[0.0, 0.0]], "shape": "circle", "radius_m": 28.4, "full_circle": True, **where}
    return {"name": name, "role": role, "height_m": height_m, **fields}


@pytest.fixture
def afloat(facts: Facts) -> Facts:
    """A boat at anchor; its table decides at the shore."""
    parts = [part("cockpit table", "operating position", None), part("dipole", "antenna", 7.0)]
    facts["part.outline"] = {f"part:{each['name']}": record(each) for each in parts}
    facts["station.afloat"] = {"trip": record({"state": "at anchor", "radius_m": 28.4})}
    detail = {"part": "cockpit table", "point": [0.0, -28.4], "nearest": [0.0, -39.0]}
    facts["place.margin_inside_area"] = {CLAIM: record(10.6, detail=detail)}
    return facts


def made(facts: Facts) -> dict[str, Any]:
    data = map_data(facts)
    assert data is not None
    return data


def test_at_anchor_one_circle_holds_all_parts(afloat: Facts) -> None:
    anchor, circle = made(afloat)["parts"]
    assert (anchor["name"], anchor["points"], anchor["radius_m"]) == ("anchor", [[0.0, 0.0]], None)
    assert (circle["name"], circle["radius_m"], circle["shape"]) == ("swing circle", 28.4, "circle")
    assert circle["where"] == (
        "each may be anywhere within 28.4 m (93.2 ft) of the anchor: cockpit table, dipole (7 m (23 ft) high)"
    )


def test_the_circle_decides_not_the_part_that_comes_first(afloat: Facts) -> None:
    (worst,) = made(afloat)["worst"]
    assert worst["label"] == "boundary"
    assert worst["words"] == "swing circle decides at the boundary of tarweed-reservoir of basin-preserves"


def test_under_way_one_track_holds_all_parts_and_lists_no_fixes(afloat: Facts) -> None:
    track = {"shape": "line", "radius_m": None, "points": [[0.0, 0.0], [30.0, 5.0], [60.0, 0.0]]}
    for each in afloat["part.outline"].values():
        each["value"].update(track)
    afloat["station.afloat"]["trip"]["value"] = {"state": "under way", "fixes": 3, "minutes": 40.0}
    (drawn,) = made(afloat)["parts"]
    assert (drawn["name"], len(drawn["points"])) == ("track", 3)
    assert drawn["where"] == "each may be anywhere along the whole track: cockpit table, dipole (7 m (23 ft) high)"


def test_ashore_every_part_is_drawn(afloat: Facts) -> None:
    afloat["station.afloat"]["trip"]["value"] = {"state": "ashore"}
    assert [each["name"] for each in made(afloat)["parts"]] == ["cockpit table", "dipole"]


def test_the_text_says_it_once(afloat: Facts) -> None:
    first, second, *_ = map_text(made(afloat)).splitlines()
    assert first == "anchor: at the position"
    assert second.startswith("swing circle: each may be anywhere within 28.4 m")


def test_two_marks_of_one_point_and_one_name_are_named_once(facts: Facts) -> None:
    detail = {"part": "wire", "point": [20.0, 0.0], "nearest": [20.0, -10.0]}
    facts["place.margin_inside_area"] = {CLAIM: record(3.0, detail=detail), "claim:a/b": record(2.0, detail=detail)}
    worst = made(facts)["worst"]
    assert [each["label"] for each in worst] == ["boundary: wire", ""]
    assert len({each["words"] for each in worst}) == 2
