"""The days that matter to a pack: those on which something begins or ends, today, and today in a year."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from afield.core.authoring.lint.bench import LintBench
from afield.core.rules.limits import Dated

DAY = timedelta(days=1)


def days_swept(bench: LintBench) -> list[date]:
    """Every day on which something begins or ends with its neighbours, today, and today in a year; in order.

    Days before anything of the pack is in force are none of its business.
    """
    pack = bench.pack
    dated: list[Dated] = [*pack.rules, *(pack.references or ())]
    dated += [version for limit in pack.limits.values() for version in limit.versions]
    dated += [version for versions in pack.facts.values() for version in versions]
    begins = {entry.from_ for entry in dated if entry.from_ is not None}
    edges = begins | {entry.until for entry in dated if entry.until is not None}
    days = {near for edge in edges for near in _around(edge)} | {bench.now, in_a_year(bench.now)}
    return sorted(day for day in days if not begins or day >= min(begins))


def _around(day: date) -> Iterator[date]:
    """The day with its neighbours, as far as the calendar goes."""
    yield day
    if day > date.min:
        yield day - DAY
    if day < date.max:
        yield day + DAY


def in_a_year(day: date) -> date:
    """The same day of the next year; of 29 February, the day before 1 March."""
    try:
        return day.replace(year=min(day.year + 1, date.max.year))
    except ValueError:
        return day.replace(year=day.year + 1, day=28)
