"""One plan with something of everything: claims, a checklist, a limit in two systems, a reading, open verdicts."""

from typing import Any

import pytest

CLAIMS = [
    {"program": "red-house", "reference": "attic", "boxes": [{"name": "one", "books": 4}]},
    {"program": "red-house", "reference": "hall", "boxes": [{"name": "one", "books": 40}, {"name": "two"}]},
]
FULL = {
    "packs": ["tidy"],
    "claims": CLAIMS,
    "wall": {"height": "3 m", "damp": False},
    "ladder": {"length": "2.48 m"},
    "shelves": [
        {"name": "a", "books": 3, "width": "1 m", "colour": "red"},
        {"name": "b", "books": 30, "width": "3 ft"},
        {"name": "c"},
    ],
    "confirmed": ["tidy/box"],
    "measured": [{"fact": "shelf.spare", "of": "shelf:a", "value": "2 m", "uncertainty": "1 cm", "how": "tape"}],
    "variants": {"long-ladder": {"ladder": {"length": "2.8 m"}}},
}
TIDY = [
    {
        "id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}},
        "assumes": ["The floor is level."], "if_cannot_tell": "Measure {{ detail.end }}: {{ value }}, due {{ limit }}.",
        "if_failed": "{{ short_by }} short.",
    },
    {"id": "few", "for_each": "shelf", "severity": "advised",
     "require": {"fact": "shelf.books", "at_most": {"limit": "few"}}},
    {
        "id": "spare", "for_each": "shelf", "severity": "note", "where": {"fact": "shelf.colour", "is": "red"},
        "require": {"any": [
            {"fact": "shelf.spare", "between": ["1 m", {"limit": "most"}]},
            {"none": [{"fact": "wall.damp", "is": False}]},
        ]},
    },
    {"id": "fits", "decision": "simple", "require": {"fact": "wall.fits", "is": True}},
    {"id": "box", "confirm": "The box is closed.", "when": "pack", "evidence": "A picture."},
    {"id": "dust", "for_each": "shelf", "where": {"fact": "shelf.colour", "one_of": ["red"]}, "confirm": "Dusted.",
     "when": "home", "severity": "note"},
    {"id": "all-books", "require": {"sum": "shelf", "of": "shelf.books", "where": {"verdict": "few", "is": "passed"},
     "at_most": 50}},
]  # fmt: skip
LIMITS = {
    "gap": [
        {"from": "2020-01-01", "until": "2024-01-01", "none": "There was no rule.", "corrects": "A slip."},
        {"from": "2024-01-01", "value": "20", "unit": "in", "also_printed": [{"value": "50.8", "unit": "cm"}],
         "announced": "2023-06-01"},
    ],
    "few": [{"from": "2024-01-01", "value": "10"}],
    "most": [{"from": "2024-01-01", "value": "8.0", "unit": "ft"}],
}  # fmt: skip


@pytest.fixture
def full(house: Any) -> Any:
    """Toys with the plan's packs, `full.plan_data` the plan."""
    house.pack(*TIDY, limits=LIMITS)
    rooms = [
        {"id": name, "title": f"The {name}", "from": "2024-01-01", "source": house.SOURCE} for name in ("attic", "hall")
    ]
    house.pack(
        {"id": "light", "for_each": "box", "require": {"fact": "box.books", "at_most": 10}},
        {"id": "cut", "for_each": "hedge", "severity": "note", "require": {"fact": "hedge.height", "below": "2 m"}},
        name="red-house", judges="program", references=rooms, date_basis="utc", needs=["house", "yard"],
    )  # fmt: skip
    house.plan_data = FULL
    return house
