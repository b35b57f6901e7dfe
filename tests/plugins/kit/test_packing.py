"""The packing list of the briefing."""

from __future__ import annotations

from typing import Any

from jsonschema import Draft202012Validator
from playwright.sync_api import Page

from afield.core.briefing.page import _section_html
from afield.plugins.kit.packing_data import packing_data
from afield.plugins.kit.packing_section import packing_section, packing_text

BROKEN = """\
items:
  - {name: radio, is: hf-radio-100-w, bag: case}
  - {name: patch, is: patch-lead-bnc, bag: case}
  - {name: patch too, is: patch-lead-bnc, spare_of: patch}
  - {name: whip, is: telescopic-whip-hf, bag: case}
  - {name: battery, is: lithium-iron-battery-6-ah, bag: case, mass: 820 g}
  - {name: power lead, is: dc-lead-25-a, bag: case}
  - {name: meter, class: meter, ports: []}
  - pencil
connections: [[radio.microphone, patch.plug-a]]
"""


def data_of(bag: Any, text: str, more: str = "") -> dict[str, Any]:
    made = bag.report(text, more)
    (section,) = [section for section in made["sections"] if section["name"] == "packing"]
    data: dict[str, Any] = section["data"]
    Draft202012Validator(dict(packing_section().schema)).validate(data)
    return data


def test_bags_stand_in_the_kit_s_order_and_items_in_order_of_setting_up(bag: Any, low_power: str) -> None:
    data = data_of(bag, low_power + "  - pencil\n")
    assert [(found["name"], found["mass"]) for found in data["bags"]] == [
        ("shoulder bag", "2.45 kg ± 0.24 kg (95 %)"),
        ("roll", "0.35 kg ± 0.07 kg (95 %)"),
        ("Not yet in a bag", "no masses stated"),
    ]
    assert [item["name"] for item in data["bags"][0]["items"]] == ["feed line", "radio", "battery", "power lead"]
    assert data["total"] == {"items": 6, "mass": "2.80 kg ± 0.25 kg (95 %) and 1 item without a stated mass"}
    assert [item["essential"] for item in data["bags"][2]["items"]] == [False]


def test_every_joint_has_its_mark(bag: Any) -> None:
    data = data_of(bag, BROKEN)
    first, second = data["chains"]
    assert (first["title"], first["state"]) == ("RF from radio to an antenna", "incomplete")
    assert first["steps"] == [
        {
            "mark": "missing",
            "words": "needs a lead from radio.antenna to whip.feed (UHF male to UHF male)",
            "note": "nothing joins radio to an antenna",
        }
    ]
    assert [step["mark"] for step in second["steps"]] == ["does not fit", "does not fit"]
    assert data["others"] == [
        {
            "mark": "does not fit",
            "words": "radio.microphone to patch.plug-a",
            "note": "radio.microphone is for audio, patch.plug-a for RF: needs a port for audio",
        }
    ]


def test_a_plan_without_a_kit_has_no_packing_list(bag: Any) -> None:
    wants = packing_section().wants
    assert packing_data({name: {} for name in wants}) is None


TEXT = """\
roll: 0.35 kg ± 0.07 kg (95 %)
[ ] wire (antenna, 0.35 kg)
    ESSENTIAL, NO SPARE"""
TEXT_END = """\
COMPLETE: DC from a battery or a supply to radio
  o- -o  battery.terminals to power lead.battery-end [INFERRED]
  o- -o  power lead.plug to radio.dc [INFERRED]

To be set by hand
[ ] tune wire; no tuner is joined to it"""


def test_the_text(bag: Any, low_power: str) -> None:
    text = packing_text(data_of(bag, low_power))
    assert TEXT in text
    assert "    [ ] fuse 5 A" in text.splitlines()
    assert text.endswith(TEXT_END)


def test_the_text_of_what_is_broken(bag: Any) -> None:
    lines = packing_text(data_of(bag, BROKEN)).splitlines()
    assert "INCOMPLETE: RF from radio to an antenna" in lines
    assert "  o   o  needs a lead from radio.antenna to whip.feed (UHF male to UHF male) [MISSING]" in lines
    assert "    spare of patch" in lines


def test_what_is_unknown_is_said_in_the_text(bag: Any) -> None:
    text = packing_text(data_of(bag, "items:\n  - {name: linear, class: amplifier}\n"))
    assert "CANNOT TELL: RF from a radio to linear (the ports of linear are not stated)" in text.splitlines()
    assert "To be set by hand: cannot tell, the features of linear are not stated" in text.splitlines()


ROWS = """() => [...document.querySelectorAll('table tr')]
    .map(row => [row.querySelector('svg').innerHTML, row.innerText.trim()])"""


def test_the_page_marks_joints_by_shape_and_by_word(bag: Any, phone: Page) -> None:
    phone.set_content(f"<body>{_section_html(packing_section(), data_of(bag, BROKEN))}</body>")
    rows = phone.evaluate(ROWS)
    shapes = {row[1].partition(":")[0]: row[0] for row in rows}
    assert set(shapes) == {"Missing", "Does not fit"}
    assert len(set(shapes.values())) == 2
    assert all("stroke" in shape and "color" not in shape for shape in shapes.values())


def test_the_page_escapes_names(bag: Any, phone: Page) -> None:
    html = _section_html(packing_section(), data_of(bag, "items:\n  - '<script>x</script>'\n"))
    assert "&lt;script&gt;x&lt;/script&gt;" in html
    assert "<script>" not in html


NOISY = """\
items:
  - {name: battery, is: lithium-iron-battery-20-ah}
  - {name: converter, is: usb-converter-45-w}
"""
LISTEN = "converter makes RF noise: listen with it and without it joined, and keep it away from the antenna."


def test_what_makes_noise_and_is_in_use_is_cautioned_of(bag: Any) -> None:
    assert data_of(bag, NOISY)["cautions"] == [LISTEN]
    assert LISTEN in packing_text(data_of(bag, NOISY)).splitlines()
    assert LISTEN in _section_html(packing_section(), data_of(bag, NOISY))


def test_what_makes_noise_in_the_bag_only_or_makes_none_is_not(bag: Any) -> None:
    assert data_of(bag, "items:\n  - {name: converter, is: usb-converter-45-w}\n")["cautions"] == []
    quiet = NOISY.replace("is: usb-converter-45-w", "is: usb-converter-45-w, features: []")
    assert data_of(bag, quiet)["cautions"] == []


def test_noise_is_not_set_by_hand(bag: Any) -> None:
    assert data_of(bag, NOISY)["hand_set"] == []
