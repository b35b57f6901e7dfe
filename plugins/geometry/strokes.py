"""The marks of the map, legible without colour: a line style and a symbol for each role of a part."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from html import escape
from typing import Any

INK = "#000"
BAND = "#e3e3e3"
BAND_EDGE = "#6b6b6b"
HATCH = "#8c8c8c"
HATCH_ANGLES = (45, 135, 0, 90)
LINE_STYLES = {
    "antenna": (3.2, ""),
    "feed line": (2.0, "7 4"),
    "counterpoise": (2.0, "2 3"),
    "guy": (1.0, ""),
    "mast": (5.0, ""),
    "supply": (1.6, "9 3 2 3"),
    "vehicle": (2.4, ""),
    "operating position": (2.4, ""),
}
OTHER_STYLE = (2.0, "10 3 2 3 2 3")
ROLES = (*LINE_STYLES, "other")
SHAPES = ("point", "line", "radials", "circle", "polygon")
OUTLINED = 'fill="#fff" stroke="#000" stroke-width="2"'
SYMBOLS = {
    "operating position": '<path d="M0 -7L7 6H-7Z" fill="#000"/>',
    "mast": '<circle r="5" fill="#000"/>',
    "antenna": f'<circle r="6" {OUTLINED}/><path d="M-4 -4L4 4M-4 4L4 -4" stroke="#000" stroke-width="2"/>',
    "supply": '<rect x="-5" y="-5" width="10" height="10" fill="#000"/>',
    "vehicle": f'<rect x="-8" y="-5" width="16" height="10" rx="2" {OUTLINED}/>',
}
OTHER_SYMBOL = f'<path d="M0 -7L7 0L0 7L-7 0Z" {OUTLINED}/>'
POINT_SYMBOL = f'<circle r="7" {OUTLINED}/><circle r="2.5" fill="#000"/>'
SUMMIT_SYMBOL = f'<path d="M0 -8L8 6H-8Z" {OUTLINED}/><circle r="2" cy="1" fill="#000"/>'
NEAREST_SYMBOL = f'<circle r="3.5" {OUTLINED}/>'
WORST_SYMBOL = "".join(
    f'<circle r="9" fill="none" stroke="{colour}" stroke-width="{width}"/>' for colour, width in (("#fff", 5), (INK, 2))
)
POSITION_SYMBOL = "".join(
    f'<path d="M-9 0H9M0 -9V9" stroke="{colour}" stroke-width="{width}"/>'
    for colour, width in (("#fff", 4), (INK, 1.4))
)


def number(value: float) -> str:
    """A coordinate of the drawing, to a hundredth."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if round(value, 2) else "0"


def path_data(points: Sequence[Sequence[float]], closed: bool = False) -> str:
    """The `d` of a path through the points."""
    steps = "L".join(f"{number(point[0])} {number(point[1])}" for point in points)
    return f"M{steps}{'Z' if closed else ''}"


def stroked(d: str, width: float, colour: str = INK, dash: str = "", extra: str = "") -> str:
    """A path as a line without filling."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{number(width)}"{dashes}{extra}/>'


def symbol_at(symbol: str, x: float, y: float) -> str:
    """A symbol put at a point of the drawing."""
    return f'<g transform="translate({number(x)} {number(y)})">{symbol}</g>'


def symbol_of(role: str) -> str:
    """The symbol of a part that is a point."""
    return SYMBOLS.get(role, OTHER_SYMBOL)


def style_of(role: str) -> tuple[float, str]:
    """Line width and dashes of a part that is a line."""
    return LINE_STYLES.get(role, OTHER_STYLE)


def words(text: str, x: float, y: float, size: float, anchor: str = "start", extra: str = "") -> str:
    """A text with a white rim, so that it reads on lines and hatching."""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" text-anchor="{anchor}" fill="#000" '
        f'stroke="#fff" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke"{extra}>{escape(text)}</text>'
    )


def hatching(name: str, index: int) -> str:
    """A pattern of thin lines; each index has its own direction."""
    angle = HATCH_ANGLES[index % len(HATCH_ANGLES)]
    return (
        f'<pattern id="{name}" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate({angle})">'
        f'<path d="M0 0H9" stroke="{HATCH}" stroke-width="1.6"/></pattern>'
    )


def dotting(name: str) -> str:
    """A pattern of dots, which lies on any hatching and still reads."""
    dots = "".join(f'<circle cx="{x}" cy="{y}" r="1" fill="{INK}"/>' for x, y in ((2.5, 2.5), (7.5, 7.5)))
    return f'<pattern id="{name}" width="10" height="10" patternUnits="userSpaceOnUse">{dots}</pattern>'


def swatch(content: str) -> Callable[[Mapping[str, Any]], str]:
    """A sample for the key of a drawing, 44 by 20 units."""
    size = 'viewBox="0 0 44 20" width="44" height="20" aria-hidden="true"'
    drawn = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{content}</svg>'
    return lambda data: drawn


def _part_swatch(role: str, shape: str) -> Callable[[Mapping[str, Any]], str]:
    width, dash = style_of(role)
    if shape == "point":
        return swatch(symbol_at(symbol_of(role), 22, 10))
    if shape in ("line", "radials"):
        return swatch(stroked("M2 10H42", width, dash=dash))
    outline = "M22 2A8 8 0 1 0 22.01 2Z" if shape == "circle" else "M8 3H36V17H8Z"
    return swatch(stroked(outline, min(width, 2.4), dash=dash))


def _hatch_swatch(index: int) -> Callable[[Mapping[str, Any]], str]:
    name = f"key-hatch-{index}"
    boundary = stroked("M4 18H40", 2.2, dash="12 4 3 4")
    return swatch(f'{hatching(name, index)}<rect x="4" y="1" width="36" height="17" fill="url(#{name})"/>{boundary}')


def _zone_swatch() -> Callable[[Mapping[str, Any]], str]:
    places = [(18, 4), (26, 4), (22, 10), (18, 16), (26, 16)]
    dots = "".join(f'<circle cx="{x}" cy="{y}" r="1" fill="{INK}"/>' for x, y in places)
    sure, possible = stroked("M14 1V19", 1.8), stroked("M31 1V19", 1.6, dash="2 4")
    return swatch(f"{dots}{sure}{possible}")


def swatches() -> dict[str, Callable[[Mapping[str, Any]], str]]:
    """The samples of the key by name: "part ROLE SHAPE", "area INDEX", "line", "corridor", "point" and so on."""
    parts = {f"part {role} {shape}": _part_swatch(role, shape) for role in ROLES for shape in SHAPES}
    areas = {f"area {index}": _hatch_swatch(index) for index in range(len(HATCH_ANGLES))}
    road = stroked("M2 10H42", 5) + stroked("M2 10H42", 2.4, "#fff")
    band = f'<rect x="2" y="2" width="40" height="16" fill="{BAND}" stroke="{BAND_EDGE}"/>'
    circle = stroked("M22 2A8 8 0 1 0 22.01 2Z", 1.4, dash="1.5 3") + symbol_at(POSITION_SYMBOL, 22, 10)
    return {
        **parts,
        **areas,
        "line": swatch(road),
        "corridor": swatch(band),
        "point": swatch(symbol_at(POINT_SYMBOL, 22, 10)),
        "position": swatch(circle),
        "zone": _zone_swatch(),
        "worst": swatch(symbol_at(WORST_SYMBOL, 22, 10)),
    }
