"""What a program says of the contacts that a claim needs; given by its pack."""

from __future__ import annotations

from typing import Any

from afield.core.api import Fact, Subject, fact, marked

UTC_DAY, OUTING, YEAR = marked("UTC day"), marked("outing"), marked("calendar year")
PERIODS = (UTC_DAY, OUTING, YEAR)
OPERATOR, STATION_CALL, PARTY = marked("operator"), marked("station call"), marked("party")
ONE_REFERENCE, ALL_CLAIMED = "one reference", "all claimed"
AGAIN = ("after 00:00 UTC", "per band", "per band and mode", "never")


def _given(name: str, type: str, title: str, choices: tuple[str, ...] = ()) -> Fact:
    return Fact(name, "program", type, title=title, exact=True, choices=choices)


@fact("program.claimed", kind="program", type="number", unit="", title="references that the plan claims", exact=True,
      each={"claims": ("claim", "claim.reference")})  # fmt: skip
def program_claimed(claims: list[tuple[Subject, Any]]) -> int:
    """How many references of the program the plan claims."""
    return len(claims)


@fact(
    "program.tallies", kind="program", type="opaque", title="tallies of contacts to keep", exact=True,
    each={"claims": ("claim", "claim.reference"), "operators": ("operator", "operator.class")},
    optional=["operators", "program_counted_for"], encode=lambda tallies: tallies,
)  # fmt: skip
def program_tallies(
    subject: Subject, claims: list[tuple[Subject, Any]], operators: list[tuple[Subject, Any]],
    program_counted_for: str | None,
) -> dict[str, Any]:  # fmt: skip
    """The program's name, its claimed references, and the operators that keep a tally each, as JSON.

    Several operators do where the minimum is that of an operator; elsewhere there is one tally, and none is named.
    """
    each = program_counted_for == OPERATOR and len(operators) > 1
    names = [operator.label for operator, _class in operators] if each else []
    return {"program": subject.label, "references": len(claims), "operators": names}


FACTS: list[Fact] = [
    Fact("program.minimum_contacts", "program", unit="", title="contacts that a claim needs", exact=True),
    _given("program.period", "text", "period in which the contacts are made", PERIODS),
    _given("program.counted_for", "text", "whose contacts they are", (OPERATOR, STATION_CALL, PARTY)),
    _given("program.placed_by", "text", "which end of a contact places it in a day", ("start", "end")),
    _given("program.same_station_again", "text", "when the same station counts again", AGAIN),
    _given(
        "program.one_contact_counts_for", "text", "for how many references a contact counts",
        (ONE_REFERENCE, ALL_CLAIMED),
    ),
    _given("program.through_repeaters", "bool", "whether a contact through a repeater counts"),
    _given("program.within_party", "bool", "whether a contact within the party counts"),
    program_claimed,
    program_tallies,
]  # fmt: skip
