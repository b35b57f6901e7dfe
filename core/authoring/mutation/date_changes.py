"""Changes of dates: every day on which something begins or ends, a day earlier and a day later."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import TypeVar

from afield.core.packs.model import DatedFact, Rule
from afield.core.rules.limit_checks import Written, date_complaints
from afield.core.rules.limits import Version

D = TypeVar("D", Version, DatedFact, Rule)


def boundaries(versions: Sequence[D]) -> list[date]:
    """The days on which a version begins to be in force, or ceases to be."""
    days = {day for version in versions for day in (version.from_, version.until) if day is not None}
    return sorted(days)


def shifted(versions: tuple[D, ...]) -> Iterator[tuple[str, tuple[str | int, ...], tuple[D, ...]]]:
    """Each boundary moved by a day, where one version begins as another ends for both: words, path, new versions.

    What would leave two versions in force on one day, or one on none, is no pack, and no change.
    """
    for day in boundaries(versions):
        for step in (-1, 1):
            new = _moved(day, step)
            moved = tuple(_with_day(version, day, new) for version in versions)
            if not date_complaints(moved):
                yield f"{day} becomes {new}", _path_of(versions, day), moved


def _moved(day: date, step: int) -> date:
    return day if day in (date.min, date.max) else day + timedelta(days=step)


def _with_day(version: D, day: date, new: date) -> D:
    begins = new if version.from_ == day else version.from_
    return replace(version, from_=begins, until=new if version.until == day else version.until)


def _path_of(versions: Sequence[Written], day: date) -> tuple[str | int, ...]:
    """Where the day is written first: as a beginning, else as an end."""
    found: list[tuple[str | int, ...]] = [(*each.path, "from") for each in versions if each.from_ == day]
    found += [(*each.path, "until") for each in versions if each.until == day]
    return found[0]
