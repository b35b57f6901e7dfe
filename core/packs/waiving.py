"""Marks the verdicts that are waived; no outcome changes, and no verdict comes or goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from afield.core.facts.subjects import Subject
from afield.core.facts.world import World
from afield.core.frozen import frozen
from afield.core.packs.model import Pack
from afield.core.packs.selecting import days_of
from afield.core.packs.utc_days import known_utc_days, own_utc_days
from afield.core.packs.verdicts import CANNOT_TELL, FAILED, Verdict
from afield.core.packs.waivers import Waiver

LONGEST = timedelta(days=60)
"""No outing is longer."""


@frozen
class Standing:
    """How a waiver stands on a trip.

    Attributes:
        waiver: as written.
        applied: subjects of the verdicts that it waives.
        ended, pending, in_part: days that it is not in force on, by why: of subjects whose days all lie after its end,
            all before its beginning, or on both sides of either.

    """

    waiver: Waiver
    applied: tuple[str, ...] = ()
    ended: tuple[date, ...] = ()
    pending: tuple[date, ...] = ()
    in_part: tuple[date, ...] = ()

    @property
    def in_force(self) -> bool:
        """Whether it is in force wherever its rule was judged."""
        return not (self.ended or self.pending or self.in_part)


def waived(
    verdicts: Sequence[Verdict], written: Sequence[Waiver], world: World, day: date
) -> tuple[list[Verdict], list[Standing]]:
    """The verdicts, marked where a waiver applies, and how each waiver stands.

    A waiver applies to what failed or cannot be told, if it is in force on every day that the verdict is about.

    Args:
        verdicts: of all packs.
        written: the waivers that there are, in the order in which they are told.
        world: tells which days the outing and its parts touch.
        day: the local date of arrival.

    """
    if not written:
        return list(verdicts), []
    days = _Days(world, day, written)
    marked = dict(enumerate(verdicts))
    standings: dict[int, Standing] = {}
    # One for a single subject says more than one for the whole rule, and the plan's more than a pack's.
    for number in sorted(range(len(written)), key=lambda at: (written[at].subject is None, written[at].by is not None)):
        waiver = written[number]
        mine = [(index, verdict) for index, verdict in enumerate(verdicts) if _concerns(waiver, verdict)]
        standings[number] = _standing(waiver, [verdict for _, verdict in mine], days)
        for index, verdict in mine:
            if marked[index].waiver is None and verdict.subject.key in standings[number].applied:
                marked[index] = replace(verdict, waiver=waiver)
    return list(marked.values()), [standings[number] for number in range(len(written))]


def _concerns(waiver: Waiver, verdict: Verdict) -> bool:
    subject = verdict.subject
    held = waiver.subject is None or waiver.subject in (subject.key, *subject.parents.values())
    return verdict.rule.key == waiver.rule and held


def _standing(waiver: Waiver, verdicts: Sequence[Verdict], days: _Days) -> Standing:
    told = [(verdict, days.of(verdict.pack, verdict.subject)) for verdict in verdicts]
    open_ones = [verdict for verdict, on in told if verdict.outcome in (FAILED, CANNOT_TELL) and waiver.covers(on)]
    missed = [on for _, on in told if not waiver.covers(on)]
    ended = [on for on in missed if min(on) >= waiver.until]
    pending = [on for on in missed if waiver.from_ is not None and max(on) < waiver.from_]
    partly = [on for on in missed if on not in ended and on not in pending]
    return Standing(
        waiver, tuple(verdict.subject.key for verdict in open_ones), *(_all(some) for some in (ended, pending, partly))
    )


def _all(days: Sequence[Sequence[date]]) -> tuple[date, ...]:
    return tuple(sorted({day for some in days for day in some}))


class _Days:
    """The days that a verdict is about: those of its subject, if it has its own, else those of the trip."""

    def __init__(self, world: World, day: date, waivers: Sequence[Waiver]) -> None:
        self.world, self.day = world, day
        turns = [turn for waiver in waivers for turn in (waiver.from_, waiver.until) if turn is not None]
        # A zone has to be found for the UTC days: they are asked only where a waiver may begin or end on one of them.
        self.turning = any(day <= turn <= day + LONGEST for turn in turns)

    def of(self, pack: Pack, subject: Subject) -> list[date]:
        """The days, by the reckoning of the pack that judges."""
        if pack.date_basis == "local":
            return [self.day]
        own = own_utc_days(subject, self.world) if self.turning else []
        known = known_utc_days(pack, self.world, self.day, asked=True) if self.turning else []
        return own or days_of(pack, self.day, known)
