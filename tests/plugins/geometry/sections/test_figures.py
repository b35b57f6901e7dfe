from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from typing import Any

import pytest

from afield.plugins.geometry.figures import map_figure, overview_figure
from afield.plugins.geometry.map_data import map_data
from afield.plugins.geometry.strokes import BAND, ROLES, SHAPES, swatches

Facts = dict[str, dict[str, dict[str, Any]]]
SVG = "{http://www.w3.org/2000/svg}"
PARK = "claim:basin-preserves/juniper-basin"
FOOT_M = 0.3048


def drawn(facts: Facts) -> ElementTree.Element:
    data = map_data(facts)
    assert data is not None
    return ElementTree.fromstring(map_figure(data))


def ends(path: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (pair.split() for pair in path.strip("MZ").split("L"))]


def bar(figure: ElementTree.Element, unit: str) -> tuple[float, float]:
    """The bar's stated length and its length on the drawing."""
    group = next(group for group in figure.iter(f"{SVG}g") if group.get("data-bar") == unit)
    return float(group.get("data-length", "")), float(group[0].get("width", ""))


def part(figure: ElementTree.Element, name: str) -> ElementTree.Element:
    return next(path for path in figure.iter(f"{SVG}path") if path.get("data-part") == name)


def test_a_wire_of_20_m_measures_20_m_by_both_scale_bars(facts: Facts) -> None:
    figure = drawn(facts)
    (x1, y1), (x2, y2) = ends(part(figure, "wire").get("d", ""))
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    metres, metre_bar = bar(figure, "m")
    feet, foot_bar = bar(figure, "ft")
    assert length / metre_bar * metres == pytest.approx(20.0, abs=0.02)
    assert length / foot_bar * feet * FOOT_M == pytest.approx(20.0, abs=0.02)


def test_east_is_right_and_north_is_up(with_part: Callable[..., Facts]) -> None:
    figure = drawn(with_part("north wire", "antenna", "line", [[0.0, 0.0], [0.0, 15.0]]))
    start, end = ends(part(figure, "north wire").get("d", ""))
    assert end[0] == pytest.approx(start[0])
    assert end[1] < start[1]
    start, end = ends(part(figure, "wire").get("d", ""))
    assert end[0] > start[0]


def test_the_uncertainty_circle_has_its_radius_to_scale(facts: Facts) -> None:
    figure = drawn(facts)
    circle = next(path for path in figure.iter(f"{SVG}path") if path.get("data-position"))
    radius = float(circle.get("d", "").split("a")[1].split()[0])
    assert radius / float(figure.get("data-scale", "")) == pytest.approx(8.08, abs=0.01)


def test_the_corridor_is_twice_its_width_across(facts: Facts) -> None:
    facts["reference.shape"]["claim:freight-road/cinder-crossing"]["value"]["half_width_m"] = 0.75
    figure = drawn(facts)
    band = next(path for path in figure.iter(f"{SVG}path") if path.get("stroke") == BAND)
    width = float(band.get("stroke-width", "")) / float(figure.get("data-scale", ""))
    assert width == pytest.approx(2 * (24.384 + 0.75), abs=0.01)


def test_ground_outside_an_area_and_in_its_holes_is_hatched(with_reference: Callable[..., Facts]) -> None:
    ring = [[-30.0, -40.0], [60.0, -40.0], [60.0, 40.0], [-30.0, 40.0], [-30.0, -40.0]]
    hole = [[5.0, 5.0], [5.0, 9.0], [9.0, 9.0], [9.0, 5.0], [5.0, 5.0]]
    figure = drawn(with_reference(PARK, "area", areas=[[ring, hole]]))
    ground = next(path for path in figure.iter(f"{SVG}path") if path.get("fill") == "url(#map-hatch-0)")
    assert ground.get("fill-rule") == "evenodd"
    assert ground.get("d", "").count("M") == 3


def test_names_are_escaped(with_part: Callable[..., Facts]) -> None:
    figure = drawn(with_part('<b> & "x"', "mast", "line", [[0.0, 0.0], [3.0, 3.0]]))
    assert part(figure, '<b> & "x"') is not None
    assert '<b> & "x"' in [text.text for text in figure.iter(f"{SVG}text")]


def test_a_long_name_is_shortened_on_the_drawing(with_part: Callable[..., Facts]) -> None:
    figure = drawn(with_part("the very long name of a part of the station", "mast", "point", [[3.0, 3.0]]))
    assert "the very long name of a par…" in [text.text for text in figure.iter(f"{SVG}text")]


@pytest.mark.parametrize("role", [*ROLES, "a role of another plugin"])
@pytest.mark.parametrize("shape", SHAPES)
def test_every_role_and_shape_can_be_drawn(with_part: Callable[..., Facts], role: str, shape: str) -> None:
    points = {"point": [[3.0, 3.0]], "circle": [[3.0, 3.0]]}.get(shape, [[0.0, 3.0], [4.0, 3.0], [4.0, 6.0]])
    radius = 4.0 if shape == "circle" else None
    figure = drawn(with_part("thing", role, shape, points, radius_m=radius))
    assert "thing" in [text.text for text in figure.iter(f"{SVG}text")]


def test_the_roles_differ_in_line_or_symbol() -> None:
    drawings = {name: draw({}) for name, draw in swatches().items()}
    lines = [drawings[f"part {role} line"] for role in ROLES if role != "vehicle"]
    assert len(set(lines)) == len(lines)
    for drawing in drawings.values():
        assert ElementTree.fromstring(drawing).tag == f"{SVG}svg"


def test_the_overview_shows_where_the_map_lies(with_reference: Callable[..., Facts]) -> None:
    square = [[[-400.0, -900.0], [700.0, -900.0], [700.0, 900.0], [-400.0, 900.0], [-400.0, -900.0]]]
    data = map_data(with_reference(PARK, "area", areas=[square]))
    assert data is not None
    texts = [text.text for text in ElementTree.fromstring(overview_figure(data)).iter(f"{SVG}text")]
    assert "the map above" in texts
    assert "juniper-basin of basin-pres…" in texts


def test_there_is_no_overview_of_what_the_map_shows(facts: Facts) -> None:
    data = map_data(facts)
    assert data is not None
    assert overview_figure(data) == ""


def test_true_north_is_marked_and_the_needle_leans_east(facts: Facts) -> None:
    texts = [text.text for text in drawn(facts).iter(f"{SVG}text")]
    assert "N true" in texts
    assert "compass 12° E" in texts


def test_the_same_data_gives_the_same_drawing(facts: Facts) -> None:
    data = map_data(facts)
    assert data is not None
    assert map_figure(data) == map_figure(data)
