"""The chance of a number of contacts, and the time that it needs, with the doubt of the rate."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, _, local_digits, marked

SOUGHT = 0.9
"""Chance with which a minimum is to be reached, for the time that it needs: a choice, not a rule."""
METHOD = marked("negative binomial: the doubt of the rate is in it; {basis}")


def chance_of(rate: dict[str, Any], minutes: float, wanted: float, notes: tuple[str, ...] = ()) -> Estimate:
    """The chance, in percent, of at least so many contacts in the time.

    The interval is that of the chance at the two ends of the rate's interval.
    """
    from afield.plugins.contacts.computations.counts import prob_at_least

    number, hours, basis = int(wanted), minutes / 60, rate["basis"]
    ends = [prob_at_least(rate[key] * hours, number) for key in ("low_per_h", "high_per_h")]
    chance = prob_at_least(rate["per_h"] * hours, number, 1 / rate["dispersion_k"])
    low, high = min(*ends, chance), max(*ends, chance)
    detail = {"basis": basis, "minutes": round(minutes), "wanted": number}
    method = _(METHOD).format(basis=basis)
    return Estimate(100 * chance, 100 * low, 100 * high, detail=detail, method=method, notes=notes)


def minutes_for(rate: dict[str, Any], wanted: float) -> Estimate:
    """Whole minutes in which so many contacts are reached with a chance of 9 in 10.

    The interval is that of the time at the two ends of the rate's interval.
    """
    from afield.plugins.contacts.computations.times import minutes_needed

    number, basis = int(wanted), rate["basis"]
    if not number:
        return Estimate(0.0, 0.0, 0.0, detail={"basis": basis}, method=_("no contact is needed"))
    try:
        needed = minutes_needed(rate["per_h"], number, SOUGHT, rate["dispersion_k"])
        ends = [minutes_needed(rate[key], number, SOUGHT) for key in ("high_per_h", "low_per_h")]
    except ValueError as error:
        raise CannotTell(str(error), "contacts.earlier", "outside validity") from error
    low, high = min(*ends, needed), max(*ends, needed)
    method = _("chance {chance}; {basis}").format(chance=local_digits(f"{SOUGHT:g}"), basis=basis)
    return Estimate(needed, low, high, detail={"basis": basis}, method=method)
