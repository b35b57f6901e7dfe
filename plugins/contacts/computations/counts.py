"""The chance of at least so many contacts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, takewhile
from math import exp, fsum, log, log1p

from afield.plugins.contacts.computations.checked import GREATEST_COUNT, clumping, whole, within

NEGLIGIBLE = 1e-18
LONG_TAIL = 1000
"""Mean over k above which the upper tail falls off too slowly to be summed; its chance is then not small."""


def prob_at_least_poisson(mean_contacts: float, at_least: int) -> float:
    """The chance of at least so many contacts where they come independently of each other.

    Formula: 1 - sum over j < n of m^j e^-m / j!.
    Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 26.1.22 and 26.4.21.
    Valid: contacts one by one at a rate that is known. Real ones come in clumps (a crowd of callers at once, a band
    that fades), so that this is over-sure; see `prob_at_least_negative_binomial`.

    Args:
        mean_contacts: how many are expected, 0 to 100,000.
        at_least: how many are wanted, 0 to 100,000.

    Raises:
        ValueError: a figure out of range, or a number wanted that is not whole.

    """
    return prob_at_least(_mean(mean_contacts), whole(0, at_least, "at least"))


def prob_at_least_in_time(rate_per_h: float, hours: float, at_least: int) -> float:
    """The chance of at least so many contacts in a time, where they come independently of each other.

    Formula: `prob_at_least_poisson` of rate times hours.
    Source: as there; Feller, An Introduction to Probability Theory and Its Applications, volume 1, 3rd edition (1968),
    section VI.6.
    Valid: a rate that stays the same; as there.

    Args:
        rate_per_h: contacts expected in an hour, 0 to 1,000.
        hours: time on the air, 0 to 100.
        at_least: how many are wanted.

    Raises:
        ValueError: a figure out of range, or a number wanted that is not whole.

    """
    rate, time = within(0, 1000, rate_per_h, "rate", "per hour"), within(0, 100, hours, "time", "h")
    return prob_at_least(rate * time, whole(0, at_least, "at least"))


def prob_at_least_negative_binomial(mean_contacts: float, dispersion_k: float, at_least: int) -> float:
    """The chance of at least so many contacts where they come in clumps, or where the rate is not well known.

    Formula: 1 - sum over j < n of Gamma(j + k) / (Gamma(k) j!) p^k (1 - p)^j, p = k / (k + m); the variance is
    m + m^2 / k.
    Source: Johnson, Kemp and Kotz, Univariate Discrete Distributions, 3rd edition (2005), section 5.1. A rate with a
    gamma distribution of shape k gives the same.
    Valid: k of 0.05 and above; a great k comes to `prob_at_least_poisson`.

    Args:
        mean_contacts: how many are expected, 0 to 100,000.
        dispersion_k: the smaller, the more clumped.
        at_least: how many are wanted, 0 to 100,000.

    Raises:
        ValueError: a figure out of range, or a number wanted that is not whole.

    """
    return prob_at_least(_mean(mean_contacts), whole(0, at_least, "at least"), clumping(dispersion_k))


def prob_at_least(mean: float, at_least: int, clumps: float = 0.0) -> float:
    """The chance of at least so many, of figures that are checked already; `clumps` is 1 / k, 0 for none.

    The smaller of the two tails is summed, so that neither a small chance nor a small doubt loses its figures.
    """
    if at_least == 0 or mean == 0:
        return float(at_least == 0)
    if at_least <= mean or mean * clumps > LONG_TAIL:
        return max(0.0, 1 - fsum(islice(_terms(mean, clumps), at_least)))
    return min(1.0, fsum(_tail(mean, at_least, clumps)))


def _tail(mean: float, at_least: int, clumps: float) -> Iterator[float]:
    # Beyond the mean each term is smaller than the one before.
    terms = islice(_terms(mean, clumps), at_least, at_least + 10 * GREATEST_COUNT)
    first = next(terms)
    yield first
    yield from takewhile(lambda term: term > NEGLIGIBLE * first, terms)


def _terms(mean: float, clumps: float) -> Iterator[float]:
    """The chances of exactly 0, 1, 2, ... contacts, carried as logarithms so that none is lost on the way."""
    logarithm = -log1p(mean * clumps) / clumps if clumps else -mean
    step = log(mean) - log1p(mean * clumps)
    count = 0
    while True:
        yield exp(logarithm)
        logarithm += step + log1p(count * clumps) - log(count + 1)
        count += 1


def _mean(mean_contacts: float) -> float:
    return within(0, GREATEST_COUNT, mean_contacts, "mean", "contacts")
