"""How to divide the time on the air between two UTC days that each want a number of contacts."""

from __future__ import annotations

from typing import Literal, NamedTuple

from afield.plugins.contacts.computations.checked import clumping, whole, within
from afield.plugins.contacts.computations.counts import prob_at_least

Aim = Literal["both", "weaker"]


class Division(NamedTuple):
    """Minutes before and after 00:00 UTC, and the chances that they give."""

    minutes_before: int
    minutes_after: int
    chance_before: float
    chance_after: float
    chance_of_both: float


def best_division(
    minutes: int,
    rate_before_per_h: float,
    rate_after_per_h: float,
    at_least_before: int,
    at_least_after: int,
    dispersion_k: float | None = None,
    aim: Aim = "both",
) -> Division:
    """The division of a time on the air across 00:00 UTC that serves two UTC days best.

    Formula: every whole minute is tried; the greatest product of the two chances, or the greatest of the weaker one. Of
    equal ones that with the most even minutes is taken.
    Source: own; the chances are those of `prob_at_least_negative_binomial`.
    Valid: the two days' contacts are independent of each other: what is unknown of the rate is then unknown twice, and
    the chance of both is a little too small.

    Args:
        minutes: whole time on the air, 1 to 2,880.
        rate_before_per_h: contacts expected in an hour before 00:00 UTC, above 0, to 1,000.
        rate_after_per_h: the same after it.
        at_least_before: wanted in the first UTC day, 0 and above.
        at_least_after: wanted in the second.
        dispersion_k: clumping as in `prob_at_least_negative_binomial`; left out, none.
        aim: `both` for the chance that both days reach it, `weaker` for the chance of the worse day.

    Raises:
        ValueError: a figure out of range, or another aim.

    """
    if aim not in ("both", "weaker"):
        raise ValueError(f'aim "{aim}" is not known; give both or weaker')
    time = whole(1, within(1, 2880, minutes, "time", "min"), "minutes")
    before = _chances(time, rate_before_per_h, at_least_before, dispersion_k)
    after = _chances(time, rate_after_per_h, at_least_after, dispersion_k)
    return max((_division(minute, before, after) for minute in range(time + 1)), key=lambda one: _rank(one, aim))


def _chances(time: int, rate_per_h: float, at_least: int, dispersion_k: float | None) -> list[float]:
    """The chance after each whole minute."""
    rate = within(1e-3, 1000, rate_per_h, "rate", "per hour")
    wanted, clumps = whole(0, at_least, "at least"), clumping(dispersion_k)
    return [prob_at_least(rate * minute / 60, wanted, clumps) for minute in range(time + 1)]


def _division(minutes: int, before: list[float], after: list[float]) -> Division:
    rest = len(before) - 1 - minutes
    first, second = before[minutes], after[rest]
    return Division(minutes, rest, first, second, first * second)


def _rank(one: Division, aim: Aim) -> tuple[float, int]:
    merit = one.chance_of_both if aim == "both" else min(one.chance_before, one.chance_after)
    return round(merit, 12), -abs(one.minutes_before - one.minutes_after)
