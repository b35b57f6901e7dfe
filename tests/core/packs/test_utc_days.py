"""A pack with days in UTC is judged by the days that a plugin tells, and they are asked only where it matters."""

from typing import Any

import pytest

from afield.core.facts.declarations import fact
from afield.core.facts.measured import CannotTell
from afield.core.report.rejudging import rejudged

BOOKS = {"id": "books", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": {"limit": "books"}}}
SHELF = {"shelves": [{"name": "a", "books": 15}]}


def teller(asked: list[str], days: list[str] | None) -> Any:
    @fact("trip.days", kind="trip", type="list", title="UTC days", exact=True, tells_utc_days=True)
    def trip_days(trip_date: str) -> list[str]:
        """The days."""
        asked.append(trip_date)
        if days is None:
            raise CannotTell("no zone is known", "schedule.zone")
        return days

    return trip_days


def changing(toys: Any, days: list[str] | None, turn: str = "2026-06-27", basis: str = "utc") -> tuple[Any, list[str]]:
    asked: list[str] = []
    house = toys.house(facts=lambda: [*toys.FACTS, teller(asked, days)])
    versions = [{"from": "2024-01-01", "until": turn, "value": "10"}, {"from": turn, "value": "20"}]
    house.pack(BOOKS, limits={"books": versions}, date_basis=basis)
    return house, asked


@pytest.mark.parametrize(
    ("days", "outcome"),
    [
        (["2026-06-26"], "failed"),
        (["2026-06-27"], "passed"),
        (["2026-06-27", "2026-06-28"], "passed"),
        (["2026-06-26", "2026-06-27"], "cannot tell"),
        (None, "cannot tell"),
    ],
)
def test_only_the_days_that_are_told_count(toys: Any, days: list[str] | None, outcome: str) -> None:
    house, _ = changing(toys, days)
    report = house.report(**SHELF)
    assert report["verdicts"][0]["outcome"] == outcome


@pytest.mark.parametrize(
    ("turn", "basis", "count"),
    [("2026-06-27", "utc", 1), ("2026-06-28", "utc", 1), ("2026-06-26", "utc", 0), ("2026-06-27", "local", 0)],
)
def test_the_days_are_asked_only_if_something_turns_on_them(toys: Any, turn: str, basis: str, count: int) -> None:
    house, asked = changing(toys, ["2026-06-27"], turn, basis)
    house.judged(**SHELF)
    assert len(asked) == count


def test_a_report_with_known_days_is_rejudged_to_the_same(toys: Any) -> None:
    house, _ = changing(toys, ["2026-06-27"])
    report = house.report(**SHELF)
    assert report["run"]["packs"][0]["days"] == ["2026-06-27"]
    assert [verdict.word for verdict in rejudged(report, house.engine.registry)] == ["passed"]
