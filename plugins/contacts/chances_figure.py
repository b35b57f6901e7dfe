"""The chances of the minimum as SVG text, drawn from the section's JSON alone: told apart by shape, not by colour."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from html import escape
from typing import Any

from afield.core.api import _, marked

WIDTH, LEFT, RIGHT, TOP, ROW = 344.0, 10.0, 12.0, 22.0, 38.0
SCALE = (0, 50, 90, 100)
TEXT = 13.0
LABEL = marked("Chance of the minimum. {chances}")

Data = Mapping[str, Any]


def chances_figure(data: Data) -> str:
    """A row for each claim and period: a bar to the chance, a line over what the rate's interval makes of it."""
    rows = [(claim, row) for claim in data["claims"] for row in claim["rows"] if row["percent"]]
    if not rows:
        return ""
    height = TOP + ROW * len(rows) + 4
    parts = [*_grid(height), *(part for at, row in enumerate(rows) for part in _bar(*row, TOP + ROW * at))]
    label = "; ".join(f"{_name(claim)}, {row['period']}: {row['chance']}" for claim, row in rows)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(WIDTH)} {_n(height)}" role="img" '
        f'aria-label="{escape(_(LABEL).format(chances=label))}" font-family="inherit">{"".join(parts)}</svg>'
    )


def _x(percent: float) -> float:
    return LEFT + (WIDTH - LEFT - RIGHT) * percent / 100


def _grid(height: float) -> Iterator[str]:
    for percent in SCALE:
        x = _n(_x(percent))
        dashes = "" if percent in (0, 100) else ' stroke-dasharray="3 3"'
        yield f'<path d="M{x} {_n(TOP - 5)}V{_n(height)}" stroke="#000" stroke-width=".8"{dashes}/>'
        # 90 and 100 stand close together: the unit is written once, at the left.
        words, anchor = (f"{percent} %", "start") if percent == 0 else (str(percent), "middle")
        yield _text(words, LEFT - 4 if percent == 0 else _x(percent), TOP - 9, anchor)


def _bar(claim: Data, row: Data, top: float) -> Iterator[str]:
    low, value, high = row["percent"]
    middle = top + 26
    yield _text(f"{_name(claim)}, {row['period']}: {row['minutes']}", LEFT + 4, top + 14, "start")
    yield (
        f'<rect x="{_n(_x(0))}" y="{_n(middle - 5)}" width="{_n(_x(value) - _x(0))}" height="10" fill="#c4c4c4" '
        f'stroke="#000" stroke-width="1.2" data-chance="{_n(value)}"/>'
    )
    if low < high:
        ends = "".join(f"M{_n(_x(end))} {_n(middle - 4)}v8" for end in (low, high))
        line = f"M{_n(_x(low))} {_n(middle)}H{_n(_x(high))}{ends}"
        yield f'<path d="{line}" fill="none" stroke="#000" stroke-width="1.8"/>'


def _name(claim: Data) -> str:
    """The references of a claim's title without their programs; of several the first, and how many more."""
    first, *others = (title.split(" / ", 1)[-1] for title in claim["title"].split(", "))
    return _("{first} and {count} more").format(first=first, count=len(others)) if others else first


def _text(words: str, x: float, y: float, anchor: str) -> str:
    rim = 'stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke"'
    place = f'x="{_n(x)}" y="{_n(y)}" font-size="{_n(TEXT)}" text-anchor="{anchor}"'
    return f'<text {place} fill="#000" {rim}>{escape(words)}</text>'


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
