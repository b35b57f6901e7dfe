"""Peukert's law: a lead-acid battery gives less the faster it is emptied."""

from __future__ import annotations

from math import log
from typing import NamedTuple

from afield.plugins.power.computations.amounts import positive, within

SAME = 1e-9
"""Relative difference below which two figures count as the same."""


class Discharge(NamedTuple):
    """How long a current flows, and the charge that comes out in that time."""

    hours: float
    effective_ah: float


def peukert_one_hour_form(capacity_at_1_a_ah: float, k: float, current_a: float) -> float:
    """Hours that a battery lasts, from the capacity that it has at a current of ONE ampere.

    Formula: t = C / I^k.
    Source: Peukert (1897), as printed on most pages.
    Valid: exponents of 1 to 2; C taken at 1 A. With the 20-hour capacity of the label in its place the answer is wrong:
    100 Ah, k 1.2, 5 A gives 14.5 h where the battery gives 20 h. Use `peukert_rated_form` for a label.

    Args:
        capacity_at_1_a_ah: capacity at 1 A, not that of the label.
        k: Peukert's exponent.
        current_a: current.

    Raises:
        ValueError: an amount is not above 0, or the exponent is out of range.

    """
    slowed: float = positive(current_a, "current", "A") ** _exponent(k)
    return positive(capacity_at_1_a_ah, "capacity", "Ah") / slowed


def peukert_rated_form(capacity_ah: float, rated_hours: float, k: float, current_a: float) -> Discharge:
    """Hours that a battery lasts and the charge that it gives, from the capacity and the hours of its label.

    Formula: t = H (C / (I H))^k; charge I t.
    Source: Peukert (1897) with the rating's own hours, as battery sellers print it.
    Valid: lead acid at about 25 °C; exponents of 1 to 2 (AGM 1.05 to 1.15, gel 1.1 to 1.25, flooded 1.2 to 1.6, by a
    seller's page); currents from C / H up, as below it the law promises more than the battery holds.

    Args:
        capacity_ah: rated capacity C.
        rated_hours: hours H for which it is rated, mostly 20.
        k: Peukert's exponent.
        current_a: current.

    Raises:
        ValueError: an amount is not above 0, the exponent is out of range, or the current is below the rating's own.

    """
    capacity, rated = positive(capacity_ah, "capacity", "Ah"), positive(rated_hours, "rating", "h")
    current = positive(current_a, "current", "A")
    if current * rated < capacity * (1 - SAME):
        raise ValueError(
            f"current {current:g} A is below {capacity / rated:.4g} A, at which the battery is rated: Peukert's law "
            "would promise more than its capacity; take hours = capacity / current"
        )
    hours = rated * (capacity / (current * rated)) ** _exponent(k)
    return Discharge(hours, current * hours)


def peukert_exponent_from_two_points(current1_a: float, hours1: float, current2_a: float, hours2: float) -> float:
    """Peukert's exponent of a battery that was emptied at two currents.

    Formula: k = ln(t1 / t2) / ln(I2 / I1).
    Source: Peukert (1897), solved for the exponent.
    Valid: two different currents, both to the same end voltage and at the same temperature; exponents of 1 to 2.

    Args:
        current1_a: first current.
        hours1: hours to empty at it.
        current2_a: second current.
        hours2: hours to empty at it.

    Raises:
        ValueError: an amount is not above 0, the currents are the same, or the exponent comes out below 1 or above 2.

    """
    currents = positive(current1_a, "current", "A"), positive(current2_a, "current", "A")
    hours = positive(hours1, "time", "h"), positive(hours2, "time", "h")
    if abs(currents[0] - currents[1]) <= SAME * currents[0]:
        raise ValueError(f"both currents are {currents[0]:g} A; two different ones give an exponent")
    k = log(hours[0] / hours[1]) / log(currents[1] / currents[0])
    return _exponent(1.0 if abs(k - 1) <= 1e-6 else k)


def _exponent(k: float) -> float:
    return within(k, 1, 2, "Peukert's exponent", "")
