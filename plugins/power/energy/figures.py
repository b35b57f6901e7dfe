"""The chart of a battery's charge as SVG text, drawn from the section's JSON alone; black on white, without colour."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from typing import Any

from afield.core.api import _, frozen, marked
from afield.plugins.power.stated import number

MOST_CHARTS = 12
WIDTH, HEIGHT = 480.0, 318.0
LEFT, RIGHT, TOP, BOTTOM = 56.0, 62.0, 34.0, 262.0
TEXT, SMALL = 15.0, 13.5
WHOLE = marked("on air")
"""How the schedule calls its one slot where the plan has none."""
LEVELS = (-200, -150, -100, -50, 0, 50, 100)
APART = 17.0
"""Least distance between two labels."""


@frozen
class Frame:
    """Turns hours and per cent into places on the sheet."""

    hours: float
    lowest: float

    def x(self, hours: float) -> float:
        """From the left."""
        return LEFT + (WIDTH - RIGHT - LEFT) * hours / self.hours

    def y(self, percent: float) -> float:
        """From the top."""
        return BOTTOM - (BOTTOM - TOP) * (percent - self.lowest) / (100 - self.lowest)


def charge_figure(index: int, data: Mapping[str, Any]) -> str:
    """The chart of the battery with that number; empty if there are not so many."""
    if index >= len(data["batteries"]):
        return ""
    battery = data["batteries"][index]
    chart = battery["chart"]
    frame = Frame(chart["leave_h"], _lowest(chart))
    label = escape(_("Usable charge of {name} against time").format(name=battery["name"]))
    curves = "".join([*_band(frame, chart, f"charge-{index}"), _line(frame, chart)])
    body = [
        *_levels(frame), _clipped(curves, f"charge-frame-{index}"), *_reserve(frame, chart), *_axis(frame, chart),
        *_on_air(frame, chart), *_ends(frame, chart), *_end_labels(frame, chart),
    ]  # fmt: skip
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(WIDTH)} {_n(HEIGHT)}" role="img" '
        f'aria-label="{label}" font-family="inherit">{"".join(body)}</svg>'
    )


def _clipped(drawn: str, name: str) -> str:
    """What is drawn, as far as it lies within the frame: of a battery that lacks much, the line runs out of it."""
    size = f'x="{_n(LEFT)}" y="{_n(TOP - 3)}" width="{_n(WIDTH - RIGHT - LEFT)}" height="{_n(BOTTOM - TOP + 3)}"'
    return f'<defs><clipPath id="{name}"><rect {size}/></clipPath></defs><g clip-path="url(#{name})">{drawn}</g>'


def _lowest(chart: Mapping[str, Any]) -> float:
    """The lower edge: 0, or the level below what is lacking; of the range not more than 100 % of lack is shown."""
    least = max(min(*chart["charge"], max(min(chart["low"]), -100.0)), float(LEVELS[0]))
    return float(max(level for level in LEVELS if level <= min(least, 0.0)))


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _text(x: float, y: float, words: str, anchor: str = "start", size: float = TEXT, bold: bool = False) -> str:
    weight = ' font-weight="700"' if bold else ""
    rim = 'stroke="#fff" stroke-width="4" stroke-linejoin="round" paint-order="stroke"'
    place = f'x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="{anchor}"'
    return f"<text {place}{weight} {rim}>{escape(words)}</text>"


def _path(d: str, width: float, dash: str = "", colour: str = "#000") -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{_n(width)}" stroke-linejoin="round"{dashes}/>'


def _run(points: Sequence[tuple[float, float]]) -> str:
    return "L".join(f"{_n(x)} {_n(y)}" for x, y in points)


def _points(frame: Frame, chart: Mapping[str, Any], name: str) -> list[tuple[float, float]]:
    return [(frame.x(hour), frame.y(value)) for hour, value in zip(chart["hours"], chart[name], strict=True)]


def _levels(frame: Frame) -> Iterator[str]:
    right = WIDTH - RIGHT
    for level in (level for level in LEVELS if level >= frame.lowest):
        y = frame.y(level)
        yield _path(
            f"M{_n(LEFT)} {_n(y)}H{_n(right)}", 1.6 if level == 0 else 0.6, colour="#000" if level == 0 else "#999"
        )
        yield _text(LEFT - 6, y + 5, f"{level} %", "end", SMALL)


def _band(frame: Frame, chart: Mapping[str, Any], name: str) -> Iterator[str]:
    yield (
        f'<defs><pattern id="{name}" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        '<path d="M0 0V6" stroke="#777" stroke-width="1.3"/></pattern></defs>'
    )
    upper, lower = _points(frame, chart, "high"), _points(frame, chart, "low")
    yield f'<path d="M{_run([*upper, *reversed(lower)])}Z" fill="url(#{name})"/>'
    yield _path(f"M{_run(upper)}", 0.8) + _path(f"M{_run(lower)}", 0.8)


def _reserve(frame: Frame, chart: Mapping[str, Any]) -> Iterator[str]:
    y = frame.y(chart["reserve"])
    yield _path(f"M{_n(LEFT)} {_n(y)}H{_n(WIDTH - RIGHT)}", 1.6, "7 4")
    yield _text(LEFT + 6, y - 5, _("{percent} % left").format(percent=number(chart["reserve"])), size=SMALL)


def _axis(frame: Frame, chart: Mapping[str, Any]) -> Iterator[str]:
    yield _path(f"M{_n(LEFT)} {_n(TOP)}V{_n(BOTTOM)}H{_n(WIDTH - RIGHT)}", 1.2)
    for tick in chart["ticks"]:
        x = frame.x(tick["at_h"])
        yield _path(f"M{_n(x)} {_n(BOTTOM)}v6", 1.2)
        yield _text(x, BOTTOM + 21, tick["clock"], "middle", SMALL)
        yield _text(x, BOTTOM + 38, tick["after"], "middle", SMALL)
    yield _text(WIDTH - 2, BOTTOM + 21, _(chart["zone"]), "end", SMALL)
    yield _text(WIDTH - 2, BOTTOM + 38, _("after"), "end", SMALL)


def _on_air(frame: Frame, chart: Mapping[str, Any]) -> Iterator[str]:
    """A bar over each slot, with its name where that fits."""
    for slot in chart["on_air"]:
        left, right = frame.x(slot["from_h"]), frame.x(slot["to_h"])
        yield f'<rect x="{_n(left)}" y="{_n(TOP - 12)}" width="{_n(max(right - left - 1, 1))}" height="6"/>'
        # A name that the plan gives stays; the whole time on the air has none of its own.
        name = _(WHOLE) if slot["name"] == WHOLE else slot["name"]
        if len(name) * SMALL * 0.55 < right - left:
            yield _text((left + right) / 2, TOP - 17, name, "middle", SMALL)


def _line(frame: Frame, chart: Mapping[str, Any]) -> str:
    d = f"M{_run(_points(frame, chart, 'charge'))}"
    return _path(d, 6, colour="#fff") + _path(d, 3)


def _ends(frame: Frame, chart: Mapping[str, Any]) -> Iterator[str]:
    if chart["ends"] is None:
        return
    x, y = frame.x(chart["ends"]["at_h"]), frame.y(0)
    yield f'<circle cx="{_n(x)}" cy="{_n(y)}" r="5.5" fill="#fff" stroke="#000" stroke-width="2.4"/>'
    # The line comes down from the left: above it to the right is room, or below it to the left.
    right = x < WIDTH - RIGHT - 84
    place = (x + 9, y - 9) if right else (x - 9, y + 20)
    told = _("ends {clock}").format(clock=chart["ends"]["clock"])
    yield _text(*place, told, "start" if right else "end", TEXT, bold=True)


def _end_labels(frame: Frame, chart: Mapping[str, Any]) -> Iterator[str]:
    """The charge at leaving and its range, written beside the ends of the lines."""
    right, value = WIDTH - RIGHT + 5, chart["charge"][-1]
    at = _end(frame, value)
    yield _text(right, at, f"{value:.0f} %", bold=True)
    for name, up in (("high", True), ("low", False)):
        y = _end(frame, chart[name][-1])
        if (at - y if up else y - at) >= APART:
            shown = chart[name][-1] >= frame.lowest
            yield _text(right, y, f"{chart[name][-1]:.0f} %" if shown else _("below"), size=SMALL)


def _end(frame: Frame, percent: float) -> float:
    return frame.y(max(percent, frame.lowest)) + 5
