"""The sweep over days, against a walk over every day."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from afield.core.authoring.lint.days import days_swept, in_a_year

from .conftest import NOW, Bench

START = date(2024, 1, 1)
SOURCE = "{document: House rules, section: x, edition: first, grade: invented, last_checked: 2026-01-02}"
PIECES = st.lists(st.tuples(st.integers(1, 500), st.booleans()), min_size=1, max_size=5)
"""Stretches of days, with a value or without."""


def versions(pieces: list[tuple[int, bool]], is_open: bool) -> list[tuple[date, date | None]]:
    found: list[tuple[date, date | None]] = []
    begin = START
    for length, there in pieces:
        if there:
            found.append((begin, begin + timedelta(length)))
        begin += timedelta(length)
    return [*found, (begin, None)] if is_open or not found else found


def expected(found: list[tuple[date, date | None]]) -> set[str]:
    """The codes by walking over every day."""
    days = [START + timedelta(step) for step in range(3000)]
    there = [any(begin <= day and (end is None or day < end) for begin, end in found) for day in days]
    first, last = there.index(True), len(there) - 1 - there[::-1].index(True)
    codes = {"starts-late"} if first else set()
    codes |= {"date-gap"} if not all(there[first : last + 1]) else set()
    if last < len(days) - 1:
        codes.add("lapsed" if days[last] < NOW else "will-lapse")
    return codes


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(pieces=PIECES, is_open=st.booleans())
def test_finds_each_day_without_a_value(house_maker: Any, pieces: Any, is_open: bool) -> None:
    found = versions(pieces, is_open)
    lines = [
        f'    - {{from: {begin}{f", until: {end}" if end else ""}, value: "10", source: {SOURCE}}}\n'
        for begin, end in found
    ]
    with TemporaryDirectory() as name:
        bench = Bench(house_maker(Path(name)), Path(name))
        path = bench.folder / "rules.yaml"
        head = path.read_text(encoding="utf-8").partition("  few:\n")[0]
        path.write_text(f"{head}  few:\n{''.join(lines)}", encoding="utf-8")
        about_dates = {"starts-late", "date-gap", "lapsed", "will-lapse"}
        codes = {each.code for each in bench.linted().findings if each.about == {"limit": "few"}}
        assert codes & about_dates == expected(found)


def test_each_boundary_with_its_neighbours_today_and_today_in_a_year(bench: Any) -> None:
    from afield.core.authoring.lint.bench import LintBench
    from afield.core.packs.loading import load_pack

    edit = ("references.yaml", "from: 2024-01-01", "from: 2024-01-01\n    until: 2028-01-01")
    bench.edit([edit])
    registry = bench.house.engine.registry
    swept = days_swept(LintBench(load_pack(bench.folder, registry), registry, NOW))
    assert [day.isoformat() for day in swept] == [
        "2024-01-01", "2024-01-02", "2026-06-27", "2027-06-27", "2027-12-31", "2028-01-01", "2028-01-02",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("day", "later"),
    [("2026-06-27", "2027-06-27"), ("2028-02-29", "2029-02-28"), ("9999-12-31", "9999-12-31")],
)
def test_today_in_a_year(day: str, later: str) -> None:
    assert in_a_year(date.fromisoformat(day)) == date.fromisoformat(later)
