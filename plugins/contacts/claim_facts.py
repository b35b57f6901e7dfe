"""Facts of a claim over the whole outing: how many contacts it still wants, and whether they are likely."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, all_of, fact, marked
from afield.plugins.contacts.day_facts import COUNTED, NOT_BY_DAY, SHARED
from afield.plugins.contacts.odds import chance_of, minutes_for
from afield.plugins.contacts.program_facts import OUTING, UTC_DAY, YEAR
from afield.plugins.contacts.rate_facts import CHANCE_DETAIL, DETAIL

if TYPE_CHECKING:
    from afield.plugins.contacts.counted import Counted

NONE_STATED = marked("No contacts of earlier outings of this year are stated for the claim: none are taken.")
TWO_YEARS = marked(
    "the time on the air lies in {years}, by UTC or by the local clock; plan what lies in each by itself"
)


@fact(
    "claim.minutes_counted", kind="claim", type="number", unit="min", exact=True, detail=COUNTED,
    title="time on the air that counts for the claim", each={"operators": ("operator", "operator.class")},
    optional=SHARED,
)  # fmt: skip
def claim_minutes_counted(
    schedule_instants: dict[str, Any], program_claimed: float, program_counted_for: str | None,
    program_one_contact_counts_for: str | None, operators: list[tuple[Subject, Any]],
) -> Estimate:  # fmt: skip
    """Minutes on the air of the outing that count for the claim, of one for whom the minimum is."""
    shares = (program_counted_for, program_one_contact_counts_for, _names(operators), int(program_claimed))
    found = _counted(schedule_instants, *shares)
    return Estimate(found.minutes, detail={"who": found.who, "basis": found.basis}, method=found.basis)


def _names(operators: list[tuple[Subject, Any]]) -> list[str]:
    return [operator.label for operator, _class in operators]


def _counted(
    instants: dict[str, Any], counted_for: str | None, counts_for: str | None, names: list[str], claimed: int
) -> Counted:
    from afield.plugins.contacts.counted import Shares, counted, spans_of

    return counted(spans_of(instants), Shares(counted_for, counts_for, names, claimed))


@fact(
    "claim.contacts_wanted", kind="claim", type="number", unit="", exact=True, least=0.0,
    title="contacts that the outing has to bring", optional=["program_period", "claim_contacts_this_year"],
)  # fmt: skip
def claim_contacts_wanted(
    program_minimum_contacts: float, schedule_instants: dict[str, Any], program_period: str | None,
    claim_contacts_this_year: float | None,
) -> Estimate:  # fmt: skip
    """The program's minimum; over a calendar year less what the plan says was made in it before."""
    if program_period != YEAR:
        return Estimate(program_minimum_contacts, method=_("the program's minimum"))
    _refuse_two_years(schedule_instants)
    made = claim_contacts_this_year or 0
    notes = (_(NONE_STATED),) if claim_contacts_this_year is None else ()
    method = _("the minimum less {made} of the year").format(made=f"{made:g}")
    return Estimate(max(0, program_minimum_contacts - made), method=method, notes=notes)


def _refuse_two_years(instants: dict[str, Any]) -> None:
    """An outing over the turn of a year, by UTC or by the local clock, counts for one year or the other."""
    offsets = [0, instants["offsets"]["start"], instants["offsets"]["end"]]
    ends = [end for span in instants["on_air"] for end in span] or [instants["start"], instants["end"]]
    years = {
        (datetime.fromisoformat(end) + timedelta(minutes=offset)).year for end in (min(ends), max(ends))
        for offset in offsets
    }  # fmt: skip
    if len(years) > 1:
        text = _(TWO_YEARS).format(years=all_of([str(year) for year in sorted(years)]))
        raise CannotTell(text, "schedule.on_air", "cannot be computed", "trip")


@fact(
    "claim.chance_of_minimum", kind="claim", type="number", unit="%", owns_uncertainty=True,
    title="chance of the contacts that the claim needs", detail=CHANCE_DETAIL, least=0.0, optional=["program_period"],
)  # fmt: skip
def claim_chance_of_minimum(
    contacts_rate: dict[str, Any], claim_minutes_counted: float, claim_contacts_wanted: float,
    program_period: str | None,
) -> Estimate:  # fmt: skip
    """The chance of at least the contacts that are wanted in the time of the outing that counts."""
    _refuse_by_day(program_period)
    return chance_of(contacts_rate, claim_minutes_counted, claim_contacts_wanted)


@fact(
    "claim.minutes_for_minimum", kind="claim", type="number", unit="min", owns_uncertainty=True,
    title="time that counts for a chance of 9 in 10", detail=DETAIL, least=0.0, optional=["program_period"],
)  # fmt: skip
def claim_minutes_for_minimum(
    contacts_rate: dict[str, Any], claim_contacts_wanted: float, program_period: str | None
) -> Estimate:
    """Whole minutes in which the contacts that are wanted are reached with a chance of 9 in 10."""
    _refuse_by_day(program_period)
    return minutes_for(contacts_rate, claim_contacts_wanted)


def _refuse_by_day(period: str | None) -> None:
    if period is None:
        text = _("the pack does not say in which period the contacts are made")
        raise CannotTell(text, "program.period", "not stated")
    if period not in (OUTING, YEAR):
        text = _("the program counts its contacts by {period}, not over the outing")
        raise CannotTell(text.format(period=_(period)))


@fact(
    "claim.best_division", kind="claim", type="opaque", title="best division of the time across 00:00 UTC",
    owns_uncertainty=True, encode=lambda division: division, each={"operators": ("operator", "operator.class")},
    optional=["program_period", *SHARED, "schedule_set_up", "schedule_pack_up"],
)  # fmt: skip
def claim_best_division(
    contacts_rate: dict[str, Any], program_minimum_contacts: float, program_period: str | None,
    schedule_instants: dict[str, Any], program_claimed: float, program_counted_for: str | None,
    program_one_contact_counts_for: str | None, operators: list[tuple[Subject, Any]], schedule_set_up: float | None,
    schedule_pack_up: float | None,
) -> Estimate:  # fmt: skip
    """Minutes before and after 00:00 UTC with which both UTC days most likely reach the minimum, as JSON.

    With the chance that one UTC day would have alone, when that is by the clock, and whether it fits the plan.
    """
    from afield.plugins.contacts.division import Room, division_of

    if program_period not in (None, UTC_DAY):
        raise CannotTell(_(NOT_BY_DAY).format(period=_(program_period)))
    shares = (program_counted_for, program_one_contact_counts_for, _names(operators), int(program_claimed))
    counted = _counted(schedule_instants, *shares)
    room = Room(schedule_instants, schedule_set_up, schedule_pack_up)
    try:
        found = division_of(counted, contacts_rate, int(program_minimum_contacts), room)
    except ValueError as error:
        raise CannotTell(str(error), "schedule.on_air", "outside validity", "trip") from error
    return Estimate(found, method=_("every whole minute is tried, for the greatest chance of both days"))


FACTS: list[Fact] = [
    claim_minutes_counted,
    claim_contacts_wanted,
    claim_chance_of_minimum,
    claim_minutes_for_minimum,
    claim_best_division,
]
