"""The records that the section on contacts is made from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import frozen
from afield.plugins.contacts.program_facts import UTC_DAY

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]
PROGRAM = (
    "period", "counted_for", "placed_by", "same_station_again", "one_contact_counts_for", "through_repeaters",
    "within_party",
)  # fmt: skip


@frozen
class Found:
    """The section's facts."""

    facts: Facts

    def record(self, fact: str, subject: str) -> Mapping[str, Any] | None:
        """The record; None where there is none."""
        return self.facts[fact].get(subject)

    def value(self, fact: str, subject: str) -> Any:
        """The value; None where it is not known."""
        record = self.record(fact, subject)
        return None if record is None or record["reason"] is not None else record["value"]

    def minimum(self, claim: str) -> Any:
        """Contacts that the claim needs; None where its program does not say."""
        return self.value("program.minimum_contacts", program_of(claim))

    def wanted(self, claim: str) -> Any:
        """Contacts that the outing has to bring, where they are not counted by UTC day; None if not known."""
        return None if self.by_day(claim) else self.value("claim.contacts_wanted", claim)

    def said(self, claim: str) -> dict[str, Any]:
        """What the claim's program says of contacts, by the last part of the facts' names."""
        return {name: self.value(f"program.{name}", program_of(claim)) for name in PROGRAM}

    def by_day(self, claim: str) -> bool:
        """Whether its contacts are counted by UTC day; they are where the pack does not say."""
        return self.value("program.period", program_of(claim)) in (None, UTC_DAY)

    def days(self) -> Iterator[str]:
        """Dates of the UTC days that the outing touches, or may touch."""
        for day in self.facts["utc_day.touched"]:
            if self.value("utc_day.touched", day) is not False:
                yield day.removeprefix("utc_day:")


def program_of(claim: str) -> str:
    """The key of the claim's program."""
    return f"program:{claim.removeprefix('claim:').split('/', 1)[0]}"


def of_day(claim: str, date: str) -> str:
    """The key of the claim on a UTC day."""
    return f"claim_day:{claim.removeprefix('claim:')}/{date}"
