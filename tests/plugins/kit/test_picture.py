"""The wiring as a picture: what becomes a box and what a line, where they go, and what is drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Page

from afield.core.briefing.page import _section_html
from afield.plugins.kit.encoding import encoded_wiring
from afield.plugins.kit.packing_data import MARKS
from afield.plugins.kit.packing_section import packing_section
from afield.plugins.kit.picture.data import picture_data
from afield.plugins.kit.picture.drawing import TALLEST, picture_words, wiring_picture
from afield.plugins.kit.picture.layout import WIDTH, Layout, layout
from afield.plugins.kit.picture.marks import LINES, SHAPES
from afield.plugins.kit.picture.order import ordered
from afield.plugins.kit.picture.text import cut, width_of, wrapped

AMPLIFIED = """\
items:
  - {name: radio, is: hf-radio-10-w}
  - {name: amplifier, is: hf-amplifier-100-w}
  - {name: patch, is: patch-lead-bnc}
  - {name: line, is: coax-uhf-uhf-10-m}
  - {name: dipole, is: dipole-40-m}
  - {name: keying lead, is: keying-lead-jack-rca}
  - {name: battery, is: lithium-iron-battery-20-ah}
  - {name: splitter, is: dc-splitter}
  - {name: power lead, is: dc-lead-coaxial}
  - {name: converter, is: usb-converter-45-w}
  - {name: usb lead, is: charging-lead-usb-c}
  - {name: laptop, is: laptop}
  - {name: paddle, is: paddle}
  - {name: headphones, is: headphones}
  - {name: data lead, is: data-lead-usb-a-c}
connections:
  - [battery.terminals, splitter.battery-end]
  - [splitter.output-one, amplifier.dc]
  - [splitter.output-two, power lead.battery-end]
  - [splitter.output-three, converter.dc]
  - [paddle.plug, radio.key]
  - [headphones.plug, radio.headphones]
  - [data lead.plug-a, laptop.usb-a]
  - [radio.usb, data lead.plug-c]
"""
BROKEN = """\
items:
  - {name: a radio with quite a long name that somebody wrote for the club inventory, is: hf-radio-100-w}
  - {name: patch, is: patch-lead-bnc}
  - {name: battery, is: lithium-iron-battery-6-ah}
  - {name: another battery, is: lithium-iron-battery-20-ah}
  - {name: power lead, is: dc-lead-25-a}
  - {name: whip, is: telescopic-whip-hf}
  - {name: laptop, is: laptop}
  - {name: power bank, is: power-bank-20-ah}
connections:
  - [a radio with quite a long name that somebody wrote for the club inventory.microphone, patch.plug-a]
"""


def picture(bag: Any, text: str) -> Any:
    return picture_data(encoded_wiring(bag.wiring(text)), MARKS)


def told(found: Any) -> list[str]:
    names = [box["name"] for box in found["boxes"]]
    return [
        " - ".join([names[line["from"]], *line["pieces"], names[line["to"]]]) + f" ({line['role']})"
        for line in found["lines"]
    ]


def test_leads_are_lines_and_all_else_is_boxes(bag: Any) -> None:
    found = picture(bag, AMPLIFIED)
    assert sorted(told(found)) == [
        "amplifier - line - dipole (RF)",
        "battery - splitter (DC)",
        "converter - usb lead - laptop (USB)",
        "paddle - radio (keying)",
        "radio - data lead - laptop (data)",
        "radio - headphones (audio)",
        "radio - keying lead - amplifier (keying)",
        "radio - patch - amplifier (RF)",
        "splitter - amplifier (DC)",
        "splitter - converter (DC)",
        "splitter - power lead - radio (DC)",
    ]
    (lead,) = [line for line in found["lines"] if line["pieces"] == ["power lead"]]
    assert lead["joints"] == [
        {"mark": "joined", "kinds": ["genderless 15-45 A housing", "genderless 15-45 A housing"]},
        {"mark": "inferred", "kinds": ["coaxial DC 5.5/2.1 female", "coaxial DC 5.5/2.1 male"]},
    ]


def test_what_feeds_stands_above_what_it_feeds(bag: Any) -> None:
    found = picture(bag, AMPLIFIED)
    assert [found["boxes"][box]["name"] for box in ordered(found)] == [
        "battery", "splitter", "paddle", "radio", "amplifier", "dipole", "converter", "laptop", "headphones",
    ]  # fmt: skip


def test_what_is_missing_is_a_gap_with_words(bag: Any, low_power: str) -> None:
    found = picture(bag, low_power.replace("coax-bnc-bnc-10-m", "coax-uhf-uhf-10-m"))
    (gap,) = [line for line in found["lines"] if line["words"]]
    assert (gap["joints"], gap["pieces"]) == ([{"mark": "missing", "kinds": [None, None]}], [])
    assert gap["words"] == "needs a lead from radio.antenna to wire.feed (BNC male to BNC male)"
    assert told(found)[-1] == "radio - wire (RF)"


def test_what_the_kit_has_none_or_several_of_is_a_box_of_its_own(bag: Any) -> None:
    found = picture(bag, "items:\n  - {name: radio, is: hf-radio-10-w}\n")
    assert [box for box in found["boxes"] if not box["packed"]] == [
        {"name": "an antenna", "note": "not in the kit", "packed": False},
        {"name": "a battery or a supply", "note": "not in the kit", "packed": False},
    ]
    several = picture(bag, BROKEN)
    (box,) = [box for box in several["boxes"] if not box["packed"]]
    assert box == {"name": "a battery or a supply", "note": "which one cannot be told", "packed": False}
    marks = {line["joints"][0]["mark"] for line in several["lines"]}
    assert marks == {"does not fit", "missing", "cannot tell"}


def test_an_item_of_unknown_ports_is_joined_by_a_line_that_cannot_be_told(bag: Any, low_power: str) -> None:
    found = picture(bag, low_power + "  - coax\nconnections: [[radio.antenna, coax]]\n")
    lines = [line for line in found["lines"] if not line["words"] and line["role"] == "RF"]
    assert [line["joints"] for line in lines] == [[{"mark": "cannot tell", "kinds": ["BNC female", None]}]]
    assert told(found)[-1] == "radio - wire (RF)"
    assert found["lines"][-1]["words"] == "cannot tell: the ports of coax are not stated"


def test_a_long_row_of_leads_has_boxes_in_between(bag: Any) -> None:
    leads = "".join(f"  - {{name: lead {number}, is: dc-lead-housing}}\n" for number in range(7))
    joined = "".join(f"  - [lead {one}.far-end, lead {one + 1}.battery-end]\n" for one in range(6))
    text = (
        "items:\n  - {name: battery, is: lithium-iron-battery-20-ah}\n  - {name: converter, is: usb-converter-45-w}\n"
    )
    text += leads + "connections:\n" + joined
    text += "  - [battery.terminals, lead 0.battery-end]\n  - [lead 6.far-end, converter.dc]\n"
    found = picture(bag, text)
    assert max(len(line["pieces"]) for line in found["lines"]) == 2
    names = {box["name"] for box in found["boxes"]} | {name for line in found["lines"] for name in line["pieces"]}
    assert names == {"battery", "converter", *(f"lead {number}" for number in range(7))}
    assert len(found["boxes"]) == 4


def test_leads_in_a_ring_are_drawn(bag: Any) -> None:
    text = "items:\n" + "".join(f"  - {{name: lead {number}, is: patch-lead-bnc}}\n" for number in range(3))
    joined = "connections: [" + ", ".join(f"[lead {n}.plug-b, lead {(n + 1) % 3}.plug-a]" for n in range(3)) + "]\n"
    found = picture(bag, text + joined)
    assert sum(len(line["joints"]) for line in found["lines"]) == 3
    assert wiring_picture({"picture": found}).startswith("<svg")


def test_nothing_joined_is_no_picture(bag: Any) -> None:
    assert picture(bag, "items: [pencil]\n") is None
    assert wiring_picture({"picture": None}) == ""


BOXES = st.text(st.sampled_from("aMi 漢—"), min_size=1, max_size=60).map(lambda name: name.strip() or "thing")
MARKED = st.sampled_from(sorted(LINES))


@st.composite
def pictures(draw: st.DrawFn) -> dict[str, Any]:
    names = draw(st.lists(BOXES, min_size=2, max_size=9))
    lines = []
    for start, end in draw(st.lists(st.tuples(*[st.integers(0, len(names) - 1)] * 2), min_size=1, max_size=16)):
        if start == end:
            continue
        pieces = draw(st.lists(BOXES, max_size=2))
        kinds = [draw(BOXES), draw(BOXES)]
        joints = [{"mark": draw(MARKED), "kinds": kinds} for _ in range(len(pieces) + 1)]
        if "missing" in [joint["mark"] for joint in joints]:
            pieces, joints = [], [{"mark": "missing", "kinds": [None, None]}]
        words = draw(BOXES) if joints[0]["mark"] == "missing" else None
        role = draw(st.sampled_from(["RF", "DC", "keying", "ground", None]))
        lines.append({"from": start, "to": end, "pieces": pieces, "joints": joints, "words": words, "role": role})
    boxes = [{"name": name, "note": draw(BOXES) if draw(st.booleans()) else None, "packed": True} for name in names]
    return {"boxes": boxes, "lines": lines}


def drawn_texts(svg: str) -> Iterator[tuple[float, float, float, float]]:
    """Left, top, right, bottom of every text, by the estimate of its width."""
    for text in ElementTree.fromstring(f"<all>{svg}</all>").iter("{http://www.w3.org/2000/svg}text"):
        if text.get("x") is None:
            continue  # the question mark of a joint
        size = float(text.get("font-size", ""))
        width = width_of(text.text or "", size) * (1.14 if text.get("font-weight") else 1)
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        left = x - width if text.get("text-anchor") == "end" else x
        yield left, y - size * 0.78, left + width, y + size * 0.22


@settings(max_examples=120, deadline=None)
@given(pictures())
def test_no_text_meets_another_or_leaves_the_picture(found: dict[str, Any]) -> None:
    svg = wiring_picture({"picture": found})
    texts = sorted(set(drawn_texts(svg)))
    for left, _, right, _ in texts:
        assert left >= 0
        assert right <= WIDTH
    for one, other in combinations(texts, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)


@settings(max_examples=120, deadline=None)
@given(pictures())
def test_no_box_meets_another_and_no_lane_a_box(found: dict[str, Any]) -> None:
    laid: Layout = layout(found)
    assert sorted(row.box["name"] for row in laid.rows) == sorted(box["name"] for box in found["boxes"])
    assert all(one.bottom < other.top for one, other in pairwise(laid.rows))
    strips = [strip for row in laid.rows for strip in row.strips]
    assert len(strips) == len(found["lines"])
    for strip in strips:
        assert strip.left < strip.right <= WIDTH
        assert strip.lane is None or 0 < strip.lane < laid.left
    lanes = [(strip.lane, strip.out, strip.y) for strip in strips if strip.lane is not None]
    for one, other in combinations(lanes, 2):
        assert one[0] != other[0] or one[2] <= other[1] or other[2] <= one[1]


@settings(deadline=None)
@given(pictures())
def test_every_line_runs_downward_unless_lines_run_in_a_ring(found: dict[str, Any]) -> None:
    order = ordered(found)
    assert sorted(order) == list(range(len(found["boxes"])))
    lines = [line for line in found["lines"] if line["from"] < line["to"]]
    place = {box: at for at, box in enumerate(ordered({**found, "lines": lines}))}
    assert all(place[line["from"]] < place[line["to"]] for line in lines)


@given(st.text(max_size=40), st.floats(20, 200))
def test_a_text_is_cut_to_its_width(text: str, width: float) -> None:
    assert width_of(cut(text, 12, width), 12) <= width
    assert all(width_of(line, 12) <= width for line in wrapped(text, 12, width, 3))
    assert len(wrapped(text, 12, width, 3)) <= 3
    assert wrapped(text, 12, 1e9, 3) == ([" ".join(text.split())] if text.split() else [])


def test_every_mark_has_a_shape_of_its_own_and_no_colour() -> None:
    assert set(SHAPES) == set(LINES)
    assert len(set(SHAPES.values())) == len(SHAPES)
    assert {colour for shape in SHAPES.values() for colour in re.findall(r"#\w+", shape)} == {"#000", "#fff"}
    assert LINES["inferred"] != LINES["joined"] != LINES["cannot tell"] != LINES["inferred"]


def test_the_picture_says_in_words_what_it_shows(bag: Any, low_power: str) -> None:
    found = picture(bag, low_power)
    assert picture_words(found) == (
        "RF from radio to wire by feed line: inferred. DC from battery to radio by power lead: inferred."
    )
    svg = wiring_picture({"picture": found})
    assert f"<desc>{picture_words(found)}</desc>" in svg
    assert 'role="img"' in svg


def test_names_are_escaped(bag: Any) -> None:
    text = "items:\n  - {name: '<b>&', is: hf-radio-10-w}\n  - {name: '\"wire\"', is: end-fed-wire-20-m}\n"
    svg = wiring_picture({"picture": picture(bag, text)})
    assert "<b>" not in svg
    assert "&lt;b&gt;&amp;" in svg


def test_a_tall_picture_is_drawn_in_parts_that_a_page_can_hold(bag: Any) -> None:
    text = "items:\n" + "".join(f"  - {{name: radio {number}, is: hf-radio-10-w}}\n" for number in range(12))
    svg = wiring_picture({"picture": picture(bag, text)})
    heights = [float(found) for found in re.findall(r'viewBox="0 [\d.]+ [\d.]+ ([\d.]+)"', svg)]
    assert len(heights) > 2
    assert max(heights) <= TALLEST
    assert svg.count('role="img"') == 1
    assert svg.count('aria-hidden="true"') == len(heights) - 1
    assert all(svg.count(f">radio {number}<") >= 1 for number in range(12))


OVERLAPS = """() => {
    const boxes = [...document.querySelectorAll('.drawing.long svg text')]
        .filter(text => text.hasAttribute('x')).map(text => text.getBoundingClientRect());
    const meet = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top + 3 < b.bottom && b.top + 3 < a.bottom;
    return boxes.filter((one, at) => boxes.slice(at + 1).some(other => meet(one, other))).length;
}"""


@pytest.mark.parametrize("text", [AMPLIFIED, BROKEN], ids=["amplified", "broken"])
def test_on_a_telephone_no_two_texts_meet_and_nothing_has_to_be_moved_sideways(
    text: str, bag: Any, phone: Page
) -> None:
    made = bag.report(text)
    (section,) = [section for section in made["sections"] if section["name"] == "packing"]
    phone.set_content(
        f"<body style='font-family: sans-serif'>{_section_html(packing_section(), section['data'])}</body>"
    )
    phone.add_style_tag(content=".drawing svg { display: block; width: 100%; }")
    assert phone.evaluate("document.querySelectorAll('.drawing.long svg').length") >= 1
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360
    assert phone.evaluate(OVERLAPS) == 0
