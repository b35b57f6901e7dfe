"""The section that prints the neutral sections of a plan."""

from __future__ import annotations

from typing import Any

from jsonschema import Draft202012Validator

from afield.plugins.outing.outing_section import WANTS, outing_data, outing_section, outing_text


def record(printed: str) -> dict[str, Any]:
    return {"printed": printed, "reason": None}


def facts(**given: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {name: given.get(name.replace(".", "_"), {}) for name in WANTS}


def test_what_is_stated_is_printed_row_by_row() -> None:
    data = outing_data(
        facts(
            schedule_arrive={"trip": record("14:45")},
            slot_band={"slot:evening": record("40m")},
            slot_mode={"slot:evening": record("CW")},
        )
    )
    assert data == {
        "rows": [{"name": "Arrive", "values": ["14:45"]}, {"name": "Slots", "values": ["evening: 40m, CW"]}],
        "note": "Times are local, those that end in Z are UTC.",
    }
    assert outing_text(data) == (
        "Arrive:           14:45\nSlots:            evening: 40m, CW\nTimes are local, those that end in Z are UTC."
    )
    Draft202012Validator(dict(outing_section().schema)).validate(data)


def test_what_is_not_stated_is_left_out() -> None:
    silent = {"printed": "wind is not stated", "reason": {"code": "not stated"}}
    assert outing_data(facts(conditions_wind={"trip": silent})) is None


def test_a_subject_with_nothing_but_a_name_is_still_listed() -> None:
    silent = {"printed": "licence class is not stated", "reason": {"code": "not stated"}}
    data = outing_data(facts(operator_class={"operator:first": silent}))
    assert data == {"rows": [{"name": "Operators", "values": ["first"]}], "note": None}
