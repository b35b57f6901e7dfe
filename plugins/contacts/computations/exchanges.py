"""The bound that the length of an exchange sets to the number of contacts."""

from __future__ import annotations

from afield.plugins.contacts.computations.checked import whole, within
from afield.plugins.contacts.computations.counts import prob_at_least


def greatest_rate(transmission_s: float, transmissions: int) -> float:
    """The most contacts an hour that the length of an exchange allows.

    Formula: 3600 / (length of a transmission times their number).
    Source: own; for a mode that sends in slots of a fixed length.
    Valid: one contact at a time, nothing repeated, the next one at once.

    Args:
        transmission_s: length of one transmission of either station, such as a 15 s slot; 0.5 to 600 s.
        transmissions: how many a contact takes, both stations together, 1 and above.

    Raises:
        ValueError: a figure out of range.

    """
    length = within(0.5, 600, transmission_s, "transmission", "s")
    return 3600 / (length * whole(1, transmissions, "transmissions"))


def prob_at_least_with_exchange(rate_per_h: float, hours: float, at_least: int, exchange_s: float) -> float:
    """The chance of at least so many contacts in a time where each one keeps the station busy.

    Formula: with r' = r / (1 - r e), P(N' >= n) of a Poisson number of mean r' (t - n e); 0 where n e is more than t.
    Source: Feller, An Introduction to Probability Theory and Its Applications, volume 2, 2nd edition (1971), section
    XI.3, renewals: n waits, each exponential and followed by e, add up to at most t.
    Valid: who calls meanwhile does not wait; the last contact counts once it is complete. r is the rate in the long
    run, the exchanges taken in.

    Args:
        rate_per_h: contacts expected in an hour, above 0, below 3600 / e.
        hours: time on the air, 0 to 100.
        at_least: how many are wanted, 0 and above.
        exchange_s: how long one contact keeps the station busy, 1 to 3,600 s.

    Raises:
        ValueError: a figure out of range, or a rate that the exchanges leave no time for.

    """
    rate, time = within(1e-3, 1000, rate_per_h, "rate", "per hour"), within(0, 100, hours, "time", "h")
    busy, wanted = within(1, 3600, exchange_s, "exchange", "s") / 3600, whole(0, at_least, "at least")
    if rate * busy >= 1:
        allowed = f"the {1 / busy:.4g} that exchanges of {exchange_s:g} s allow"
        raise ValueError(f"rate {rate:g} per hour is not below {allowed}")
    free = time - wanted * busy
    return prob_at_least(rate / (1 - rate * busy) * free, wanted) if free > 0 else float(wanted == 0)
