"""The timeline as SVG text, drawn from the section's JSON alone: time runs down, local time and UTC side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape
from typing import Any

from afield.core.api import _, in_context, marked

WIDTH, TOP, BOTTOM = 344.0, 28.0, 12.0
LOCAL_X, UTC_X = 51.0, 58.0
SKY, PLAN = (112.0, 134.0), (137.0, 165.0)
LABEL_X = 177.0
ON_AIR = "#c4c4c4"
TEXT, GAP = 13.5, 17.0
PX_PER_HOUR = (26.0, 62.0)
TALLEST, LONGEST = 560.0, 900.0

Data = Mapping[str, Any]
HATCHES = {
    "civil twilight": (8.0, 1.0, 45),
    "nautical twilight": (5.5, 1.5, 45),
    "astronomical twilight": (4.0, 2.0, 45),
    "night": (0.0, 0.0, 0),
    "drive": (5.0, 1.2, 0),
    "walk": (5.0, 1.2, 90),
    "set up": (6.0, 1.6, 135),
    "pack up": (6.0, 1.6, 45),
}
"""Kind -> distance and width of its lines, and their angle; without a distance it is black."""


def timeline_figure(data: Data) -> str:
    """The drawing; empty where there is nothing to draw."""
    if not data["minutes"]:
        return ""
    scale = _Scale(float(data["minutes"]), len(data["marks"]))
    parts = [
        *_bands(data["phases"], SKY, scale, "sky"),
        *_bands(data["stages"], PLAN, scale, "plan"),
        *_marks(data["marks"], scale),
        *_axis(data["local_hours"], LOCAL_X, -1, scale),
        *_axis(data["utc_hours"], UTC_X, 1, scale),
        *_heads(data["begins"]),
    ]
    size = f'viewBox="0 0 {_n(WIDTH)} {_n(scale.height)}"'
    name = escape(_("Timeline in local time and UTC"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" aria-label="{name}" '
        f'font-family="inherit"><defs>{"".join(_patterns("timeline"))}</defs>'
        f'<rect width="100%" height="100%" fill="#fff"/>{"".join(parts)}</svg>'
    )


class _Scale:
    """Minutes to places on the paper: short outings are not lost, long ones fit a page, and each label has room."""

    def __init__(self, minutes: float, labels: int) -> None:
        hours = minutes / 60
        least, most = PX_PER_HOUR
        per_hour = max(min(most, TALLEST / hours), min(least, LONGEST / hours), labels * GAP / hours)
        self.per_minute = per_hour / 60
        self.height = TOP + minutes * self.per_minute + BOTTOM

    def y(self, at_min: float) -> float:
        return TOP + at_min * self.per_minute


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _patterns(prefix: str) -> Iterator[str]:
    for kind, (apart, width, angle) in HATCHES.items():
        if apart:
            yield (
                f'<pattern id="{_id(prefix, kind)}" width="{_n(apart)}" height="{_n(apart)}" '
                f'patternUnits="userSpaceOnUse" patternTransform="rotate({angle})">'
                f'<path d="M0 {_n(apart / 2)}H{_n(apart)}" stroke="#000" stroke-width="{_n(width)}"/></pattern>'
            )


def _id(prefix: str, kind: str) -> str:
    return f"{prefix}-{kind.replace(' ', '-')}"


def _fill(prefix: str, kind: str) -> str:
    if kind in ("day", "on air"):
        return "#fff" if kind == "day" else ON_AIR
    return f"url(#{_id(prefix, kind)})" if HATCHES.get(kind, (0,))[0] else "#000"


def _bands(spans: Sequence[Data], column: tuple[float, float], scale: _Scale, name: str) -> Iterator[str]:
    for span in spans:
        width = (column[1] - column[0]) / span.get("lanes", 1)
        left = column[0] + width * span.get("lane", 0)
        top, bottom = scale.y(span["from_min"]), scale.y(span["to_min"])
        yield (
            f'<rect x="{_n(left)}" y="{_n(top)}" width="{_n(width)}" height="{_n(bottom - top)}" '
            f'fill="{_fill("timeline", span["kind"])}" stroke="#000" stroke-width="1" data-{name}="{span["kind"]}"/>'
        )


def _axis(hours: Sequence[Data], x: float, side: int, scale: _Scale) -> Iterator[str]:
    """A clock's line with its hours: local time to the left of its line, UTC to the right."""
    yield _line(x, TOP, x, scale.height - BOTTOM, 1.4)
    for hour in hours:
        y = scale.y(hour["at_min"])
        yield _line(x, y, x + 5 * side, y, 1.4)
        yield _text(hour["words"], x + 7 * side, y + TEXT * 0.35, "end" if side < 0 else "start")


def _heads(begins: Data) -> Iterator[str]:
    yield _text(in_context(marked("drawing|local")), LOCAL_X, 13, "end", ' font-weight="700"')
    yield _text("UTC", UTC_X, 13, "start", ' font-weight="700"')
    yield _text(in_context(marked("drawing|sky")), SKY[1] - 1, 13, "end", ' font-weight="700"')
    yield _text(in_context(marked("drawing|plan")), PLAN[0] + 1, 13, "start", ' font-weight="700"')
    also = "" if begins["local"] == begins["utc"] else f", UTC {begins['utc']}"
    yield _text(f"{begins['local']}{also}", LABEL_X, 13, "start")


def _marks(marks: Sequence[Data], scale: _Scale) -> Iterator[str]:
    wanted = [scale.y(mark["at_min"]) for mark in marks]
    for mark, y, label_y in zip(marks, wanted, _spread(wanted, TOP, scale.height - 0.8 * BOTTOM), strict=True):
        heavy = mark["kind"] == "utc day"
        yield _across(mark["kind"], y)
        yield _leader(y, label_y, 3.2 if heavy else 0.9)
        bold = ' font-weight="700"' if heavy else ""
        yield _text(mark["words"], LABEL_X, label_y + TEXT * 0.35, "start", f'{bold} data-mark="{mark["kind"]}"')


def _across(kind: str, y: float) -> str:
    """The line of an event over the columns that it belongs to."""
    if kind == "utc day":
        # In two parts, so that it strikes out neither clock's hour.
        parts = ((LOCAL_X - 5, UTC_X + 5), (SKY[0] - 4, PLAN[1] + 4))
        rims = "".join(_line(left, y, right, y, 6.4, colour="#fff") for left, right in parts)
        return rims + "".join(_line(left, y, right, y, 3.2) for left, right in parts)
    if kind in ("clock", "local day"):
        return _line(SKY[0] - 4, y, PLAN[1] + 4, y, 1.2, "5 3") + _line(LOCAL_X - 5, y, LOCAL_X + 3, y, 3.2)
    if kind == "turn back":
        return _line(SKY[0], y, PLAN[1] + 4, y, 2.2, "7 3")
    left = SKY[0] if kind == "sky" else PLAN[0]
    return _line(left, y, PLAN[1] + 4, y, 0.9)


def _leader(y: float, label_y: float, width: float) -> str:
    start, end = PLAN[1] + 4, LABEL_X - 3
    return f'<path d="M{_n(start)} {_n(y)}L{_n(end)} {_n(label_y)}" fill="none" stroke="#000" stroke-width="{width}"/>'


def _spread(wanted: Sequence[float], top: float, bottom: float) -> list[float]:
    """Places of labels in order, none nearer than GAP to the next, each as near as may be to where it is wanted."""
    placed: list[float] = []
    for y in wanted:
        placed.append(max(y, placed[-1] + GAP) if placed else max(y, top))
    limit = bottom
    for index in range(len(placed) - 1, -1, -1):
        placed[index] = min(placed[index], limit)
        limit = placed[index] - GAP
    return placed


def _line(x1: float, y1: float, x2: float, y2: float, width: float, dash: str = "", colour: str = "#000") -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    d = f"M{_n(x1)} {_n(y1)}L{_n(x2)} {_n(y2)}"
    return f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{width}"{dashes}/>'


def _text(words: str, x: float, y: float, anchor: str, extra: str = "") -> str:
    rim = 'stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke"'
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{TEXT}" text-anchor="{anchor}" fill="#000" {rim}{extra}>'
        f"{escape(words)}</text>"
    )


def swatches() -> dict[str, Callable[[Data], str]]:
    """The samples of the key, by phase."""
    return {f"shade {phase}": _swatch(phase) for phase in ("day", *HATCHES)}


def _swatch(phase: str) -> Callable[[Data], str]:
    prefix = f"key-{phase.replace(' ', '-')}"
    drawn = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 44 20" width="44" height="20" aria-hidden="true">'
        f"<defs>{''.join(_patterns(prefix))}</defs>"
        f'<rect x="2" y="2" width="40" height="16" fill="{_fill(prefix, phase)}" stroke="#000"/></svg>'
    )
    return lambda data: drawn
