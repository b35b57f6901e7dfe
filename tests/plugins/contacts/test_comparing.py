"""Contacts to expect, beside each other in `afield compare`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from afield.plugins.contacts.comparing import expected_words
from afield.plugins.contacts.plugin import afield_comparisons

WorldOf = Callable[..., Any]
WHOLE = 'from: "10:00", to: "12:00"'
TIMES = 'zone: America/Denver, arrive: "09:00", leave: "13:00", on_air: ["10:00", "12:00"], mode: CW'


@pytest.mark.parametrize(
    ("slots", "hours"),
    [
        ("", 2),
        (', slots: [{name: a, from: "10:00", to: "11:00"}]', 1),
        (f", slots: [{{name: a, {WHOLE}, operator: x}}, {{name: b, {WHOLE}, operator: y}}]", 4),
    ],
)
def test_the_contacts_of_all_time_on_the_air(world_of: WorldOf, slots: str, hours: float) -> None:
    record = world_of("program.minimum_contacts: 5", schedule=TIMES + slots).value("trip", "contacts.expected")
    assert (record.value, record.low, record.high) == (15 * hours, 3 * hours, 45 * hours)


def test_they_are_printed_with_their_interval_and_basis() -> None:
    record = {"value": 30.0, "low": 6.0, "high": 90.4, "detail": {"basis": "common practice, no source"}}
    assert expected_words(record) == "30 (6 to 90)\ncommon practice, no source"
    assert [one.fact for one in afield_comparisons()] == ["contacts.expected"]
