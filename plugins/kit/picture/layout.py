"""Where the boxes and lines of the wiring's picture go.

Boxes stand one below the other, so that the picture is as legible on a telephone as on paper. Above each box every line
into it has a strip of its own, in which it runs from left to right with its name and connectors; from the box that it
comes from it gets there straight down, or, past other boxes, by a lane at the left edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import _, frozen
from afield.plugins.kit.joints import joined_words
from afield.plugins.kit.picture.order import ordered
from afield.plugins.kit.picture.text import BOLD, width_of, wrapped

Json = Mapping[str, Any]

WIDTH, EDGE = 372.0, 5.0
NAME, SMALL = 14.0, 12.0
LANE, DROP = 11.0, 11.0
CLEAR = 12.0
"""Between a box and the strips below it."""
CROSS = "\u00d7"


@frozen
class Strip:
    """A line's strip.

    Attributes:
        line: JSON of the line.
        top, y: upper edge, and height of the horizontal.
        left, right: where the horizontal begins and ends.
        lane: x of the lane by which it comes; None if it comes straight down.
        out: y at which it leaves the box it comes from: its left side, or its bottom.
        notes: texts below the line, left and right, each broken into lines.

    """

    line: Json
    top: float
    y: float
    left: float
    right: float
    lane: float | None
    out: float
    notes: tuple[Sequence[str], Sequence[str]]


@frozen
class Row:
    """A box with the strips of the lines into it above.

    Attributes:
        top, bottom: of the box.
        name: broken into lines.
        beside: width of the name, where its note stands on the same line; else None.

    """

    box: Json
    top: float
    bottom: float
    name: Sequence[str]
    beside: float | None
    strips: Sequence[Strip]


@frozen
class Layout:
    """The picture: its rows from top to bottom, and where its boxes begin at the left."""

    rows: Sequence[Row]
    left: float

    @property
    def height(self) -> float:
        """Of the whole picture."""
        return self.rows[-1].bottom + EDGE


def layout(picture: Json) -> Layout:
    """The picture laid out."""
    return _Layouter(picture).layout()


class _Layouter:
    def __init__(self, picture: Json) -> None:
        self.boxes = picture["boxes"]
        self.order = ordered(picture)
        self.at = {box: place for place, box in enumerate(self.order)}
        self.lines = [_downward(line, self.at) for line in picture["lines"]]
        self.lanes = self.assigned_lanes()
        self.left = EDGE + LANE * (max(self.lanes.values()) + 1 if self.lanes else 0)

    def above(self, line: Json) -> int:
        return self.at[line["from"]]

    def straight(self, line: Json) -> bool:
        return self.at[line["to"]] - self.above(line) == 1

    def assigned_lanes(self) -> dict[int, int]:
        """Number of a line -> its lane from the boxes outward; short lines nearest, so that few cross."""
        found: dict[int, int] = {}
        far = [number for number, line in enumerate(self.lines) if not self.straight(line)]
        for number in sorted(far, key=lambda number: (self.span(number)[1] - self.span(number)[0], number)):
            start, end = self.span(number)
            busy = {lane for other, lane in found.items() if self.span(other)[0] < end and start < self.span(other)[1]}
            found[number] = next(lane for lane in range(len(found) + 1) if lane not in busy)
        return found

    def span(self, number: int) -> tuple[float, float]:
        """From which place to which a line runs; it leaves a box at its middle and arrives above one."""
        line = self.lines[number]
        return self.above(line), self.at[line["to"]] - 0.5

    def layout(self) -> Layout:
        rows: list[Row] = []
        y = EDGE
        for box in self.order:
            rows.append(self.row(box, y, rows))
            y = rows[-1].bottom
        return Layout(rows, self.left)

    def row(self, box: int, y: float, rows: Sequence[Row]) -> Row:
        numbers = sorted((n for n, line in enumerate(self.lines) if line["to"] == box), key=self.nearness)
        strips: list[Strip] = []
        y += CLEAR if rows and numbers else 14.0 if rows else 0.0
        for place, number in enumerate(numbers):
            strips.append(self.strip(number, place, numbers, y, rows))
            y = strips[-1].y + 12 + 13.5 * max(map(len, strips[-1].notes))
        y += 4 if strips else 0
        room = WIDTH - EDGE - self.left - 20
        name = wrapped(self.boxes[box]["name"], NAME * BOLD, room, 2)
        beside = width_of(name[0], NAME * BOLD) + 6 if len(name) == 1 else room
        fits = beside + width_of(note_of(self.boxes[box]), SMALL) <= room
        bottom = y + 15 + 17 * len(name) + (0 if fits else 14)
        return Row(self.boxes[box], y, bottom, name, beside if fits else None, strips)

    def nearness(self, number: int) -> tuple[bool, int, int]:
        """Straight lines first, then by lane from the boxes outward, so that none crosses another without need."""
        return not self.straight(self.lines[number]), self.lanes.get(number, 0), number

    def strip(self, number: int, place: int, numbers: Sequence[int], y: float, rows: Sequence[Row]) -> Strip:
        line, source = self.lines[number], rows[self.above(self.lines[number])]
        pitch = min(DROP, 120.0 / len(numbers))
        right = WIDTH - EDGE - 16 - place * pitch
        straights = sum(self.straight(self.lines[other]) for other in numbers)
        lane = None
        left, out = self.left + 12 + (straights - 1 - place) * pitch, source.bottom
        if number in self.lanes:
            lane = self.left - LANE * (self.lanes[number] + 0.5)
            left, out = self.left + 12, self.out(number, source)
        notes = tuple(map(tuple, _notes(line, right - left)))
        return Strip(line, y, y + 21, left, right, lane, out, (notes[0], notes[1]))

    def out(self, number: int, source: Row) -> float:
        """Where a lane leaves the left side of its box: those that end sooner leave lower."""
        beside = [other for other in self.lanes if self.lines[other]["from"] == self.lines[number]["from"]]
        beside.sort(key=lambda other: (-self.at[self.lines[other]["to"]], -self.lanes[other]))
        return source.top + (source.bottom - source.top) * (beside.index(number) + 1) / (len(beside) + 1)


def note_of(box: Json) -> str:
    """What stands beside the name of a box: the class of the item, or why it has none."""
    return _(box["note"] or "")


def _downward(line: Json, at: Mapping[int, int]) -> Json:
    """The line from the higher box to the lower; only in a ring does it have to be turned."""
    if at[line["from"]] < at[line["to"]]:
        return line
    joints = [{**joint, "kinds": joint["kinds"][::-1]} for joint in reversed(line["joints"])]
    return {**line, "from": line["to"], "to": line["from"], "joints": joints, "pieces": line["pieces"][::-1]}


def _notes(line: Json, width: float) -> Iterator[list[str]]:
    """What stands below a line at its left and its right."""
    first, last = line["joints"][0], line["joints"][-1]
    if line["pieces"]:
        yield wrapped(_kinds(first, 1), SMALL, width / 2 - 10, 2)
        yield wrapped(_kinds(last, 0), SMALL, width / 2 - 10, 2)
    else:
        yield wrapped(line["words"] or _both_kinds(first), SMALL, width - 8, 3)
        yield []


def _kinds(joint: Json, end: int) -> str:
    """The connector at an end of a lead; where it does not fit, both."""
    return _both_kinds(joint) if joint["mark"] == "does not fit" else joint["kinds"][end] or ""


def _both_kinds(joint: Json) -> str:
    """Both connectors of a joint; one where they are alike, as genderless ones are."""
    kinds = list(dict.fromkeys(kind for kind in joint["kinds"] if kind))
    if joint["mark"] == "does not fit" or len(kinds) < 2:
        return f" {CROSS} ".join(kinds)
    return joined_words(*kinds)
