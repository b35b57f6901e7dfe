"""Facts of contacts: how many an hour to expect, and whether a UTC day's minimum is likely to be reached."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, amount_in, fact

MODES = {"CW": "CW", "SSB": "SSB", "USB": "SSB", "LSB": "SSB", "FM": "FM", "FT8": "digital", "FT4": "digital"}
"""Mode as plans write it -> mode of the table of usual rates."""
SOUGHT = 0.9
"""Chance with which a minimum is to be reached, for the time that it needs: a choice, not a rule."""


@fact(
    "contacts.rate", kind="trip", type="opaque", title="rate of contacts", owns_uncertainty=True,
    settle="contacts.earlier", optional=["contacts_earlier", "schedule_mode"],
)  # fmt: skip
def contacts_rate(contacts_earlier: Piece | None, schedule_mode: str | None) -> Estimate:
    """The rate with its interval, dispersion and basis: by own counts, else the usual one of the mode."""
    from afield.plugins.contacts.computations.rates import rate_from_counts, usual_rate

    if contacts_earlier is not None:
        outings = contacts_earlier.data
        hours = [amount_in(outing["time"], "h") for outing in outings]
        rate = rate_from_counts([outing["contacts"] for outing in outings], hours)
    elif schedule_mode is None:
        raise CannotTell("neither earlier counts nor the mode is stated", "contacts.earlier", "not stated")
    elif schedule_mode.upper() not in MODES:
        raise CannotTell(f"how many contacts to expect in {schedule_mode} is not known", "contacts.earlier")
    else:
        rate = usual_rate(MODES[schedule_mode.upper()])
    return Estimate(rate._asdict(), method=rate.basis)


@fact(
    "contacts.expected_rate", kind="trip", type="number", unit="", title="contacts expected in an hour",
    owns_uncertainty=True, detail={"basis": "what the rate rests on"}, least=0.0,
)  # fmt: skip
def contacts_expected_rate(contacts_rate: dict[str, Any]) -> Estimate:
    """The rate, with its interval at 95 %."""
    low, high, basis = contacts_rate["low_per_h"], contacts_rate["high_per_h"], contacts_rate["basis"]
    return Estimate(contacts_rate["per_h"], low, high, detail={"basis": basis}, method=basis)


@fact(
    "claim_day.chance_of_minimum", kind="claim_day", type="number", unit="%", owns_uncertainty=True,
    title="chance of the contacts that the claim needs", detail={"basis": "what the rate rests on"}, least=0.0,
)  # fmt: skip
def claim_day_chance_of_minimum(
    contacts_rate: dict[str, Any], utc_day_minutes_on_air: float, program_minimum_contacts: float
) -> Estimate:
    """The chance of at least the program's minimum in the time on the air on the UTC day.

    The interval is that of the chance at the two ends of the rate's interval.
    """
    from afield.plugins.contacts.computations.counts import prob_at_least

    wanted, hours = int(program_minimum_contacts), utc_day_minutes_on_air / 60
    ends = [prob_at_least(contacts_rate[key] * hours, wanted) for key in ("low_per_h", "high_per_h")]
    chance = prob_at_least(contacts_rate["per_h"] * hours, wanted, 1 / contacts_rate["dispersion_k"])
    low, high = min(*ends, chance), max(*ends, chance)
    basis = contacts_rate["basis"]
    method = "negative binomial: the doubt of the rate is in it"
    return Estimate(100 * chance, 100 * low, 100 * high, detail={"basis": basis}, method=f"{method}; {basis}")


@fact(
    "claim_day.minutes_for_minimum", kind="claim_day", type="number", unit="min", owns_uncertainty=True,
    title="time on the air for a chance of 9 in 10", detail={"basis": "what the rate rests on"}, least=0.0,
)  # fmt: skip
def claim_day_minutes_for_minimum(contacts_rate: dict[str, Any], program_minimum_contacts: float) -> Estimate:
    """Whole minutes on the air in which the program's minimum is reached with a chance of 9 in 10.

    The interval is that of the time at the two ends of the rate's interval.
    """
    from afield.plugins.contacts.computations.times import minutes_needed

    wanted, basis = int(program_minimum_contacts), contacts_rate["basis"]
    if not wanted:
        return Estimate(0.0, 0.0, 0.0, detail={"basis": basis}, method="no contact is needed")
    try:
        needed = minutes_needed(contacts_rate["per_h"], wanted, SOUGHT, contacts_rate["dispersion_k"])
        ends = [minutes_needed(contacts_rate[key], wanted, SOUGHT) for key in ("high_per_h", "low_per_h")]
    except ValueError as error:
        raise CannotTell(str(error), "contacts.earlier", "outside validity") from error
    low, high = min(*ends, needed), max(*ends, needed)
    return Estimate(needed, low, high, detail={"basis": basis}, method=f"chance {SOUGHT:g}; {basis}")


FACTS: list[Fact] = [
    Fact("program.minimum_contacts", "program", unit="", title="contacts that a claim needs on a UTC day", exact=True),
    contacts_rate,
    contacts_expected_rate,
    claim_day_chance_of_minimum,
    claim_day_minutes_for_minimum,
]
