"""The outlook as plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

MOST_WIDE = 22
"""Columns of three characters that a line of the text briefing holds."""
MARKS = {
    ("open", ""): "#", ("marginal", "frequency"): "+", ("marginal", "signal"): "~", ("closed", "frequency"): ".",
    ("closed", "signal"): "-",
}  # fmt: skip
"""State, and what it lacks -> mark."""
KEY = (
    "# open; marginal: + near the usable frequency, ~ weak",
    "closed: . too high a frequency, - too weak; d day, n night, * on the air",
)


def outlook_text(data: Mapping[str, Any]) -> str:
    """The section as plain text: a mark for each hour."""
    chart = data["chart"]
    return str(data["missing"]) if chart is None else "\n".join(_lines(chart))


def _lines(chart: Mapping[str, Any]) -> Iterator[str]:
    columns = chart["columns"]
    wide = 3 if len(columns) <= MOST_WIDE else 2
    yield from KEY
    yield f"First column {columns[0]['utc']}, one column for each hour; local time is that of {chart['zone']}."
    yield from _clocks(columns, wide)
    yield _row("sun", ("d" if column["daylight"] else "n" for column in columns), wide)
    yield _row("on air", ("*" if column["on_air"] else "" for column in columns), wide)
    if chart["sent"]:
        yield _row("sent", (column["sent"] for column in columns), wide)
        yield f"sent: {'; '.join(chart['sent'])}"
    for panel in chart["panels"]:
        yield ""
        yield panel["title"]
        yield from (_row(row["band"], _marks(row), wide) for row in panel["rows"])
        yield from (f"  closed throughout: {text}" for text in panel["closed"])
    yield ""
    yield chart["near_vertical"]
    if chart["grey_line"]:
        yield chart["grey_line"]
    if chart["distances"]:
        yield f"{chart['distances_title']}:"
        yield from (f"{row['band']}: from {row['skip']} on, to {row['reach']}" for row in chart["distances"])
        yield chart["hops"]
    yield from ("", *chart["basis"], *chart["limits"])


def _marks(row: Mapping[str, Any]) -> Iterator[str]:
    return (MARKS[pair] for pair in zip(row["states"], row["lacks"], strict=True))


def _clocks(columns: Sequence[Mapping[str, Any]], wide: int) -> Iterator[str]:
    """The hours of both clocks; in narrow columns every other one."""
    past = columns[0]["local"][2:]
    shown = [wide > 2 or int(column["utc"][11:13]) % 2 == 0 for column in columns]
    for name, key, start in (("UTC", "utc", 11), ("local" if past == ":00" else f"local{past}", "local", 0)):
        texts = (column[key][start : start + 2] for column in columns)
        yield _row(name, (text if show else "" for text, show in zip(texts, shown, strict=True)), wide)


def _row(name: str, marks: Iterable[str], wide: int) -> str:
    return f"{name:<7}{''.join(f'{mark:>{wide}}' for mark in marks)}".rstrip()
