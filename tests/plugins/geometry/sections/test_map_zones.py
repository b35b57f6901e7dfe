"""A summit's ground on the map: its sure and its possible edge, the dots between, the summit, and the words for it."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from typing import Any

import jsonschema
import pytest

from afield.plugins.geometry.figures import map_figure, overview_figure
from afield.plugins.geometry.map_data import map_data
from afield.plugins.geometry.section import sections

Facts = dict[str, dict[str, dict[str, Any]]]
SVG = "{http://www.w3.org/2000/svg}"
BUTTE = "claim:lantern-hills/clinker-butte"


def box(half: float, east: float = 0.0) -> list[list[float]]:
    corners = [(-half, -half), (half, -half), (half, half), (-half, half), (-half, -half)]
    return [[east + x, y] for x, y in corners]


@pytest.fixture
def butte(with_reference: Callable[..., Facts]) -> Facts:
    """A square butte around the table: surely to 8 m, likely to 18 m, perhaps to 24 m; its summit 300 m west."""
    facts = with_reference(BUTTE, "area", areas=[[box(18)]])
    shape = {"sure": [[box(8)]], "possible": [[box(24)]], "summit": [-300.0, 0.0]}
    facts["reference.zone_shape"] = {BUTTE: {"value": shape, "detail": {}, "displaced": None, "reason": None}}
    return facts


def made(facts: Facts) -> dict[str, Any]:
    data = map_data(facts)
    assert data is not None
    section = next(section for section in sections() if section.name == "map")
    jsonschema.validate(data, section.schema)
    return data


def edges(figure: ElementTree.Element) -> dict[str, str]:
    return {path.get("data-edge", ""): path.get("d", "") for path in figure.iter(f"{SVG}path") if path.get("data-edge")}


def test_the_data_holds_both_grounds_and_their_edges(butte: Facts) -> None:
    zone = made(butte)["references"][1]["zone"]
    assert (zone["sure"], zone["possible"]) == ([[box(8)]], [[box(24)]])
    assert (zone["sure_edges"], zone["possible_edges"]) == ([box(8)], [box(24)])
    assert zone["words"] == (
        "within the full line the ground surely belongs to it; where it is dotted, out to the broken line, it may; "
        "hatched ground does not"
    )


def test_any_other_place_has_none(butte: Facts) -> None:
    butte["reference.zone_shape"]["claim:freight-road/cinder-crossing"] = {"value": {}}
    assert made(butte)["references"][0]["zone"] is None


def test_where_nothing_is_sure_it_is_said(butte: Facts) -> None:
    butte["reference.zone_shape"][BUTTE]["value"]["sure"] = []
    data = made(butte)
    assert data["references"][1]["zone"]["words"] == (
        "the terrain is too uncertain for any sure ground; dotted ground may belong to it; hatched ground does not"
    )
    assert set(edges(ElementTree.fromstring(map_figure(data)))) == {"possible"}


def test_where_the_ground_was_cut_off_is_no_edge(butte: Facts) -> None:
    ring = [[-2000.0, 30.0], [2000.0, 30.0], [2000.0, -2000.0], [-2000.0, -2000.0], [-2000.0, 30.0]]
    butte["reference.zone_shape"][BUTTE]["value"]["possible"] = [[ring]]
    assert made(butte)["references"][1]["zone"]["possible_edges"] == [[[-2000.0, 30.0], [2000.0, 30.0]]]


def test_both_edges_are_drawn_and_told_apart_without_colour(butte: Facts) -> None:
    figure = ElementTree.fromstring(map_figure(made(butte)))
    drawn = {path.get("data-edge"): path for path in figure.iter(f"{SVG}path") if path.get("data-edge")}
    assert drawn["sure"].get("stroke-dasharray") is None
    assert drawn["possible"].get("stroke-dasharray") == "2 4"
    assert {drawn[name].get("stroke") for name in drawn} == {"#000"}
    names = [text.text for text in figure.iter(f"{SVG}text")]
    assert {"sure edge", "possible edge"} <= set(names)


def test_dots_lie_between_the_edges_only(butte: Facts) -> None:
    figure = ElementTree.fromstring(map_figure(made(butte)))
    (dotted,) = (path for path in figure.iter(f"{SVG}path") if path.get("data-ground") == "doubtful")
    assert dotted.get("fill-rule") == "evenodd"
    assert dotted.get("d", "").count("M") == 2
    (pattern,) = (each for each in figure.iter(f"{SVG}pattern") if each.get("id") == "map-dots")
    assert dotted.get("fill") == f"url(#{pattern.get('id')})"


def test_hatched_is_what_is_not_even_possible(butte: Facts) -> None:
    data = made(butte)
    figure = ElementTree.fromstring(map_figure(data))
    (hatched,) = (path for path in figure.iter(f"{SVG}path") if path.get("fill", "").startswith("url(#map-hatch"))
    assert hatched.get("d", "").count("M") == 2
    scale = float(figure.get("data-scale", ""))
    hole = hatched.get("d", "").split("M")[2].strip("Z").split("L")
    xs = [float(pair.split()[0]) for pair in hole]
    window, beyond = data["close"]["window"], 12 / scale
    shown = min(24, window["east"] + beyond) - max(-24, window["west"] - beyond)
    assert (max(xs) - min(xs)) / scale == pytest.approx(shown, abs=0.1)


def test_the_overview_shows_the_summit(butte: Facts) -> None:
    data = made(butte)
    window = data["wide"]["window"]
    assert window["west"] < -300
    names = [text.text for text in ElementTree.fromstring(overview_figure(data)).iter(f"{SVG}text")]
    assert "summit" in names


def test_two_summits_of_one_page_use_no_identifier_twice(butte: Facts, with_reference: Callable[..., Facts]) -> None:
    other = "claim:lantern-hills/other-butte"
    with_reference(other, "area", areas=[[box(20, 60)]])
    shape = {"sure": [[box(10, 60)]], "possible": [[box(30, 60)]], "summit": [60.0, 0.0]}
    butte["reference.zone_shape"][other] = {"value": shape}
    data = made(butte)
    section = next(section for section in sections() if section.name == "map")
    drawn = map_figure(data) + overview_figure(data) + 2 * section.figures["zone"](data)
    identifiers = drawn.split(' id="')[1:]
    names = [each.split('"', 1)[0] for each in identifiers]
    assert len(names) == len(set(names))
