"""How many contacts an hour to expect: from an operator's own counts, or for want of any."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum
from typing import NamedTuple

from afield.core.api import _, grouped, marked, ngettext
from afield.plugins.contacts.computations.checked import whole, within
from afield.plugins.contacts.computations.gamma import gamma_quantile

JEFFREYS_SHAPE = 0.5
NO_SOURCE = marked("common practice, no source")


class Rate(NamedTuple):
    """A rate of contacts, per hour, with its interval at 95 %.

    `dispersion_k` is the shape of what is known of the rate: with it `prob_at_least_negative_binomial` gives the chance
    of a number of contacts with that doubt taken in. `spread` is how many times the counts vary more than chance has
    it; 1 if no more, or if there is only one.
    """

    per_h: float
    low_per_h: float
    high_per_h: float
    dispersion_k: float
    spread: float
    basis: str


USUAL = {
    "CW": (15.0, 3.0, 45.0, 2.5),
    "SSB": (20.0, 3.0, 70.0, 2.0),
    "FM": (6.0, 0.5, 25.0, 1.5),
    "digital": (12.0, 3.0, 35.0, 2.5),
}
"""Mode -> contacts an hour, low, high, dispersion k, of a portable station that calls CQ. Figures without a source."""


def rate_from_counts(contacts: Sequence[int], hours: Sequence[float]) -> Rate:
    """The rate that an operator's own earlier counts speak for, with its interval at 95 %.

    Formula: rate ~ gamma of shape n / s + 1/2 and of rate T / s, from n contacts in T hours; interval between its 2.5 %
    and 97.5 % quantiles, value its mean. s is Pearson's sum of (n_i - r t_i)^2 / (r t_i) over the outings, divided by
    their number less one, where that is above 1.
    Source: Gelman and others, Bayesian Data Analysis, 3rd edition (2013), section 2.6, Poisson model with exposure;
    prior: Jeffreys, gamma of shape 1/2 and rate 0. s: McCullagh and Nelder, Generalized Linear Models, 2nd edition
    (1989), section 6.2.3.
    Valid: outings like the one that is planned (power, bands, season, program). A single count shows nothing of how
    much outings differ.

    Args:
        contacts: contacts of each earlier outing, or one total.
        hours: time on the air of each, above 0, to 1,000.

    Raises:
        ValueError: none, unequal numbers of counts and times, or a figure out of range.

    """
    counts = [whole(0, count, "contacts") for count in contacts]
    times = [within(0.01, 1000, time, "time", "h") for time in hours]
    if not counts or len(counts) != len(times):
        raise ValueError(f"{len(counts)} counts and {len(times)} times; give one time for each count")
    spread = _spread(counts, times)
    shape, time = sum(counts) / spread + JEFFREYS_SHAPE, fsum(times) / spread
    low, high = (gamma_quantile(shape, share) / time for share in (0.025, 0.975))
    return Rate(shape / time, low, high, shape, spread, _basis(counts, times))


def usual_rate(mode: str) -> Rate:
    """A rate to plan with where the operator has no counts of their own, with a wide interval.

    Formula: a table.
    Source: common practice, no source; low and high are what outings of one mode have been seen to span.
    Valid: a portable station that calls CQ on a band that is open. An operator's own counts are better after one
    outing, see `rate_from_counts`.

    Args:
        mode: `CW`, `SSB`, `FM` or `digital`.

    Raises:
        ValueError: another mode.

    """
    if mode not in USUAL:
        raise ValueError(f'mode "{mode}" is not known; known are {", ".join(USUAL)}')
    value, low, high, dispersion = USUAL[mode]
    return Rate(value, low, high, dispersion, 1.0, _(NO_SOURCE))


def _spread(counts: Sequence[int], times: Sequence[float]) -> float:
    rate = sum(counts) / fsum(times)
    if len(counts) == 1 or rate == 0:
        return 1.0
    squares = fsum((count - rate * time) ** 2 / (rate * time) for count, time in zip(counts, times, strict=True))
    return max(1.0, squares / (len(counts) - 1))


def _basis(counts: Sequence[int], times: Sequence[float]) -> str:
    words = ngettext(
        "own counts: {contacts} contacts in {time} of {count} outing; Jeffreys prior",
        "own counts: {contacts} contacts in {time} of {count} outings; Jeffreys prior",
        len(counts),
    )
    return words.format(contacts=sum(counts), time=time_words(fsum(times)), count=len(counts))


def time_words(hours: float) -> str:
    """A time to the minute: "20 min", "2 h", "1 h 5 min"."""
    whole_h, minutes = divmod(round(60 * hours), 60)
    words = [f"{grouped(whole_h)} h"] if whole_h else []
    return " ".join([*words, f"{minutes} min"] if minutes or not words else words)
