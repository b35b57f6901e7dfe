"""The section that prints the neutral sections of a plan."""

from __future__ import annotations

from typing import Any

import pytest
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
        "notes": ["Times are local, those that end in Z are UTC."],
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
    assert data == {"rows": [{"name": "Operators", "values": ["first"]}], "notes": []}


def test_the_times_of_a_slot_and_of_the_time_on_the_air_are_spans() -> None:
    data = outing_data(
        facts(
            schedule_on_air={"trip": {**record('["15:30", "20:30"]'), "value": ["15:30", "20:30"]}},
            slot_start={"slot:early": record("22:30"), "slot:late": record("01:30")},
            slot_end={"slot:early": record("01:00")},
            slot_band={"slot:early": record("40m")},
        )
    )
    assert data is not None
    assert data["rows"] == [
        {"name": "On the air", "values": ["15:30 to 20:30"]},
        {"name": "Slots", "values": ["early: 22:30 to 01:00, 40m", "late: 01:30"]},
    ]


CLASSES = {f"operator:{name}": {"printed": "", "reason": {"code": "not stated"}} for name in ("anna", "bert", "carl-b")}


@pytest.mark.parametrize(
    ("named", "note"),
    [
        (["anna", "Carl B"], ["No slot names the operator bert."]),
        (["anna"], ["No slot names the operators bert, carl-b."]),
        (["anna", "bert", "Carl B"], []),
        ([], []),
    ],
)
def test_an_operator_whom_no_slot_names_is_told_where_slots_name_operators(named: list[str], note: list[str]) -> None:
    slots = {f"slot:{number}": record(name) for number, name in enumerate(named)}
    data = outing_data(facts(operator_class=CLASSES, slot_operator=slots))
    assert data is not None
    assert data["notes"] == note
