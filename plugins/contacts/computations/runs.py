"""Runs of contacts in a log: stretches of time on the air that a rate can be had from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

MOST_GAP_H = 0.5
"""Starts no more than this apart are of one run: 30 minutes; common practice, no source."""

LEAST_RUN_H = 0.01
"""Below it a run's contacts all began in one minute, and tell no time."""


class Run(NamedTuple):
    """Contacts that follow each other closely, and their time."""

    contacts: int
    hours: float


def runs_of(starts_h: Sequence[float], ends_h: Sequence[float]) -> list[Run]:
    """The runs that contacts make, in the order of time.

    Formula: contacts in the order of their starts; starts no more than 0.5 h apart are of one run. Its time goes from
    the first start to the last end or start, whichever is later, and one mean gap between starts more: n contacts have
    n - 1 gaps between them, and the wait for the first, or after the last, is the n-th. A run of one contact has no gap
    and thus no time: 0 h.
    Source: common practice, no source.
    Valid: a log of one station; a pause longer than 0.5 h is taken as time off the air.

    Args:
        starts_h: start of each contact, hours after any one instant.
        ends_h: end of each, not before its start; its start where the end is not known.

    Raises:
        ValueError: unequal numbers of starts and ends, or an end before its start.

    """
    if len(starts_h) != len(ends_h):
        raise ValueError(f"{len(starts_h)} starts and {len(ends_h)} ends; give one end for each start")
    contacts = sorted(zip(starts_h, ends_h, strict=True))
    early = next((contact for contact in contacts if contact[1] < contact[0]), None)
    if early is not None:
        raise ValueError(f"a contact ends at {early[1]:.12g} h, before its start at {early[0]:.12g} h")
    return [_run(group) for group in _groups(contacts)]


def tells_time(run: Run) -> bool:
    """Whether the run has a time to divide by: more than one contact, not all begun in one minute."""
    return run.contacts > 1 and run.hours >= LEAST_RUN_H


def _groups(contacts: Sequence[tuple[float, float]]) -> Iterator[list[tuple[float, float]]]:
    group: list[tuple[float, float]] = []
    for contact in contacts:
        # Starts are whole seconds: a rounding of the sum must not part two that are 30 minutes apart.
        if group and contact[0] - group[-1][0] > MOST_GAP_H + 1e-6:
            yield group
            group = []
        group.append(contact)
    if group:
        yield group


def _run(group: Sequence[tuple[float, float]]) -> Run:
    if len(group) == 1:
        return Run(1, 0.0)
    first, last = group[0][0], group[-1][0]
    return Run(len(group), max(end for _, end in group) - first + (last - first) / (len(group) - 1))
