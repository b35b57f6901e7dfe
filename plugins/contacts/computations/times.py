"""How much time on the air a number of contacts needs."""

from __future__ import annotations

from math import ceil

from afield.plugins.contacts.computations.checked import chance, clumping, whole, within
from afield.plugins.contacts.computations.counts import prob_at_least

LONGEST_H = 10_000.0
"""More than a year on the air: the rate is too small for the question."""


def hours_for_probability(
    rate_per_h: float, at_least: int, probability: float, dispersion_k: float | None = None
) -> float:
    """The time in which a number of contacts is reached with a given chance, in hours.

    Formula: the t of P(N >= n) = p, by halving; without clumps the quantile of a gamma distribution of shape n.
    Source: Feller, An Introduction to Probability Theory and Its Applications, volume 2, 2nd edition (1971), section
    I.3, waiting time of the n-th event; with clumps `prob_at_least_negative_binomial`.
    Valid: a rate that stays the same; to 10,000 h.

    Args:
        rate_per_h: contacts expected in an hour, above 0, to 1,000.
        at_least: how many are wanted, 1 and above.
        probability: the chance, above 0, to 0.9999.
        dispersion_k: clumping as in `prob_at_least_negative_binomial`; left out, none.

    Raises:
        ValueError: a figure out of range, or a time beyond 10,000 h.

    """
    rate, wanted = within(1e-3, 1000, rate_per_h, "rate", "per hour"), whole(1, at_least, "at least")
    sought, clumps = chance(probability), clumping(dispersion_k)
    if prob_at_least(rate * LONGEST_H, wanted, clumps) < sought:
        raise ValueError(f"{wanted} contacts at {rate:g} per hour take more than {LONGEST_H:,.0f} h for this chance")
    return _first_mean(wanted, sought, clumps) / rate


def minutes_needed(
    rate_per_h: float, at_least: int, probability: float = 0.9, dispersion_k: float | None = None
) -> int:
    """The least whole number of minutes in which a number of contacts is reached with a given chance.

    Formula: `hours_for_probability`, rounded up. Source and validity: as there.

    Args:
        rate_per_h: contacts expected in an hour, above 0, to 1,000.
        at_least: how many are wanted, 1 and above.
        probability: the chance; 9 in 10 if left out.
        dispersion_k: clumping; left out, none.

    Raises:
        ValueError: as in `hours_for_probability`.

    """
    minutes = 60 * hours_for_probability(rate_per_h, at_least, probability, dispersion_k)
    # A time that is whole but for the last binary place stays what it is.
    return ceil(round(minutes, 9))


def _first_mean(wanted: int, sought: float, clumps: float) -> float:
    high = float(wanted)
    while prob_at_least(high, wanted, clumps) < sought:
        high *= 2
    low = 0.0
    while high - low > 1e-12 * high:
        middle = (low + high) / 2
        low, high = (middle, high) if prob_at_least(middle, wanted, clumps) < sought else (low, middle)
    return high
