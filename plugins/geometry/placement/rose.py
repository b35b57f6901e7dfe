"""The bearings as a rose: which fit somewhere, which nowhere, which are undecided, told apart by shape and hatching."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from html import escape
from math import cos, radians, sin
from typing import Any

from afield.core.api import _, marked
from afield.plugins.geometry import strokes
from afield.plugins.geometry.strokes import number, stroked, words

Json = Mapping[str, Any]
SIZE = 300.0
MIDDLE = SIZE / 2
HUB, SHORT, LONG = 46.0, 62.0, 104.0
"""Radii: of the middle, of an arc that does not fit, of one that does or may."""
FILL = {"fits": "#444", "does not fit": "#fff", "cannot tell": "url(#rose-undecided)"}
RADIUS = {"fits": LONG, "does not fit": SHORT, "cannot tell": LONG}
EDGE = 'stroke="#000"'
LETTERS = ((0, marked("N true")), (90, marked("E")), (180, marked("S")), (270, marked("W")))


def rose_figure(bearings: Json) -> str:
    """The rose; empty where no part has a bearing, or none was tried."""
    if not bearings["arcs"]:
        return ""
    drawn = "".join(_sector(arc) for arc in bearings["arcs"])
    size, title = number(SIZE), escape(_("Bearings that fit"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" role="img" '
        f'aria-label="{title}" font-family="inherit"><defs>{strokes.hatching("rose-undecided", 0)}</defs>'
        f"{''.join(_ticks())}{drawn}{''.join(_hands(bearings))}{''.join(_letters())}</svg>"
    )


def _at(bearing_deg: float, radius: float) -> tuple[float, float]:
    return MIDDLE + radius * sin(radians(bearing_deg)), MIDDLE - radius * cos(radians(bearing_deg))


def _sector(arc: Json) -> str:
    outer = RADIUS[arc["found"]]
    about = f'fill="{FILL[arc["found"]]}" stroke="#000" stroke-width="1.2" data-found="{arc["found"]}"'
    if arc["width_deg"] >= 359.99:
        rings = _round(outer) + _round(HUB)
        return f'<path d="{rings}" fill-rule="evenodd" {about}/>'
    start, end = arc["from_deg"], arc["from_deg"] + arc["width_deg"]
    large = int(arc["width_deg"] > 180)
    return f'<path d="{_arc(start, end, outer, large, 1)}L{_arc(end, start, HUB, large, 0)[1:]}Z" {about}/>'


def _arc(start_deg: float, end_deg: float, radius: float, large: int, clockwise: int) -> str:
    (x0, y0), (x1, y1) = _at(start_deg, radius), _at(end_deg, radius)
    r = number(radius)
    return f"M{number(x0)} {number(y0)}A{r} {r} 0 {large} {clockwise} {number(x1)} {number(y1)}"


def _round(radius: float) -> str:
    r, across = number(radius), number(2 * radius)
    return f"M{number(MIDDLE - radius)} {number(MIDDLE)}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 -{across} 0Z"


def _ticks() -> Iterator[str]:
    for bearing in range(0, 360, 30):
        (x0, y0), (x1, y1) = _at(bearing, LONG + 3), _at(bearing, LONG + 10)
        yield stroked(f"M{number(x0)} {number(y0)}L{number(x1)} {number(y1)}", 1.4)


def _hands(bearings: Json) -> Iterator[str]:
    """As planned: dashed. With most room: solid, with a head."""
    if bearings["planned_deg"] is not None:
        x, y = _at(bearings["planned_deg"], HUB - 4)
        yield stroked(f"M{number(MIDDLE)} {number(MIDDLE)}L{number(x)} {number(y)}", 2, dash="4 3")
    if bearings["best_deg"] is not None:
        x, y = _at(bearings["best_deg"], HUB - 10)
        turn = number(bearings["best_deg"])
        yield stroked(f"M{number(MIDDLE)} {number(MIDDLE)}L{number(x)} {number(y)}", 3)
        yield f'<path d="M0 -9L5 3H-5Z" transform="translate({number(x)} {number(y)}) rotate({turn})"/>'


def _letters() -> Iterator[str]:
    for bearing in range(0, 360, 30):
        letter = _(dict(LETTERS)[bearing]) if bearing % 90 == 0 else f"{bearing:03d}°"
        x, y = _at(bearing, LONG + 26)
        yield words(letter, x, y + 5, 15 if bearing % 90 == 0 else 12, "middle")


def rose_swatches() -> dict[str, str]:
    """Samples for the key, by name."""
    drawn = {
        "fits": f'<rect x="3" y="2" width="38" height="16" fill="{FILL["fits"]}" stroke="#000"/>',
        "does not fit": '<rect x="3" y="7" width="38" height="6" fill="#fff" stroke="#000"/>',
        "cannot tell": f'{strokes.hatching("rose-key", 0)}<path d="M3 2H41V18H3Z" fill="url(#rose-key)" {EDGE}/>',
        "planned": stroked("M3 10H41", 2, dash="4 3"),
        "best": stroked("M3 10H34", 3) + '<path d="M42 10L32 5V15Z"/>',
    }
    return {name: strokes.swatch(content)({}) for name, content in drawn.items()}
