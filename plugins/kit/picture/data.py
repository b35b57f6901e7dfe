"""The wiring as boxes and lines: items that end or split a way are boxes, leads and adapters between them are lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from afield.core.api import _
from afield.plugins.kit.words import CABLES, KEEPS_TIME

Json = dict[str, Any]
End = Mapping[str, Any]
MOST_PIECES = 2
"""Leads and adapters on one line; of a longer row every third is drawn as a box, or there is no room for the names."""


def picture_data(wiring: Mapping[str, Any], marks: Mapping[bool | None, str]) -> Json | None:
    """Boxes, and lines from box to box, of an encoded wiring; None where nothing is joined and nothing is missing."""
    tracer = _Tracer(wiring, marks)
    lines = _directed(tracer.lines(), tracer.boxes)
    keys = list(dict.fromkeys(key for line in lines for key in (line["from"], line["to"])))
    if not keys:
        return None
    index = {key: number for number, key in enumerate(keys)}
    return {
        "boxes": [tracer.boxes[key] for key in keys],
        "lines": [
            {name: line[name] for name in ("role", "pieces", "joints", "words")}
            | {"from": index[line["from"]], "to": index[line["to"]]}
            for line in lines
        ],
    }


@dataclass
class _Tracer:
    """Follows joints from box to box.

    Attributes:
        boxes: key -> JSON of what is drawn as a box; grows while lines are followed.
        sides: key of an item -> its joints, each with which end of it the item is.

    """

    wiring: Mapping[str, Any]
    marks: Mapping[bool | None, str]
    boxes: dict[str, Json] = field(default_factory=dict)
    sides: dict[str, list[tuple[int, int]]] = field(default_factory=dict)

    def lines(self) -> list[Json]:
        """All lines: those of joints, then those of gaps."""
        joints = self.wiring["joints"]
        for number, joint in enumerate(joints):
            for side, end in enumerate(joint["ends"]):
                self.sides.setdefault(end["item"], []).append((number, side))
        gaps = list(self.gaps())
        self.boxes |= {end["item"]: _box(end) for joint in joints for end in joint["ends"] if not self.is_piece(end)}
        used: set[int] = set()
        found = [line for start in self.starts() for line in self.from_box(start, used)]
        return found + gaps

    def is_piece(self, end: End) -> bool:
        """Whether an item is drawn on a line: a lead or adapter with two of its ports joined."""
        return end["class"] in CABLES and len(self.sides[end["item"]]) == 2 and end["item"] not in self.boxes

    def starts(self) -> Iterator[str]:
        """Keys of boxes, also of those that become one on the way; then pieces that are joined in a ring."""
        done: set[str] = set()
        while waiting := [key for key in self.boxes if key not in done]:
            done.update(waiting)
            yield from waiting
        for joint in self.wiring["joints"]:
            end = joint["ends"][0]
            if end["item"] not in self.boxes:
                self.boxes[end["item"]] = _box(end)
                yield end["item"]

    def from_box(self, key: str, used: set[int]) -> Iterator[Json]:
        """The lines that leave a box over joints that were not used before."""
        for number, side in self.sides.get(key, ()):
            if number not in used:
                used.add(number)
                yield self.line(key, number, side, used)

    def line(self, start: str, number: int, side: int, used: set[int]) -> Json:
        """One line: over a joint, and on through pieces to the next box."""
        trail = [self.joint(number, side)]
        first, far = (self.wiring["joints"][number]["ends"][at] for at in (side, 1 - side))
        pieces: list[str] = []
        while self.is_piece(far) and len(pieces) < MOST_PIECES:
            number, side = next(found for found in self.sides[far["item"]] if found != (number, 1 - side))
            beyond = self.wiring["joints"][number]["ends"][1 - side]
            if number in used or beyond["item"] == start:
                break  # a ring: its last lead is drawn as a box
            used.add(number)
            pieces.append(far["name"])
            trail.append(self.joint(number, side))
            far = beyond
        if far["item"] not in self.boxes:
            self.boxes[far["item"]] = _box(far)
        role = first["role"] or far["role"]
        ends = (first["direction"], far["direction"])
        return _line(start, far["item"], role, trail, pieces) | {"ends": ends}

    def joint(self, number: int, side: int) -> Json:
        """A joint, seen from one side: its mark, and the kinds of the two connectors."""
        joint = self.wiring["joints"][number]
        mark = "inferred" if joint["fits"] and joint["inferred"] else self.marks[joint["fits"]]
        return {"mark": mark, "kinds": [joint["ends"][at]["kind"] for at in (side, 1 - side)]}

    def gaps(self) -> Iterator[Json]:
        """Lines of chains without a way: with what is missing, or why it cannot be told."""
        for chain in self.wiring["chains"]:
            if chain["gap"] is None:
                continue
            keys = [end["item"] or f"?{end['name']}" for end in chain["gap"]]
            self.boxes |= {key: _box(end) for key, end in zip(keys, chain["gap"], strict=True) if key not in self.boxes}
            mark, words = "cannot tell", _("cannot tell: {why}").format(why=chain["why"])
            if chain["complete"] is False:
                mark, words = "missing", _("needs {piece}").format(piece=chain["needs"])
            joint = {"mark": mark, "kinds": [None, None]}
            yield _line(keys[0], keys[1], chain["role"], [joint], [], words) | {"ends": ("source", "sink")}


def _box(end: End) -> Json:
    return {"name": end["name"], "note": end["class"], "packed": end["item"] is not None}


def _line(
    start: str, end: str, role: str | None, joints: list[Json], pieces: list[str], words: str | None = None
) -> Json:
    return {"from": start, "to": end, "role": role, "joints": joints, "pieces": pieces, "words": words}


def _directed(lines: Iterable[Json], boxes: Mapping[str, Json]) -> list[Json]:
    """The lines, turned round where they run against what flows, or away from a computer; one to itself is left out."""
    found = [line for line in lines if line["from"] != line["to"]]
    fed: set[tuple[str, str]] = set()
    open_ = [line for line in found if not _settled(line, fed)]
    before = len(open_) + 1
    while len(open_) < before:
        before, open_ = len(open_), [line for line in open_ if not _follows(line, fed)]
    for line in open_:
        if boxes[line["from"]]["note"] in KEEPS_TIME:
            _turn(line)
    return found


def _settled(line: Json, fed: set[tuple[str, str]]) -> bool:
    """Whether the ports at its ends say which way the line runs."""
    start, end = line["ends"]
    if end == "source" or start == "sink":
        _turn(line)
    if "source" not in (start, end) and "sink" not in (start, end):
        return False
    fed.add((line["to"], line["role"]))
    return True


def _follows(line: Json, fed: set[tuple[str, str]]) -> bool:
    """Whether one of the boxes is fed already, so that the line runs on from it."""
    if (line["to"], line["role"]) in fed and (line["from"], line["role"]) not in fed:
        _turn(line)
    if (line["from"], line["role"]) not in fed:
        return False
    fed.add((line["to"], line["role"]))
    return True


def _turn(line: Json) -> None:
    line["from"], line["to"] = line["to"], line["from"]
    line["pieces"].reverse()
    line["joints"].reverse()
    for joint in line["joints"]:
        joint["kinds"].reverse()
