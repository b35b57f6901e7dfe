"""Which subjects a rule is judged for: a program pack sees its own claims only, and what lies within them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from afield.core.facts.subjects import Subject, of_kind
from afield.core.facts.world import World
from afield.core.packs.model import Pack


def visible(subjects: Iterable[Subject], pack: Pack) -> list[Subject]:
    """The subjects that a pack's rules may see."""
    if pack.judges == "trip":
        return list(subjects)
    return [subject for subject in subjects if subject.program in (None, pack.id)]


def judged_for(world: World, pack: Pack, kind: str) -> list[Subject]:
    """The visible subjects of a kind, in their order."""
    return of_kind(visible(world.subjects.values(), pack), kind)


def days_of(pack: Pack, day: date, known_utc_days: Iterable[date] = ()) -> list[date]:
    """The days under whose rules the pack judges.

    By local date it is the date of arrival. By UTC it is the days that the outing touches, if a zone tells them, and
    otherwise that date and its neighbours: somewhere on Earth each of them is possible.
    """
    if pack.date_basis == "local":
        return [day]
    known = sorted(set(known_utc_days))
    return known or [day, day - timedelta(days=1), day + timedelta(days=1)]
