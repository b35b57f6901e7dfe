"""The chart: a strip a side for every number, with a mark at the value and a whisker over its 95 % interval."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.comparing.scales import Scale, scale_of
from afield.core.quantities import printed
from afield.core.report.records import is_number

Json = Mapping[str, Any]
WIDTH, HEIGHT, INSET = 320.0, 24.0, 9.0
"""Of a strip, in its own units; the inset keeps marks at the ends whole."""
OUTLINES = {
    "circle": "M-6 0a6 6 0 1 0 12 0a6 6 0 1 0 -12 0Z",
    "square": "M-5.5 -5.5h11v11h-11Z",
    "triangle": "M0 -6.5L6.5 5.5H-6.5Z",
    "diamond": "M0 -7.5L6.5 0L0 7.5L-6.5 0Z",
    "turned triangle": "M0 6.5L6.5 -5.5H-6.5Z",
    "hexagon": "M-6.5 0L-3.2 -5.8H3.2L6.5 0L3.2 5.8H-3.2Z",
}
"""Shape -> its path around 0; a mark's shape and filling tell the sides apart, as their names do."""


def strips(comparison: Json) -> list[dict[str, Any]]:
    """The chart's strips: of every row that is a number on two sides at least."""
    return [_strip(row) for row in comparison["rows"] if len(_numbers(row)) > 1]


def _numbers(row: Json) -> list[Json]:
    return [value for value in row["values"] if value["reason"] is None and is_number(value["value"])]


def _strip(row: Json) -> dict[str, Any]:
    exact = not any(value["uncertainty"] for value in _numbers(row))
    scale = scale_of((end for value in _numbers(row) for end in _ends(value)), exact)
    unit = row["unit"] or ""
    lines = [
        {
            "label": value["label"],
            "words": value["words"],
            "mark": mark_svg(index),
            "drawing": _drawing(value, scale, index),
        }
        for index, value in enumerate(row["values"])
    ]
    start, end = (printed(number, None, unit) for number in (scale.start, scale.end))
    return {"title": row["title"], "start": start, "end": end, "from_zero": scale.holds_zero, "lines": lines}


def _ends(value: Json) -> list[float]:
    return [value[name] for name in ("low", "value", "high") if value[name] is not None]


def mark_svg(index: int) -> str:
    """The mark of a side by itself."""
    return f'<svg class="mark" viewBox="-8 -8 16 16" aria-hidden="true">{_mark(index)}</svg>'


def _mark(index: int) -> str:
    """Filled ones first, and the base's is the first of them; then hollow ones."""
    outlines = list(OUTLINES.values())
    filled = index // len(outlines) % 2 == 0
    filling = "#000" if filled else "#fff"
    return f'<path d="{outlines[index % len(outlines)]}" fill="{filling}" stroke="#000" stroke-width="1.6"/>'


def _drawing(value: Json, scale: Scale, index: int) -> str:
    known = value["reason"] is None and is_number(value["value"])
    inner = "".join([*_ground(scale), *(_reading(value, scale, index) if known else ())])
    return f'<svg class="strip" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" aria-hidden="true">{inner}</svg>'


def _ground(scale: Scale) -> Iterator[str]:
    middle = HEIGHT / 2
    yield _line(INSET, middle, WIDTH - INSET, middle, "#b9b9b9", 1)
    for x in (INSET, WIDTH - INSET):
        yield _line(x, 3, x, HEIGHT - 3, "#b9b9b9", 1)
    if scale.holds_zero:
        zero = _x(0.0, scale)
        yield _line(zero, 1, zero, HEIGHT - 1, "#444", 1.6)


def _reading(value: Json, scale: Scale, index: int) -> Iterator[str]:
    middle, x = HEIGHT / 2, _x(value["value"], scale)
    low, high = (_x(value["value"] if value[end] is None else value[end], scale) for end in ("low", "high"))
    if low < high:
        yield _line(low, middle, high, middle, "#000", 2)
        yield from (_line(end, middle - 6, end, middle + 6, "#000", 2) for end in (low, high))
    yield f'<g transform="translate({_shown(x)} {_shown(middle)})">{_mark(index)}</g>'


def _x(value: float, scale: Scale) -> float:
    return INSET + scale.at(value) * (WIDTH - 2 * INSET)


def _line(left: float, top: float, right: float, bottom: float, colour: str, width: float) -> str:
    ends = f'x1="{_shown(left)}" y1="{_shown(top)}" x2="{_shown(right)}" y2="{_shown(bottom)}"'
    return f'<line {ends} stroke="{colour}" stroke-width="{width:g}"/>'


def _shown(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
