from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from afield.core.rules import Complaint, Limit, Source, Version, read_limits, read_source

NUMBER = 'Write digits in quotes, for example "24.4".'


def test_a_limit_is_read_with_all_that_it_states() -> None:
    written = {
        "from": "2024-01-01", "until": "2026-01-01", "value": "80", "unit": "ft", "announced": "2023-10-01",
        "also_printed": [{"value": "24.4", "unit": "m"}], "corrects": "A misprint.",
        "source": {"document": "Rules", "section": "4.2", "grade": "invented", "last_checked": "2026-05-02"},
    }  # fmt: skip
    assert read_limits({"corridor": [written]}, ("limits",)) == (
        {
            "corridor": Limit(
                "corridor",
                (
                    Version(
                        date(2024, 1, 1), date(2026, 1, 1), Decimal(80), "ft", ((Decimal("24.4"), "m"),), None,
                        Source("Rules", "4.2", None, "invented", date(2026, 5, 2)), date(2023, 10, 1), "A misprint.",
                        ("limits", "corridor", 0),
                    ),
                ),
            )
        },
        [],
    )  # fmt: skip


@pytest.mark.parametrize(
    ("entry", "path", "what", "advice"),
    [
        ({"value": "eighty"}, ("value",), '"eighty" is not a number', NUMBER),
        ({"value": 24.4}, ("value",), "24.4 is not a figure as printed", NUMBER),
        ({"value": True}, ("value",), "true is not a figure as printed", NUMBER),
        (
            {"value": "80", "from": "2026-02-30"}, ("from",), "2026-02-30 is no date",
            "Write year-month-day, for example 2026-06-27.",
        ),
        ({"value": "80", "untill": "2026-01-01"}, ("untill",),
         '"untill" is not a known key here', 'Did you mean "until"?'),
        (
            {"value": "80", "source": "Rules 4.2"}, ("source",), "a source names its document and section",
            'Write `{document: ..., section: "4.2"}`.',
        ),
        (
            {"value": "80", "also_printed": ["24.4 m"]}, ("also_printed",), "printed equivalents are a list",
            'Write `[{value: "24.4", unit: m}]`.',
        ),
        (
            {"value": "80", "unit": "ft", "also_printed": [{"value": "x", "unit": "m"}]},
            ("also_printed", 0, "value"), '"x" is not a number', NUMBER,
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused(entry: dict[str, Any], path: tuple[Any, ...], what: str, advice: str) -> None:
    limits, complaints = read_limits({"corridor": [{"from": "2024-01-01", **entry}]})
    assert complaints == [Complaint(("limits", "corridor", 0, *path), what, advice)]
    assert limits == {"corridor": Limit("corridor", ())}


@pytest.mark.parametrize(
    ("entries", "path", "what"),
    [
        ("80 ft", (), "a limit is a list of dated values"),
        ([], (), "a limit is a list of dated values"),
        (["80 ft"], (0,), "a dated value is a mapping"),
    ],
)
def test_a_limit_of_another_form_is_refused(entries: Any, path: tuple[Any, ...], what: str) -> None:
    _, complaints = read_limits({"corridor": entries})
    assert [(complaint.path, complaint.what) for complaint in complaints] == [(("limits", "corridor", *path), what)]


def test_the_limits_own_complaints_come_with_it() -> None:
    _, complaints = read_limits({"corridor": [{"from": "2024-01-01", "value": "80", "unit": "fooot"}]})
    assert complaints == [
        Complaint(("limits", "corridor", 0, "unit"), '"fooot" is not a known unit', 'Did you mean "foot"?')
    ]


def test_no_source_is_no_complaint() -> None:
    assert read_source(None, ("source",)) == (None, [])
