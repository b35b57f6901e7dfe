"""The chart of a path: a row for each band, a column for each hour; states differ by shape, not by colour.

What a marginal or closed band lacks differs by shape too: too high a frequency, or too weak a signal.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape
from typing import Any

from afield.core.api import _, marked

WIDTH, TOP, ROW = 360.0, 51.0, 15.0
SENT = 12.0
"""Height of the row on what is sent, where that differs."""
HATCH = (
    '<pattern id="{name}" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<rect width="5" height="5" fill="#fff"/><path d="M0 0H5" stroke="#000" stroke-width="2"/></pattern>'
)
NAMES = (marked("UTC"), marked("local"), marked("sun"), marked("on air"), marked("sent"))
"""Of the rows above the bands, from the top."""
LEAST_LEFT, LETTER = 46.0, 6.2
"""Narrowest room for the names of the rows, and the width of a letter in it."""
LEAST_LABEL = 24.0
"""Narrowest column that carries a label of two figures."""

Data = Mapping[str, Any]


def panel_figure(index: int) -> Callable[[Data], str]:
    """The drawing of one panel, as SVG text; empty where there is no chart or no such panel."""

    def drawn(data: Data) -> str:
        chart = data["chart"]
        if chart is None or index >= len(chart["panels"]) or not chart["panels"][index]["rows"]:
            return ""
        return _svg(chart["columns"], chart["panels"][index], f"marginal-{index}")

    return drawn


def swatch(state: str, lacks: str) -> Callable[[Data], str]:
    """The drawing of one state for the key, with what it lacks."""
    name = f"key-{state}-{lacks}"
    cell = f"<defs>{HATCH.format(name=name)}</defs>{_cell((state, lacks), 2, 1, 40, 18, name)}"
    size = 'viewBox="0 0 44 20" width="44" height="20" style="flex:none" aria-hidden="true"'
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{cell}</svg>'
    return lambda data: drawing


def _left() -> float:
    """Room for the names of the rows, which are longer in some languages."""
    return max(LEAST_LEFT, 6 + LETTER * max(len(_(name)) for name in NAMES))


def _svg(columns: Sequence[Data], panel: Data, hatch: str) -> str:
    left = _left()
    wide = (WIDTH - left - 2) / len(columns)
    top = TOP + (SENT if any(column["sent"] for column in columns) else 0)
    height = top + ROW * len(panel["rows"]) + 3
    parts = [
        *_clock(columns, left, wide),
        *_sent(columns, left, wide),
        *(part for row, one in enumerate(panel["rows"]) for part in _band(one, left, top + ROW * row, wide, hatch)),
        *_midnights(columns, left, wide, height),
    ]
    rows = "; ".join(_words(row, columns) for row in panel["rows"])
    label = escape(_("{path}, hour by hour: {rows}").format(path=panel["title"], rows=rows))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(WIDTH)} {_n(height)}" role="img" '
        f'aria-label="{label}" font-family="Arial, sans-serif">'
        f"<defs>{HATCH.format(name=hatch)}</defs>{''.join(parts)}</svg>"
    )


def _words(row: Data, columns: Sequence[Data]) -> str:
    hours = [column["utc"][11:13] for column, state in zip(columns, row["states"], strict=True) if state == "open"]
    words = _("{band} open at {hours} UTC") if hours else _("{band} marginal at best")
    return words.format(band=row["band"], hours=", ".join(hours))


def _clock(columns: Sequence[Data], first: float, wide: float) -> Iterator[str]:
    """Both clocks, day and night, and the time on the air."""
    for y, name in zip((11, 23, 35, 47), NAMES, strict=False):
        yield _text(first - 5, y, _(name), 10, "end")
    step = 1 if wide >= LEAST_LABEL else 2 if 2 * wide >= LEAST_LABEL else 3
    for at, column in enumerate(columns):
        left = first + at * wide
        if int(column["utc"][11:13]) % step == 0:
            yield from _hour(column, left + wide / 2)
        night = "" if column["daylight"] else '<path d="M{0} 28h{1}v8h-{1}z" fill="#555"/>'.format(_n(left), _n(wide))
        yield f'{night}<path d="M{_n(left)} 28h{_n(wide)}v8h-{_n(wide)}z" fill="none" stroke="#000" stroke-width=".7"/>'
        for start, end in column["on_air"]:
            line = f"M{_n(left + wide * start / 60)} 43.5H{_n(left + wide * end / 60)}"
            yield f'<path d="{line}" stroke="#000" stroke-width="4"/>'


def _sent(columns: Sequence[Data], left: float, wide: float) -> Iterator[str]:
    """A letter for the power and mode of each hour, where they differ."""
    if any(column["sent"] for column in columns):
        yield _text(left - 5, TOP + 8, _(NAMES[-1]), 10, "end")
        for at, column in enumerate(columns):
            yield _text(left + (at + 0.5) * wide, TOP + 8, column["sent"], 10, "middle")


def _hour(column: Data, middle: float) -> Iterator[str]:
    whole = column["local"].endswith(":00")
    yield _text(middle, 11, column["utc"][11:13], 11, "middle", bold=True)
    yield _text(middle, 23, column["local"][:2] if whole else column["local"], 11 if whole else 8.5, "middle")


def _band(row: Data, left: float, top: float, wide: float, hatch: str) -> Iterator[str]:
    yield _text(left - 5, top + ROW - 4, row["band"], 11, "end", bold=True)
    yield f'<path d="M{_n(left)} {_n(top)}H{_n(WIDTH - 2)}" stroke="#999" stroke-width=".5"/>'
    for at, pair in enumerate(zip(row["states"], row["lacks"], strict=True)):
        yield _cell(pair, left + at * wide, top, wide, ROW, hatch)


def _cell(pair: tuple[str, str], left: float, top: float, wide: float, high: float, hatch: str) -> str:
    """Open: a black block. Marginal: a low one, hatched, or empty if weak. Closed: a dot, or a dash if too weak."""
    state, lacks = pair
    if state == "open":
        return _block(left, top + 1.5, wide, high - 3, "#000")
    if state == "marginal":
        fill = "#fff" if lacks == "signal" else f"url(#{hatch})"
        return _block(left, top + high * 0.45, wide, high * 0.55 - 1.5, fill)
    across, middle = left + wide / 2, top + high / 2
    if lacks == "signal":
        return f'<path d="M{_n(across - 3)} {_n(middle)}h6" stroke="#000" stroke-width="1.2"/>'
    return f'<circle cx="{_n(across)}" cy="{_n(middle)}" r="1.2" fill="#000"/>'


def _block(left: float, top: float, wide: float, high: float, fill: str) -> str:
    size = f'x="{_n(left + 0.6)}" y="{_n(top)}" width="{_n(wide - 1.2)}" height="{_n(high)}"'
    return f'<rect {size} fill="{fill}" stroke="#000" stroke-width=".8"/>'


def _midnights(columns: Sequence[Data], left: float, wide: float, height: float) -> Iterator[str]:
    """A line where a UTC day begins, white under black so that it shows on the blocks."""
    for at, column in enumerate(columns):
        if at and column["utc"].endswith("T00:00Z"):
            d = f'd="M{_n(left + at * wide)} 26V{_n(height)}"'
            yield f'<path {d} stroke="#fff" stroke-width="4"/>'
            yield f'<path {d} stroke="#000" stroke-width="1.8" stroke-dasharray="5 3"/>'


def _text(x: float, y: float, words: str, size: float, anchor: str, bold: bool = False) -> str:
    weight = ' font-weight="700"' if bold else ""
    place = f'x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="{anchor}"'
    return f"<text {place}{weight}>{escape(words)}</text>"


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
