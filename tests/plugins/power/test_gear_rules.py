"""What the gear pack's rules on power say of whole plans: nothing where there is nothing, else what helps."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import Any

import pytest

from afield.core.engine import Engine, judge, load, report

RULES = (
    "dc-voltage-enough", "dc-drop", "dc-fused", "fuse-protects-conductor", "fuse-carries-load", "battery-current",
    "charge-temperature", "air-transport", "carrier-approval", "other-battery-by-air", "laptop-gains",
)  # fmt: skip


@pytest.fixture
def verdicts(tmp_path: Path) -> Any:
    """Kit and more of the plan -> (rule, item) -> verdict, of the rules on power."""

    def judged(kit: str, more: str = "") -> dict[tuple[str, str], dict[str, Any]]:
        (tmp_path / "kit.yaml").write_text(textwrap.dedent(kit), encoding="utf-8")
        plan = tmp_path / "trip.yaml"
        plan.write_text(f"trip: A\ndate: 2026-06-27\npacks: [gear]\nkit: [kit.yaml]\n{more}\n", encoding="utf-8")
        engine = Engine()
        made = report(judge(load(plan, engine), engine), engine)
        assert engine.failures() == []
        mine = [one for one in made["verdicts"] if one["rule"].removeprefix("gear/") in RULES]
        return {(one["rule"].removeprefix("gear/"), one["subject"].removeprefix("item:")): one for one in mine}

    return judged


def outcomes(found: dict[tuple[str, str], dict[str, Any]], *, of: str) -> dict[str, str]:
    return {rule: one["outcome"] for (rule, item), one in found.items() if item == of}


def test_a_bag_of_names_is_left_alone(verdicts: Any) -> None:
    found = verdicts("items: [radio, battery, pencil]", "travel: {by: plane}")
    assert {one["outcome"] for one in found.values()} == {"not applicable"}
    assert len(found) == 3 * len(RULES)


def test_a_kit_of_the_catalogue_is_told_without_a_word_more(verdicts: Any) -> None:
    found = verdicts(
        """\
        items:
          - {name: radio, is: hf-radio-10-w}
          - {name: wire, is: end-fed-wire-20-m}
          - {name: line, is: coax-bnc-bnc-10-m}
          - {name: battery, is: lithium-iron-battery-6-ah}
          - {name: lead, is: dc-lead-coaxial}
        """,
        "travel: {by: train}",
    )
    told = {key: one["outcome"] for key, one in found.items() if one["outcome"] != "not applicable"}
    assert told == {
        ("dc-voltage-enough", "radio"): "passed", ("dc-drop", "radio"): "passed", ("dc-fused", "battery"): "passed",
        ("fuse-protects-conductor", "lead"): "passed", ("fuse-carries-load", "lead"): "passed",
        ("battery-current", "battery"): "passed",
    }  # fmt: skip


def test_a_thin_lead_fails_with_what_to_do(verdicts: Any, simple: str) -> None:
    found = verdicts(simple.replace("awg: 12, length: 3 m", "awg: 14, length: 4 m"))
    assert outcomes(found, of="radio")["dc-voltage-enough"] == "failed"
    assert found["dc-voltage-enough", "radio"]["text"] == (
        "10.5 V are left where radio needs 11.7 V: 1.22 V too little. Most is lost in lead (1.5 V); shorten or thicken "
        "it, transmit with less power, or stop at a higher battery voltage."
    )
    assert found["fuse-protects-conductor", "lead"]["text"] == (
        "The fuse of 25 A in lead is above the 15 A of 14 AWG: put in a smaller fuse, or a thicker wire."
    )
    assert found["dc-drop", "radio"]["text"] == (
        "Most is lost in lead (1.5 V). To lose no more than 3 %: lead of 11 mm²; 6 AWG would lose 0.34 V in all. "
        "A shorter lead does as well."
    )


def test_a_panel_in_the_cold_fails_and_without_a_temperature_asks(verdicts: Any, simple: str) -> None:
    kit = simple.replace(
        "connections:", "  - {name: panel, class: solar panel, solar: {rated: 60 W, charges: battery}}\nconnections:"
    )
    cold = verdicts(kit, "conditions: {temperature: -8 degC}")["charge-temperature", "battery"]
    assert cold["outcome"] == "failed"
    assert cold["text"] == (
        "The air is 8 °C below the 0 °C of lithium iron phosphate: carry the battery warm, and do not charge it "
        "outdoors."
    )
    silent = verdicts(kit)["charge-temperature", "battery"]
    assert (silent["outcome"], silent["settle"]["words"]) == ("cannot tell", "State `conditions.temperature`.")


@pytest.mark.parametrize(
    ("label", "judged", "approval"),
    [("20 Ah", "cannot tell", "cannot tell"), ("6 Ah, label_energy: 76.8 Wh", "passed", "not applicable"),
     ("10 Ah, label_energy: 128 Wh", "passed", "cannot tell"),
     ("20 Ah, label_energy: 256 Wh", "failed", "not applicable")],
)  # fmt: skip
def test_by_plane_the_label_decides(verdicts: Any, simple: str, label: str, judged: str, approval: str) -> None:
    found = verdicts(simple.replace("20 Ah", label), "travel: {by: plane}")
    mine = outcomes(found, of="battery")
    assert (mine["air-transport"], mine["carrier-approval"]) == (judged, approval)
    assert mine["other-battery-by-air"] == "not applicable"


def test_a_plan_without_a_kit_has_one_verdict_a_rule(tmp_path: Path) -> None:
    plan = tmp_path / "trip.yaml"
    plan.write_text("trip: A\ndate: 2026-06-27\npacks: [gear]\n", encoding="utf-8")
    engine = Engine()
    made = report(judge(load(plan, engine), engine), engine)
    mine = [one for one in made["verdicts"] if one["rule"].removeprefix("gear/") in RULES]
    assert sorted(one["rule"].removeprefix("gear/") for one in mine) == sorted(RULES)
    assert {(one["subject"], one["outcome"]) for one in mine} == {("trip", "not applicable")}
