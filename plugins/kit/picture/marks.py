"""The strokes of the wiring's picture: what the state of a joint looks like, by shape and by line, without colour."""

from __future__ import annotations

from html import escape

LINES = {
    "joined": (2.2, ""), "inferred": (2.2, "7 4"), "does not fit": (2.2, ""), "missing": (1.6, ""),
    "cannot tell": (2.0, "1.5 4"),
}  # fmt: skip
"""Width and dashes of what joins a lead to a box."""
OUTLINED = 'fill="#fff" stroke="#000"'
SHAPES = {
    "joined": '<circle r="4.2" fill="#000"/>',
    "inferred": f'<circle r="4" {OUTLINED} stroke-width="2"/>',
    "does not fit": (
        '<path d="M-7 -7L7 7M-7 7L7 -7" fill="none" stroke="#fff" stroke-width="7.5"/>'
        '<path d="M-7 -7L7 7M-7 7L7 -7" fill="none" stroke="#000" stroke-width="4"/>'
    ),
    "missing": f'<path d="M0 -7L7 0L0 7L-7 0Z" {OUTLINED} stroke-width="2.2"/>',
    "cannot tell": (
        f'<circle r="8.5" {OUTLINED} stroke-width="1.6"/>'
        '<text y="4.8" font-size="13.5" font-weight="700" text-anchor="middle">?</text>'
    ),
}
BODY, BORE = 5.4, 2.2
"""A lead is a double line: the width of the whole, and of the white within."""


def number(value: float) -> str:
    """A coordinate of the drawing, to a tenth."""
    return f"{value:.1f}".removesuffix(".0")


def down(x: float, top: float, bottom: float, mark: str) -> str:
    """A vertical in the style of a mark."""
    return _line(f"M{number(x)} {number(top)}V{number(bottom)}", mark)


def across(left: float, right: float, y: float, mark: str) -> str:
    """A horizontal in the style of a mark; with a white casing, for it may cross verticals of other lines.

    The casing ends short of both ends, where the line's own verticals are.
    """
    width = number(LINES[mark][0] + 6)
    clear = f"M{number(left + 3)} {number(y)}H{number(right - 3)}"
    casing = f'<path d="{clear}" stroke="#fff" stroke-width="{width}"/>' if right - left > 6 else ""
    return casing + _line(f"M{number(left)} {number(y)}H{number(right)}", mark)


def _line(d: str, mark: str) -> str:
    width, dashes = LINES[mark]
    # Square ends fill the corners.
    style = f'stroke-dasharray="{dashes}"' if dashes else 'stroke-linecap="square"'
    return f'<path d="{d}" stroke="#000" stroke-width="{number(width)}" {style}/>'


def lead(left: float, right: float, y: float) -> str:
    """The body of a lead, with a white casing."""
    d = f"M{number(left)} {number(y)}H{number(right)}"
    widths = ((BODY + 5, "#fff"), (BODY, "#000"), (BORE, "#fff"))
    return "".join(f'<path d="{d}" stroke="{ink}" stroke-width="{number(width)}"/>' for width, ink in widths)


def mark_at(mark: str, x: float, y: float) -> str:
    """The shape of a joint's state."""
    return f'<g transform="translate({number(x)} {number(y)})" data-mark="{mark}">{SHAPES[mark]}</g>'


def box(left: float, top: float, right: float, bottom: float, packed: bool) -> str:
    """The outline of an item; dashed where the kit has none."""
    size = f'width="{number(right - left)}" height="{number(bottom - top)}" rx="3"'
    dashes = "" if packed else ' stroke-dasharray="3 4"'
    return f'<rect x="{number(left)}" y="{number(top)}" {size} {OUTLINED} stroke-width="2.2"{dashes}/>'


def words(text: str, x: float, y: float, size: float, anchor: str = "start", bold: bool = False) -> str:
    """A text with a white rim, so that it reads where a line passes."""
    weight = ' font-weight="700"' if bold else ""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" text-anchor="{anchor}"{weight} fill="#000" '
        f'stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke">{escape(text)}</text>'
    )
