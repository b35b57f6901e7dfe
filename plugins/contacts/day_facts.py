"""Facts of a claim on one UTC day, of programs that count their contacts by UTC day."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact, marked
from afield.plugins.contacts.odds import chance_of, minutes_for
from afield.plugins.contacts.program_facts import UTC_DAY
from afield.plugins.contacts.rate_facts import CHANCE_DETAIL, DETAIL

COUNTED = {"who": "whose contacts they are", "basis": "what the time rests on"}
NO_PERIOD = marked("The pack does not say in which period its contacts are made: a UTC day is taken.")
NOT_BY_DAY = marked("the program counts its contacts over the {period}, not by UTC day")
SHARED = ["program_counted_for", "program_one_contact_counts_for", "operators"]


@fact(
    "claim_day.minutes_counted", kind="claim_day", type="number", unit="min", exact=True, detail=COUNTED,
    title="time on the air that counts for the claim on the UTC day",
    each={"operators": ("operator", "operator.class")}, optional=SHARED,
)  # fmt: skip
def claim_day_minutes_counted(
    schedule_instants: dict[str, Any], utc_day_date: str, program_claimed: float, program_counted_for: str | None,
    program_one_contact_counts_for: str | None, operators: list[tuple[Subject, Any]],
) -> Estimate:  # fmt: skip
    """Minutes on the air on the UTC day that count for the claim, of one for whom the minimum is."""
    from afield.plugins.contacts.counted import Shares, counted, on_utc_day, spans_of

    names = [operator.label for operator, _class in operators]
    shares = Shares(program_counted_for, program_one_contact_counts_for, names, int(program_claimed))
    found = counted(on_utc_day(spans_of(schedule_instants), utc_day_date), shares)
    return Estimate(found.minutes, detail={"who": found.who, "basis": found.basis}, method=found.basis)


@fact(
    "claim_day.chance_of_minimum", kind="claim_day", type="number", unit="%", owns_uncertainty=True,
    title="chance of the contacts that the claim needs", detail=CHANCE_DETAIL, least=0.0, optional=["program_period"],
)  # fmt: skip
def claim_day_chance_of_minimum(
    contacts_rate: dict[str, Any], claim_day_minutes_counted: float, program_minimum_contacts: float,
    program_period: str | None,
) -> Estimate:  # fmt: skip
    """The chance of at least the program's minimum in the time that counts on the UTC day."""
    _refuse_other(program_period)
    notes = () if program_period else (_(NO_PERIOD),)
    return chance_of(contacts_rate, claim_day_minutes_counted, program_minimum_contacts, notes)


@fact(
    "claim_day.minutes_for_minimum", kind="claim_day", type="number", unit="min", owns_uncertainty=True,
    title="time that counts for a chance of 9 in 10", detail=DETAIL, least=0.0, optional=["program_period"],
)  # fmt: skip
def claim_day_minutes_for_minimum(
    contacts_rate: dict[str, Any], program_minimum_contacts: float, program_period: str | None
) -> Estimate:
    """Whole minutes in which the program's minimum is reached with a chance of 9 in 10."""
    _refuse_other(program_period)
    return minutes_for(contacts_rate, program_minimum_contacts)


def _refuse_other(period: str | None) -> None:
    if period not in (None, UTC_DAY):
        raise CannotTell(_(NOT_BY_DAY).format(period=_(period)))


FACTS: list[Fact] = [claim_day_minutes_counted, claim_day_chance_of_minimum, claim_day_minutes_for_minimum]
