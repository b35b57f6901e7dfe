"""The outlook as plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import _, marked
from afield.plugins.ionosphere.chart import NAMES

MOST_WIDE = 22
"""Columns of three characters that a line of the text briefing holds."""
MARKS = {
    ("open", ""): "#", ("marginal", "frequency"): "+", ("marginal", "signal"): "~", ("closed", "frequency"): ".",
    ("closed", "signal"): "-",
}  # fmt: skip
"""State, and what it lacks -> mark."""
KEY = (
    marked("# open; marginal: + near the usable frequency, ~ weak"),
    marked("closed: . too high a frequency, - too weak; d day, n night, * on the air"),
)
DAY, NIGHT = marked("day"), marked("night")
"""Their first letters are the marks in the row of the sun."""
FIRST = marked("First column {utc}, one column for each hour; local time is that of {zone}.")
UTC, LOCAL, SUN, ON_AIR, SENT = NAMES
LEAST_NAME = 7
"""Narrowest column for the names of the rows."""


def outlook_text(data: Mapping[str, Any]) -> str:
    """The section as plain text: a mark for each hour."""
    chart = data["chart"]
    return str(data["missing"]) if chart is None else "\n".join(_lines(chart))


def _lines(chart: Mapping[str, Any]) -> Iterator[str]:
    columns = chart["columns"]
    wide = 3 if len(columns) <= MOST_WIDE else 2
    yield from (_(line) for line in KEY)
    yield _(FIRST).format(utc=columns[0]["utc"], zone=chart["zone"])
    yield from _clocks(columns, wide)
    yield _row(_(SUN), (_(DAY if column["daylight"] else NIGHT)[0].lower() for column in columns), wide)
    yield _row(_(ON_AIR), ("*" if column["on_air"] else "" for column in columns), wide)
    if chart["sent"]:
        yield _row(_(SENT), (column["sent"] for column in columns), wide)
        yield f"{_(SENT)}: {'; '.join(chart['sent'])}"
    for panel in chart["panels"]:
        yield ""
        yield panel["title"]
        yield from (_row(row["band"], _marks(row), wide) for row in panel["rows"])
        yield from ("  " + _("closed throughout: {bands}").format(bands=text) for text in panel["closed"])
    yield ""
    yield chart["near_vertical"]
    if chart["grey_line"]:
        yield chart["grey_line"]
    if chart["distances"]:
        yield f"{chart['distances_title']}:"
        yield from (_("{band}: from {skip} on, to {reach}").format(**row) for row in chart["distances"])
        yield chart["hops"]
    yield from ("", *chart["basis"], *chart["limits"])


def _marks(row: Mapping[str, Any]) -> Iterator[str]:
    return (MARKS[pair] for pair in zip(row["states"], row["lacks"], strict=True))


def _clocks(columns: Sequence[Mapping[str, Any]], wide: int) -> Iterator[str]:
    """The hours of both clocks; in narrow columns every other one."""
    past = columns[0]["local"][2:]
    shown = [wide > 2 or int(column["utc"][11:13]) % 2 == 0 for column in columns]
    for name, key, start in ((_(UTC), "utc", 11), (_(LOCAL) + ("" if past == ":00" else past), "local", 0)):
        texts = (column[key][start : start + 2] for column in columns)
        yield _row(name, (text if show else "" for text, show in zip(texts, shown, strict=True)), wide)


def _row(name: str, marks: Iterable[str], wide: int) -> str:
    room = max(LEAST_NAME, 1 + max(len(_(one)) for one in NAMES))
    return f"{name:<{room}}{''.join(f'{mark:>{wide}}' for mark in marks)}".rstrip()
