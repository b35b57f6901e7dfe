"""The wiring as SVG text, drawn from the section's JSON alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from itertools import pairwise
from typing import Any, NamedTuple

from afield.core.api import _, marked
from afield.plugins.kit.picture.layout import EDGE, NAME, SMALL, WIDTH, Layout, Row, Strip, layout, note_of
from afield.plugins.kit.picture.marks import across, box, down, lead, mark_at, number, words
from afield.plugins.kit.picture.text import BOLD, cut, width_of

TALLEST = 800.0
"""Of one part of the picture: what is taller is drawn in parts, one below the other, so that a page may end between."""
TITLE, SOMETHING = marked("How the kit is joined"), marked("Something")


class Drawn(NamedTuple):
    """A piece of the drawing, with the heights between which it lies, and in which layer."""

    layer: int
    top: float
    bottom: float
    text: str


def wiring_picture(data: Mapping[str, Any]) -> str:
    """The picture; empty for a kit in which nothing is joined."""
    if data["picture"] is None:
        return ""
    laid = layout(data["picture"])
    drawn = sorted(_drawn(laid), key=lambda piece: piece.layer)
    parts = list(pairwise(_cuts(laid)))
    return "".join(_part(top, bottom, drawn, data["picture"] if not index else None)
                   for index, (top, bottom) in enumerate(parts))  # fmt: skip


def _cuts(laid: Layout) -> list[float]:
    """Heights at which the picture is parted: below boxes, as far apart as a part may be tall."""
    cuts = [0.0]
    for row, below in pairwise(laid.rows):
        if below.bottom - cuts[-1] > TALLEST:
            cuts.append(row.bottom + 1.2)
    return [*cuts, laid.height]


def _part(top: float, bottom: float, drawn: Sequence[Drawn], picture: Mapping[str, Any] | None) -> str:
    inside = "".join(piece.text for piece in drawn if piece.top < bottom and piece.bottom > top)
    told = f"<title>{escape(_(TITLE))}</title><desc>{escape(picture_words(picture))}</desc>" if picture else ""
    role = 'role="img"' if picture else 'aria-hidden="true"'
    size = f'viewBox="0 {number(top)} {number(WIDTH)} {number(bottom - top)}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {role} font-family="inherit">{told}{inside}</svg>'


def picture_words(picture: Mapping[str, Any]) -> str:
    """The picture in words: every line with what it joins, by what, and whether it fits."""
    names = [entry["name"] for entry in picture["boxes"]]
    return " ".join(_line_words(line, names) for line in picture["lines"])


def _line_words(line: Mapping[str, Any], names: Sequence[str]) -> str:
    marks = ", ".join(_(mark) for mark in dict.fromkeys(joint["mark"] for joint in line["joints"]))
    by = _("{role} from {start} to {end} by {pieces}: {state}.")
    return (by if line["pieces"] and not line["words"] else _("{role} from {start} to {end}: {state}.")).format(
        role=_(line["role"] or SOMETHING), start=names[line["from"]], end=names[line["to"]],
        pieces=", ".join(line["pieces"]), state=line["words"] or marks,
    )  # fmt: skip


def _drawn(laid: Layout) -> Iterator[Drawn]:
    for row in laid.rows:
        yield from _box(row, laid.left)
        for strip in row.strips:
            yield from _wires(strip, row, laid.left)
            yield from _labels(strip)


def _box(row: Row, left: float) -> Iterator[Drawn]:
    right = WIDTH - EDGE
    yield Drawn(2, row.top, row.bottom, box(left, row.top, right, row.bottom, row.box["packed"]))
    y = row.top + 20
    for text in row.name:
        yield Drawn(4, y - NAME, y, words(text, left + 10, y, NAME, bold=True))
        y += 17
    note = note_of(row.box)
    if note and row.box["name"] not in (note, row.box["note"]):
        x, y = (left + 10, y) if row.beside is None else (left + 10 + row.beside, y - 17)
        # Many lanes leave the boxes narrow, and a note may then be longer than its box.
        yield Drawn(4, y - NAME, y, words(cut(note, SMALL, right - 5 - x), x, y, SMALL))


def _wires(strip: Strip, row: Row, left: float) -> Iterator[Drawn]:
    """The way from the box above to this one."""
    joints, y = strip.line["joints"], strip.y
    first, last, x = joints[0]["mark"], joints[-1]["mark"], strip.left
    if strip.lane is not None:
        x = strip.lane
        yield Drawn(1, strip.out - 4, strip.out + 4, across(x, left, strip.out, first))
    yield Drawn(0, strip.out, y, down(x, strip.out, y, first))
    yield Drawn(0, y, row.top, down(strip.right, y, row.top, last))
    places = _places(strip)
    yield Drawn(1, y - 4, y + 4, across(x, places[0], y, first))
    yield Drawn(1, y - 4, y + 4, across(places[-1], strip.right, y, last))
    for start, end in pairwise(places) if strip.line["pieces"] else ():
        yield Drawn(1, y - 6, y + 6, lead(start, end, y))
    marks = [joint["mark"] for joint in joints] * (2 if first == "missing" else 1)
    for mark, place in zip(marks, places, strict=True):
        yield Drawn(3, y - 9, y + 9, mark_at(mark, place, y))


def _places(strip: Strip) -> list[float]:
    """Where the marks stand on the line: at both ends and between its leads; of a direct joint, in the middle."""
    left, right, joints = strip.left + 12, strip.right - 12, strip.line["joints"]
    if joints[0]["mark"] == "missing":
        return [left + 20, right - 20]
    if len(joints) == 1:
        return [(left + right) / 2]
    return [left + (right - left) * place / (len(joints) - 1) for place in range(len(joints))]


def _labels(strip: Strip) -> Iterator[Drawn]:
    """Names above the line, connectors or what is needed below."""
    above, places = strip.y - 9, _places(strip)
    role = _(strip.line["role"] or "")
    room = width_of(role, SMALL) + 14
    yield Drawn(4, above - NAME, above, words(role, strip.right - 4, above, SMALL, "end"))
    names = strip.line["pieces"] or ([] if strip.line["words"] else [_("joined directly")])
    starts, ends = [strip.left + 4, *places[1:-1]], [*places[1:-1], strip.right - room]
    for name, start, end in zip(names, starts, ends, strict=False):
        text = cut(name, SMALL * BOLD, end - start - 4)
        yield Drawn(4, above - NAME, above, words(text, start, above, SMALL, bold=bool(strip.line["pieces"])))
    for lines, x, anchor in zip(strip.notes, (strip.left + 4, strip.right - 6), ("start", "end"), strict=True):
        for place, text in enumerate(lines):
            y = strip.y + 18 + 13.5 * place
            yield Drawn(4, y - SMALL, y, words(text, x, y, SMALL, anchor))
