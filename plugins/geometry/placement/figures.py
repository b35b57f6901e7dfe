"""The map of a placement as SVG text, drawn from its JSON alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from afield.core.api import _, marked
from afield.plugins.geometry import strokes
from afield.plugins.geometry.figures import Layer, framed, map_figure, part_layer, reference_layers
from afield.plugins.geometry.labels import along
from afield.plugins.geometry.placement.rose import rose_swatches
from afield.plugins.geometry.placement.wording import is_miss
from afield.plugins.geometry.sheet import SMALL_WIDTH, Sheet
from afield.plugins.geometry.strokes import path_data, stroked, symbol_at

Json = Mapping[str, Any]
REGION = "#a6a6a6"
MARKS = {"plan": strokes.POSITION_SYMBOL, "access": strokes.OTHER_SYMBOL}
MARK_NAMES = {"plan": marked("the plan"), "access": marked("access point")}
WINDOW_DASH = "1.5 5"
RING = "".join(
    f'<circle r="10" fill="none" stroke="{colour}" stroke-width="{width}"/>'
    for colour, width in (("#fff", 5), ("#000", 2))
)


def placement_figure(found: Json) -> str:
    """The claimed places, where all of them count, and the places found with the station laid there."""
    drawing = found["drawing"]
    sheet = Sheet.of(drawing["view"], "placement", SMALL_WIDTH)
    layers = [*_stations(drawing, sheet, names_of(found)), *_marks(drawing, sheet)]
    layers += [_end_of_search(found["window"]["half_m"], sheet), *reference_layers(drawing["references"], sheet)]
    return framed(
        sheet, _("Map of the places found"), drawing["references"], layers, needle_of(found), _region(drawing, sheet)
    )


def names_of(found: Json) -> dict[str, str]:
    """What each place found is called on the map."""
    best = _("most room") if found["outcome"] == "fits" else _("tried")
    return {"nearest": _("nearest"), "best": _("nearest miss") if is_miss(found) else best}


def needle_of(found: Json) -> float | None:
    """Declination of the needle where a place was found."""
    place = found["best"] or found["nearest"]
    return place["declination_deg"] if place else None


def _region(drawing: Json, sheet: Sheet) -> str:
    rings = [ring for rings in drawing["region"] for ring in rings]
    d = "".join(path_data(sheet.thinned(ring), closed=True) for ring in rings)
    style = f'fill="{REGION}" fill-rule="evenodd" stroke="#000" stroke-width="2"'
    return f'<path d="{d}" {style} data-region=""/>' if d else ""


def _end_of_search(half_m: float, sheet: Sheet) -> Layer:
    corners = [(-half_m, -half_m), (half_m, -half_m), (half_m, half_m), (-half_m, half_m)]
    outline = path_data([sheet.at(corner) for corner in corners], closed=True)
    return Layer(stroked(outline, 2, dash=WINDOW_DASH, extra=' stroke-linecap="round" data-window=""'))


def _stations(drawing: Json, sheet: Sheet, names: Mapping[str, str]) -> Iterator[Layer]:
    for station in drawing["stations"]:
        at = sheet.at(station["at"])
        yield Layer(symbol_at(RING, *at), (at,), names[station["name"]], (at,))
        for part in station["parts"]:
            layer = part_layer(part, sheet)
            yield Layer(layer.drawn, layer.covers)


def _marks(drawing: Json, sheet: Sheet) -> Iterator[Layer]:
    for name, symbol in MARKS.items():
        if drawing[name] is not None:
            at = sheet.at(drawing[name])
            yield Layer(symbol_at(symbol, *at), tuple(along([at])), _(MARK_NAMES[name]), (at,))


def station_figure(found: Json, which: str) -> str:
    """The station to scale at the "nearest" or the "best" place, with the boundaries near it; empty without a map."""
    place = found[which]
    return map_figure(place["map"], f"there-{which}") if place and place["map"] else ""


@lru_cache(maxsize=1)
def samples() -> dict[str, str]:
    """Samples for the keys of map and rose, by name."""
    drawn: dict[str, Callable[[Json], str]] = {
        **strokes.swatches(),
        "region": strokes.swatch(f'<path d="M3 2H41V18H3Z" fill="{REGION}" stroke="#000" stroke-width="2"/>'),
        "window": strokes.swatch(stroked("M2 10H42", 2, dash=WINDOW_DASH, extra=' stroke-linecap="round"')),
        "place": strokes.swatch(symbol_at('<circle r="7.5" fill="none" stroke="#000" stroke-width="2"/>', 22, 10)),
        "plan": strokes.swatch(symbol_at(strokes.POSITION_SYMBOL, 22, 10)),
        "access": strokes.swatch(symbol_at(strokes.OTHER_SYMBOL, 22, 10)),
    }
    return {**{name: _renamed(draw({})) for name, draw in drawn.items()}, **rose_swatches()}


def _renamed(sample: str) -> str:
    """The map of the briefing has a key, too, and the name of a pattern may stand only once on a page."""
    return sample.replace('"key-', '"place-key-').replace("#key-", "#place-key-")
