"""The section of the briefing, and whole plans."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from jsonschema import Draft202012Validator
from playwright.sync_api import Page

from afield.core.briefing.page import _section_html
from afield.core.engine import Engine, compare, judge, load, report
from afield.plugins.radio.power_data import power_data
from afield.plugins.radio.power_section import power_section, power_text


def made(plan: Path, variant: str | None = None) -> dict[str, Any]:
    engine = Engine()
    found = report(judge(load(plan, engine, variant), engine), engine, briefing=True)
    assert engine.failures() == []
    return found


def section_of(found: dict[str, Any]) -> dict[str, Any]:
    (section,) = [section for section in found["sections"] if section["name"] == "radio-power"]
    data: dict[str, Any] = section["data"]
    Draft202012Validator(dict(power_section().schema)).validate(data)
    return data


def outcomes(found: dict[str, Any], subject: str) -> dict[str, str]:
    ours = ("gear/amplifier", "gear/antenna-for")
    judged = [one for one in found["verdicts"] if one["subject"] == subject and one["rule"].startswith(ours)]
    return {one["rule"].partition("/")[2]: one["outcome"] for one in judged}


def test_a_station_without_an_amplifier(plan: Path) -> None:
    found = made(plan)
    assert outcomes(found, "item:wire").pop("antenna-for-the-band") == "passed"
    assert set(outcomes(found, "item:pencil").values()) == {"not applicable"}
    (row,) = section_of(found)["rows"]
    assert (row["frequency"], row["way"], row["set_by"], row["unknown"]) == ("20m", "radio to wire", None, None)
    assert [part["where"] for part in row["parts"]] == [
        "in lines", "by the standing wave on them", "not delivered into the mismatch",
    ]  # fmt: skip


def test_a_station_with_an_amplifier(plan: Path) -> None:
    found = made(plan, "with-amplifier")
    assert outcomes(found, "item:linear") == {
        "amplifier-drive": "passed", "amplifier-least-drive": "passed", "amplifier-overshoot": "passed",
        "amplifier-change-over": "passed", "amplifier-filters": "passed", "amplifier-average": "passed",
        "antenna-for-the-band": "not applicable",
    }  # fmt: skip
    text = power_text(section_of(found))
    lines = text.splitlines()
    assert lines[0] == "20m: radio to linear to wire"
    assert lines[1].endswith("W (95 %) out, set by the drive and gain of linear")
    assert "less 0.05 dB in leads and adapters" in lines
    assert "W (95 %) AT THE ANTENNA, 0.8" in text
    assert "Taken for granted" in lines


def test_what_spoils_the_amplifier_is_told(plan: Path) -> None:
    kit, amplifier = plan.parent / "kit.yaml", plan.parent / "amplifier.yaml"
    kit.write_text(kit.read_text("utf-8").replace("8 W, keys_before: 20 ms", "14 W, keys_before: 12 ms"), "utf-8")
    amplifier.write_text(amplifier.read_text("utf-8").replace("[20m, 40m]", "[40m]"), "utf-8")
    found = made(plan, "with-amplifier")
    texts = {one["rule"]: one["text"] for one in found["verdicts"] if one["subject"] == "item:linear"}
    assert texts["gear/amplifier-overshoot"] == (
        "radio peaks at 14 W, and the input of linear bears 10 W: put an attenuator between the two, or drive it with "
        "another radio."
    )
    assert texts["gear/amplifier-change-over"] == (
        "RF comes 3 ms too early (keyed by radio): lengthen the radio's transmit delay, or key linear by a lead."
    )
    assert texts["gear/amplifier-filters"] == ("Switch linear off on 20m, or plan other bands; it has filters for 40m.")


def test_a_plan_that_names_no_band_says_so(plan: Path) -> None:
    plan.write_text(plan.read_text("utf-8").replace(", band: 20m}", "}"), "utf-8")
    data = section_of(made(plan))
    assert (data["rows"][0]["unknown"], data["notes"]) == ("no band and no frequency is planned", [])
    assert power_text(data) == "no frequency planned: radio to wire\nCANNOT TELL: no band and no frequency is planned"


def test_a_plan_without_a_kit_has_no_such_section(plan: Path) -> None:
    plan.write_text("trip: A day out\ndate: 2026-06-27\npacks: [gear]\n", encoding="utf-8")
    found = made(plan)
    assert [section for section in found["sections"] if section["name"] == "radio-power"] == []
    assert power_data({"radio.power_table": {}}) is None


def test_the_page_says_what_is_left_of_what(plan: Path, phone: Page) -> None:
    phone.set_content(f"<body>{_section_html(power_section(), section_of(made(plan, 'with-amplifier')))}</body>")
    parts = [text.replace("\u00a0", " ") for text in phone.locator("div li").all_inner_texts()]
    assert parts[1:4] == [
        "less 0.55 dB in lines", "less 0.06 dB by the standing wave on them", "less 0.05 dB in leads and adapters",
    ]  # fmt: skip
    assert phone.locator("div p b").inner_text().replace("\u00a0", " ").endswith("(95 %) at the antenna")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


def test_the_page_escapes_names_and_says_what_cannot_be_told(low: Any, phone: Page) -> None:
    low.items["wire"]["name"] = "<b>wire</b>"
    record = {"reason": None, "value": {"rows": low.table({"band": "15m"})}}
    data = power_data({"radio.power_table": {"trip": record}})
    assert data is not None
    html = str(_section_html(power_section(), data))
    assert "<b>wire</b>" not in html
    phone.set_content(f"<body>{html}</body>")
    assert phone.locator("p").inner_text().replace("\u00a0", " ") == (
        "Cannot tell: the SWR of <b>wire</b> on 15m is not stated."
    )


def test_what_a_variant_keeps_cancels_in_watts_and_in_decibels(plan: Path) -> None:
    """Twice the line loses more beyond doubt: what both powers are unsure by is mostly the same in both."""
    longer = "variants:\n  longer: {kit: [longer.yaml]}\n"
    plan.write_text(plan.read_text("utf-8").partition("variants:")[0] + longer, "utf-8")
    kit = (plan.parent / "kit.yaml").read_text("utf-8")
    (plan.parent / "longer.yaml").write_text(kit.replace("length: 10 m", "length: 20 m"), "utf-8")
    found = compare(plan, Engine())
    (row,) = [row for row in found["rows"] if row["fact"] == "radio.power_at_antenna"]
    (difference,) = row["differences"]
    sides = [value["uncertainty"] for value in row["values"]]
    assert difference["finding"] == "differs"
    assert difference["uncertainty"] < min(sides) / 2
    assert difference["extra"] == (
        "0.55 dB ± 0.14 dB (95 %) less at the antenna, less than half an S-unit (6 dB each, IARU Region 1 R.1)"
    )
