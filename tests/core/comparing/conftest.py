"""A plan with variants, of toys: a ladder that leans against a wall, and shelves."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.engine import compare
from afield.core.host.hookspecs import Comparison

Json = dict[str, Any]

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
FEW = {"id": "few", "for_each": "shelf", "severity": "advised", "require": {"fact": "shelf.books", "at_most": 10}}
BOX = {"id": "box", "confirm": "The box is closed.", "when": "pack"}
DUST = {
    "id": "dust", "for_each": "shelf", "where": {"fact": "shelf.colour", "is": "red"}, "confirm": "Dusted.",
    "when": "home", "severity": "note",
}  # fmt: skip
PLAN = {
    "wall": {"height": "3 m", "damp": False},
    "ladder": {"length": "2 m"},
    "shelves": [{"name": "a", "books": 3}],
    "variants": {
        "long-ladder": {"ladder": {"length": "2.8 m"}},
        "more-books": {"shelves": [{"name": "a", "books": 30}, {"name": "b", "books": 40, "colour": "red"}]},
        "no-ladder": {"ladder": None},
    },
}
COMPARED = [
    Comparison("wall.gap", "Gap", 10),
    Comparison("trip.books", "Books", 20),
    Comparison("wall.damp", "Damp", 30),
]


class Compared:
    """Toys that are compared."""

    def __init__(self, toys: Any, gap_limit: Json) -> None:
        self.toys, self.gap_limit = toys, gap_limit
        toys.pack(GAP, FEW, BOX, DUST, limits=gap_limit)

    def bring(self, *comparisons: Comparison, **hooks: Any) -> Compared:
        """The toy plugin `house` with these comparisons, and with hooks of its own."""
        self.toys.house(comparisons=lambda: list(comparisons), **hooks)
        return self

    def json(self, base: str | None = None, only: tuple[str, ...] = (), **plan: Any) -> Json:
        """The comparison of the plan, some of it changed; what is None is left out."""
        written = {key: value for key, value in {**PLAN, **plan}.items() if value is not None}
        return compare(self.toys.plan(**written), self.toys.engine, base, only)

    def row(self, fact: str, **more: Any) -> Json:
        """The row of a fact."""
        return next(row for row in self.json(**more)["rows"] if row["fact"] == fact)

    def difference(self, fact: str, label: str, **more: Any) -> Json:
        """How a fact differs with one variant."""
        return next(one for one in self.row(fact, **more)["differences"] if one["label"] == label)

    def changes(self, label: str, **more: Any) -> Json:
        """The verdicts that change with one variant."""
        return next(one for one in self.json(**more)["changes"] if one["label"] == label)


@pytest.fixture
def bare(toys: Any, gap_limit: Json) -> Compared:
    """Without any plugin yet."""
    return Compared(toys, gap_limit)


@pytest.fixture
def house(bare: Compared) -> Compared:
    """With the toy plugin and what it compares."""
    return bare.bring(*COMPARED)
