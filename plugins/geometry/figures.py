"""The map as SVG text, drawn from the section's JSON alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from math import hypot
from typing import Any

from afield.core.api import _, frozen
from afield.plugins.geometry import strokes
from afield.plugins.geometry.labels import Box, Label, Placer, along
from afield.plugins.geometry.map_zones import doubtful, edges_drawn, ground_of, zones_of
from afield.plugins.geometry.scales import furniture
from afield.plugins.geometry.sheet import MAP_WIDTH, SMALL_WIDTH, Sheet
from afield.plugins.geometry.strokes import number, path_data, stroked, symbol_at, words
from afield.plugins.geometry.windows import ring_within, runs_near

TEXT = 14.5
LONGEST_NAME = 28
ROLE_ORDER = ("operating position", "antenna", "vehicle", "mast", "counterpoise", "feed line", "supply", "guy")


def map_figure(data: Mapping[str, Any], name: str = "map") -> str:
    """The station to scale with the boundaries near it; each drawing of one page has a name of its own."""
    return _figure(data, data["close"], name, _("Map of the station, to scale"))


def overview_figure(data: Mapping[str, Any]) -> str:
    """A wider view with the map's frame in it; empty if the map shows every boundary itself."""
    if not data["wide"]:
        return ""
    return _figure(data, data["wide"], "overview", _("Overview of the boundaries around the station"))


@frozen
class Layer:
    """What one thing adds to the drawing: its mark, the lines it covers, and its name with where that may point."""

    drawn: str
    covers: tuple[tuple[float, float], ...] = ()
    name: str = ""
    anchors: tuple[tuple[float, float], ...] = ()


def _figure(data: Mapping[str, Any], view: Mapping[str, Any], name: str, title: str) -> str:
    sheet = Sheet.of(view, name, SMALL_WIDTH if name == "overview" else MAP_WIDTH)
    layers = [*_things(data, sheet), *reference_layers(data["references"], sheet), *_position(data["position"], sheet)]
    if name == "overview":
        layers = [*reference_layers(data["references"], sheet), _frame_of_map(data["close"], sheet)]
    return framed(sheet, title, data["references"], layers, data["declination_deg"])


def framed(
    sheet: Sheet,
    title: str,
    references: Sequence[Mapping[str, Any]],
    layers: Sequence[Layer],
    declination_deg: float | None,
    ground: str = "",
) -> str:
    """The whole drawing: the claimed places' ground, the layers with the first on top, frame, scales and names.

    `ground` is drawn above the places' ground and below the grid.
    """
    areas = [reference for reference in references if reference["kind"] == "area"]
    below = (
        "".join(bands(references, sheet)) + "".join(outsides(areas, sheet)) + doubtful(zones_of(areas), sheet) + ground
    )
    drawn = "".join(layer.drawn for layer in reversed(layers))
    hatchings = "".join(strokes.hatching(f"{sheet.name}-hatch-{index}", index) for index in range(len(areas)))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(sheet.page_width)} {number(sheet.page_height)}" '
        f'role="img" aria-label="{escape(title)}" font-family="inherit" data-scale="{sheet.scale:.6f}">'
        f'<defs><clipPath id="{sheet.name}-frame">{sheet.frame_rect}</clipPath>{hatchings}</defs>'
        f'<g clip-path="url(#{sheet.name}-frame)"><rect x="0" y="0" width="100%" height="100%" fill="#fff"/>'
        f"{below}{sheet.grid}{drawn}</g>"
        f"{furniture(sheet, declination_deg)}{''.join(named(layers, sheet))}</svg>"
    )


def bands(references: Sequence[Mapping[str, Any]], sheet: Sheet) -> Iterator[str]:
    """Corridors: the edges of all first, then their grounds, so that corridors that meet become one."""
    banded = [reference for reference in references if reference["corridor_m"]]
    for extra, colour in ((2.4, strokes.BAND_EDGE), (0.0, strokes.BAND)):
        for reference in banded:
            half_m = reference["corridor_m"] + reference["half_width_m"]
            d = _lines(reference["lines"], sheet, half_m + 1)
            round_ends = ' stroke-linejoin="round" stroke-linecap="round"'
            yield stroked(d, 2 * half_m * sheet.scale + extra, colour, extra=round_ends) if d else ""


def outsides(areas: Sequence[Mapping[str, Any]], sheet: Sheet) -> Iterator[str]:
    """The ground outside each area, hatched its own way."""
    beyond = sheet.window.padded(12 / sheet.scale)
    corners = [(beyond.west, beyond.south), (beyond.east, beyond.south), (beyond.east, beyond.north)]
    frame = path_data([sheet.at(corner) for corner in [*corners, (beyond.west, beyond.north)]], closed=True)
    for index, area in enumerate(areas):
        rings = [ring_within(ring, beyond) for polygon in ground_of(area) for ring in polygon]
        holes = "".join(path_data(sheet.thinned(ring), closed=True) for ring in rings if len(ring) > 2)
        yield f'<path d="{frame}{holes}" fill="url(#{sheet.name}-hatch-{index})" fill-rule="evenodd"/>'


def _lines(lines: Sequence[Sequence[Sequence[float]]], sheet: Sheet, beyond_m: float) -> str:
    near = sheet.window.padded(beyond_m + 12 / sheet.scale)
    return "".join(path_data(sheet.thinned(run)) for line in lines for run in runs_near(line, near))


def reference_layers(references: Sequence[Mapping[str, Any]], sheet: Sheet) -> Iterator[Layer]:
    """Lines, boundaries and points of the claimed places."""
    for reference in references:
        paths = reference["lines"]
        d = _lines(paths, sheet, reference["half_width_m"])
        covers = tuple(
            point
            for path in paths
            for run in runs_near(path, sheet.window)
            for point in along(sheet.thinned(run))
            if sheet.frame.around(*point)
        )
        points = tuple(sheet.at(point) for point in reference["points"] if sheet.window.holds(point))
        drawn = _reference_lines(reference, d, sheet) if d else ""
        drawn += "".join(symbol_at(strokes.POINT_SYMBOL, *point) for point in points)
        anchors = (*points, *covers[:: max(1, len(covers) // 14)])
        yield Layer(drawn, covers, str(reference["title"]) if anchors else "", anchors)
    for zone in zones_of(references):
        yield from _zone_layers(zone, sheet)


def _zone_layers(zone: Mapping[str, Any], sheet: Sheet) -> Iterator[Layer]:
    """The sure and the possible edge of a summit's ground, and the summit."""
    for name, drawn, runs in edges_drawn(zone, sheet):
        covers = tuple(point for run in runs for point in along(run) if sheet.frame.around(*point))
        yield Layer(drawn, covers, name if covers else "", covers[:: max(1, len(covers) // 14)])
    if sheet.window.holds(zone["summit"]):
        summit = sheet.at(zone["summit"])
        yield Layer(symbol_at(strokes.SUMMIT_SYMBOL, *summit), _around(summit), _("summit"), (summit,))


def _reference_lines(reference: Mapping[str, Any], d: str, sheet: Sheet) -> str:
    about = f' data-claim="{escape(reference["claim"])}"'
    if reference["kind"] == "area":
        return stroked(d, 4.6, "#fff") + stroked(d, 2.2, dash="12 4 3 4", extra=about)
    width = max(5.0, 2 * reference["half_width_m"] * sheet.scale)
    return stroked(d, width, extra=about) + stroked(d, width - 2.6, "#fff")


def _things(data: Mapping[str, Any], sheet: Sheet) -> Iterator[Layer]:
    for worst in data["worst"]:
        yield _worst(worst, sheet)
    for part in sorted(data["parts"], key=_role_order):
        yield part_layer(part, sheet)


def _worst(worst: Mapping[str, Any], sheet: Sheet) -> Layer:
    """A ring around the point, and the line to measure from it to the nearest point of the place."""
    point = sheet.at(worst["point"])
    mark = symbol_at(strokes.WORST_SYMBOL, *point)
    if worst["nearest"] is None:
        return Layer(mark, (point,), worst["label"], (point,))
    line = [point, sheet.at(worst["nearest"])]
    drawn = stroked(path_data(line), 3.4, "#fff") + stroked(path_data(line), 1.2, extra=' data-measure=""')
    end = symbol_at(strokes.NEAREST_SYMBOL, *line[1])
    return Layer(drawn + end + mark, tuple(along(line)), worst["label"], (point,))


def _role_order(part: Mapping[str, Any]) -> tuple[bool, int]:
    role = part["role"]
    return part["shape"] != "point", ROLE_ORDER.index(role) if role in ROLE_ORDER else len(ROLE_ORDER)


def part_layer(part: Mapping[str, Any], sheet: Sheet) -> Layer:
    """One part of the station, to scale."""
    path = [sheet.at(point) for point in part["points"]]
    width, dash = strokes.style_of(part["role"])
    about = f' data-part="{escape(str(part["name"]))}" stroke-linecap="butt"'
    if part["radius_m"]:
        radius = part["radius_m"] * sheet.scale
        ring = _ring(path[0], radius)
        return Layer(
            stroked(_circle(path[0], radius), min(width, 2.0), dash=dash, extra=about), ring, part["name"], ring
        )
    if len(path) == 1:
        return Layer(symbol_at(strokes.symbol_of(part["role"]), *path[0]), _around(path[0]), part["name"], (path[0],))
    closed = part["shape"] == "polygon"
    covers = tuple(along([*path, path[0]] if closed else path))
    return Layer(stroked(path_data(path, closed), width, dash=dash, extra=about), covers, part["name"], _spread(covers))


def _around(point: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """What a symbol covers."""
    return tuple((point[0] + right * 5, point[1] + down * 5) for right in (-1, 0, 1) for down in (-1, 0, 1))


def _spread(points: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """A dozen of the points, those in the middle first."""
    middle = points[len(points) // 2]
    chosen = points[:: max(1, len(points) // 12)]
    return tuple(sorted(chosen, key=lambda point: hypot(point[0] - middle[0], point[1] - middle[1])))


def _ring(centre: Sequence[float], radius: float) -> tuple[tuple[float, float], ...]:
    turns = ((1, 0), (0.92, 0.38), (0.71, 0.71), (0.38, 0.92), (0, 1), (-0.38, 0.92), (-0.71, 0.71), (-0.92, 0.38))
    half = [(centre[0] + radius * right, centre[1] + radius * down) for right, down in turns]
    return (*half, *((2 * centre[0] - x, 2 * centre[1] - y) for x, y in half))


def _circle(centre: Sequence[float], radius: float) -> str:
    start, size = f"{number(centre[0] - radius)} {number(centre[1])}", number(radius)
    across = number(2 * radius)
    return f"M{start}a{size} {size} 0 1 0 {across} 0a{size} {size} 0 1 0 -{across} 0Z"


def _position(position: Mapping[str, Any] | None, sheet: Sheet) -> Iterator[Layer]:
    if position is None:
        return
    centre = sheet.at((0.0, 0.0))
    yield Layer(symbol_at(strokes.POSITION_SYMBOL, *centre), (centre,))
    if position["radius_m"]:
        radius = position["radius_m"] * sheet.scale
        ring = _ring(centre, radius)
        about = ' data-position="95 %"'
        yield Layer(stroked(_circle(centre, radius), 1.6, dash="1.5 3.5", extra=about), ring, _("95 % circle"), ring)


def _frame_of_map(close: Mapping[str, Any], sheet: Sheet) -> Layer:
    window = close["window"]
    west, north = sheet.at((window["west"], window["north"]))
    east, south = sheet.at((window["east"], window["south"]))
    # A station far from every boundary would be too small to see.
    grow = max(0.0, 7 - (east - west) / 2)
    corners = [(west - grow, north - grow), (east + grow, north - grow), (east + grow, south + grow)]
    path = [*corners, (west - grow, south + grow)]
    drawn = stroked(path_data(path, closed=True), 5, "#fff") + stroked(path_data(path, closed=True), 2.6)
    return Layer(drawn, tuple(along([*path, path[0]])), _("the map above"), tuple(path))


def named(layers: Sequence[Layer], sheet: Sheet) -> Iterator[str]:
    """The names of what is drawn, where there is room for them."""
    placer = Placer(sheet.frame, TEXT, [point for layer in layers for point in layer.covers])
    for layer in layers:
        if layer.name:
            placer.add(_shortened(layer.name), layer.anchors)
    yield from (_name(label) for label in placer.placed)


def _name(label: Label) -> str:
    leader = label.leader
    line = stroked(path_data([leader[:2], leader[2:]]), 0.9) if leader else ""
    box: Box = label.box
    return line + words(
        label.text, (box.left + box.right) / 2, box.bottom - TEXT * 0.32, TEXT, "middle", ' data-name=""'
    )


def _shortened(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1].rstrip()}…"
