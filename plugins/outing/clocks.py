"""Times of day set in a row: each is the next after the one before, over midnight if need be."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from afield.core.api import frozen

DAY = 24 * 60


@frozen
class Clock:
    """A time of day as the plan writes it: minutes after midnight, and whether it is UTC."""

    text: str
    minute: int
    utc: bool


def clock_of(text: str) -> Clock:
    """The time of day that a checked text states ("14:45", or "14:45Z" for UTC)."""
    hours, minutes = text.removesuffix("Z").split(":")[:2]
    return Clock(text, int(hours) * 60 + int(minutes), text.endswith("Z"))


def minutes_after(start: Clock, later: Clock) -> int:
    """Minutes from one time to the next such time, 0 if they are the same."""
    return (later.minute - start.minute) % DAY


def unwrapped(clocks: Sequence[Clock]) -> list[int]:
    """Minutes of each time after the first, each the next after the one before it."""
    passed = [0]
    for before, after in pairwise(clocks):
        passed.append(passed[-1] + minutes_after(before, after))
    return passed


def longest_step(clocks: Sequence[Clock]) -> int:
    """Index of the time that follows its predecessor only after the longest wait: the one that is out of order."""
    return max(range(1, len(clocks)), key=lambda index: minutes_after(clocks[index - 1], clocks[index]))
