"""The chart: what is drawn, and where."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

from afield.core.comparing.strips import HEIGHT, INSET, OUTLINES, WIDTH, mark_svg, strips

Json = dict[str, Any]


def value(label: str, number: float | None, around: float = 0.0) -> Json:
    known = number is not None
    return {
        "label": label, "words": f"{number} m" if known else "cannot tell: unseen", "value": number,
        "low": number - around if number is not None else None, "high": number + around if number is not None else None,
        "uncertainty": around if known else None, "reason": None if known else {"text": "unseen"},
    }  # fmt: skip


def comparison(*values: Json, unit: str | None = "m") -> Json:
    return {"rows": [{"title": "Gap", "unit": unit, "values": list(values)}]}


def places(drawing: str) -> list[float]:
    return [float(found) for found in re.findall(r"translate\(([\d.]+) ", drawing)]


def test_marks_stand_in_proportion_on_one_scale() -> None:
    (strip,) = strips(comparison(value("the plan", 0.0), value("high", 10.0), value("half", 5.0)))
    assert (strip["start"], strip["end"], strip["from_zero"]) == ("0 m", "10 m", True)
    assert [places(line["drawing"]) for line in strip["lines"]] == [[INSET], [WIDTH - INSET], [WIDTH / 2]]
    assert [line["words"] for line in strip["lines"]] == ["0.0 m", "10.0 m", "5.0 m"]


def test_a_whisker_spans_the_interval() -> None:
    (strip,) = strips(comparison(value("the plan", 5.0, 2.5), value("other", 10.0)))
    black = re.findall(r'<line x1="([\d.]+)" y1="12" x2="([\d.]+)" y2="12" stroke="#000"', strip["lines"][0]["drawing"])
    quarter = (WIDTH - 2 * INSET) / 4
    assert [tuple(map(float, ends)) for ends in black] == [(INSET + quarter, INSET + 3 * quarter)]
    assert 'stroke="#000" stroke-width="2"' not in strip["lines"][1]["drawing"]


def test_a_scale_without_0_says_so() -> None:
    (strip,) = strips(comparison(value("the plan", 12.1, 0.05), value("other", 12.4, 0.05)))
    assert (strip["start"], strip["from_zero"]) == ("12 m", False)


def test_what_is_not_known_has_a_line_without_a_mark() -> None:
    (strip,) = strips(comparison(value("the plan", 1.0), value("lost", None), value("other", 2.0)))
    assert [len(places(line["drawing"])) for line in strip["lines"]] == [1, 0, 1]
    assert strip["lines"][1]["words"] == "cannot tell: unseen"


def test_one_number_alone_and_what_is_no_number_are_not_drawn() -> None:
    assert strips(comparison(value("the plan", 1.0), value("lost", None))) == []
    truth = {**value("the plan", 1.0), "value": True}
    assert strips(comparison(truth, truth, unit=None)) == []


def test_marks_are_told_apart_by_shape_and_filling() -> None:
    marks = [mark_svg(index) for index in range(2 * len(OUTLINES))]
    assert len(set(marks)) == len(marks) == 12


def test_drawings_are_well_formed_grey_and_within_their_frame() -> None:
    many = [value(f"v{index}", float(index), 0.5) for index in range(14)]
    (strip,) = strips(comparison(*many))
    for line in strip["lines"]:
        root = ElementTree.fromstring(line["drawing"])
        assert root.get("viewBox") == f"0 0 {WIDTH:g} {HEIGHT:g}"
        assert all(0 <= x <= WIDTH for x in places(line["drawing"]))
        assert set(re.findall(r'(?:stroke|fill)="(#\w+)"', line["drawing"])) <= {"#000", "#fff", "#444", "#b9b9b9"}
    centres = [places(line["drawing"])[0] for line in strip["lines"]]
    assert all(one < two for one, two in pairwise(centres))
