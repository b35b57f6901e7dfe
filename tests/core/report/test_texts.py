"""The terminal's text and the tree of `why`, whole."""

from typing import Any

import pytest

from afield.core.report.formats.text import report_text
from afield.core.report.formats.why import why_text

GAP = {
    "id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}, "assumes": ["The floor is level."],
    "if_failed": "Lower the {{ detail.end }} by {{ short_by }}.", "if_passed": "{{ margin }}.",
}  # fmt: skip


@pytest.fixture
def tidy(house: Any) -> Any:
    version = {"from": "2024-01-01", "value": "20", "unit": "in", "also_printed": [{"value": "50.8", "unit": "cm"}]}
    house.pack(GAP, {"id": "box", "confirm": "The box is closed.", "when": "pack"}, limits={"gap": [version]})
    return house


def plan(length: str, **more: Any) -> Any:
    return {"wall": {"height": "3 m"}, "ladder": {"length": length}, **more}


CLOSING = "checklist: 0 of 1 confirmed\n  1 checklist item is open; `afield brief` prints it as a box\n"
RULE = "                  tidy/gap, required; House rules, section 1 (invented, last checked 2026-01-02)\n"


def test_a_passed_rule(tidy: Any) -> None:
    assert report_text(tidy.report(**plan("2 m"))) == (
        "Moving day, 2026-06-27\n\n"
        "Moving day:\n"
        "  passed          The rule gap\n"
        "                  39 in ± 2 in (95 %; 100 cm ± 5 cm), due at least 20 in (50.8 cm): 19 in (49 cm) of room\n"
        "                  19 in (49 cm) of room.\n"
        f"{RULE}\n"
        f"1 verdict: 1 passed, 0 failed, 0 cannot tell, 0 not applicable; {CLOSING}"
    )


def test_a_failed_rule(tidy: Any) -> None:
    assert report_text(tidy.report(**plan("2.8 m"))) == (
        "Moving day, 2026-06-27\n\n"
        "Moving day:\n"
        "  failed          The rule gap\n"
        "                  8 in ± 2 in (95 %; 20 cm ± 5 cm), due at least 20 in (50.8 cm): 13 in (31 cm) short\n"
        "                  Lower the top by 13 in (31 cm).\n"
        f"{RULE}\n"
        "required, failed: The rule gap: 13 in (31 cm) short\n"
        f"1 verdict: 0 passed, 1 failed, 0 cannot tell, 0 not applicable; {CLOSING}"
    )


def test_a_rule_too_close_to_call_promises_no_room(tidy: Any) -> None:
    assert report_text(tidy.report(**plan("2.48 m"))) == (
        "Moving day, 2026-06-27\n\n"
        "Moving day:\n"
        "  cannot tell     The rule gap\n"
        "                  20 in ± 2 in (95 %; 52 cm ± 5 cm), due at least 20 in (50.8 cm): margin 0 in ± 2 in (95 %; "
        "1 cm ± 5 cm)\n"
        "                  because 20 in ± 2 in (95 %) does not decide against 20 in\n"
        "                  to settle it: Measure the gap above the ladder with a tape measure; the limit is 20 in "
        "(50.8 cm).\n"
        "                  it counts if it reads 0.52 m (1.7 ft) or more, and does not if it reads 0.49 m (1.6 ft) or "
        "less (tool ± 0.01 m (95 %))\n"
        f"{RULE}\n"
        "required, cannot tell: The rule gap\n"
        "1 verdict: 0 passed, 0 failed, 1 cannot tell, 0 not applicable; checklist: 0 of 1 confirmed\n"
        "  cannot tell, 1 x: 20 in ± 2 in (95 %) does not decide against 20 in\n"
        "  1 checklist item is open; `afield brief` prints it as a box\n"
    )


def test_the_tree_of_a_measured_value_shows_what_it_displaces(tidy: Any) -> None:
    entry = {"fact": "wall.gap", "of": "trip", "value": "0.4 m", "uncertainty": "2 cm", "how": "tape"}
    report = tidy.report(**plan("2.48 m", measured=[entry]))
    assert why_text(report, report["verdicts"][0]) == (
        "failed: The rule gap (tidy/gap, for Moving day)\n"
        "├─ why the rule is there: So says the house.\n"
        "├─ Lower the top by 4.3 in (11 cm).\n"
        "├─ by hand (tape): 0.40 m ± 0.02 m (95 %; 1.31 ft ± 0.07 ft) instead of the computed 0.52 m ± 0.05 m (95 %; "
        "1.71 ft ± 0.16 ft)\n"
        "├─ gap above the ladder: 15.7 in ± 0.8 in (95 %; 40 cm ± 2 cm), due at least 20 in (50.8 cm), 4.3 in (11 cm) "
        "short (failed)\n"
        "│  ├─ wall.gap of trip: 0.40 m ± 0.02 m (95 %; 1.31 ft ± 0.07 ft) [measured at plan.yaml:17:13]\n"
        "│  │  ├─ method: measured by hand: tape\n"
        "│  │  ├─ uncertainty (95 %) from measured:trip/wall.gap +0.02 m\n"
        "│  │  └─ displaces the computed value 0.52 m ± 0.05 m (95 %; 1.71 ft ± 0.16 ft)\n"
        "│  │     ├─ wall.height of trip: 3.00 m ± 0.03 m (95 %; 9.8 ft ± 0.1 ft) [stated at plan.yaml:8:13]\n"
        "│  │     │  ├─ uncertainty (95 %) from plan.yaml:8:13 +0.03 m\n"
        "│  │     │  └─ note: ± 0.03 m (95 %) is assumed: the plan states none\n"
        "│  │     └─ ladder.length of trip: 2.48 m ± 0.04 m (95 %; 8.14 ft ± 0.13 ft) [stated at plan.yaml:11:13]\n"
        "│  │        ├─ uncertainty (95 %) from plan.yaml:11:13 +0.04 m\n"
        "│  │        └─ note: ± 0.04 m (95 %) is assumed: the plan states none\n"
        "│  └─ limit gap: 20 in, also printed as 50.8 cm, in force from 2024-01-01\n"
        "│     └─ source: House rules, section 1 (invented, last checked 2026-01-02)\n"
        "├─ rule at pack:tidy/rules.yaml:3:3, required, decided guarded\n"
        "├─ source: House rules, section 1 (invented, last checked 2026-01-02)\n"
        "└─ assumes: The floor is level.\n"
    )


def test_the_tree_of_a_checklist_item(tidy: Any) -> None:
    report = tidy.report(**plan("2 m"))
    assert why_text(report, report["verdicts"][1]) == (
        "cannot tell: The rule box (tidy/box, for Moving day)\n"
        "├─ why the rule is there: So says the house.\n"
        "├─ because to be confirmed\n"
        "├─ rule at pack:tidy/rules.yaml:27:3, required, decided guarded\n"
        "├─ source: House rules, section 1 (invented, last checked 2026-01-02)\n"
        "└─ to settle it: Confirm it in the plan: add it under `confirmed:`.\n"
    )


def test_an_input_that_is_not_stated_stands_in_the_tree(tidy: Any) -> None:
    report = tidy.report(wall={"height": "3 m"})
    lines = why_text(report, report["verdicts"][0]).splitlines()
    assert "├─ because length of the ladder is not stated" in lines
    assert "│  │  └─ not stated: ladder.length" in lines
