"""The JSON of the section on contacts; every word of it is made here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from afield.core.api import _, marked
from afield.plugins.contacts.counted import ALL_TIME
from afield.plugins.contacts.program_facts import UTC_DAY
from afield.plugins.contacts.section_words import (
    ASSUMPTIONS,
    chance_words,
    day_words,
    division_words,
    minutes_words,
    rate_words,
    rules_words,
    want_words,
)

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]
PROGRAM = (
    "period", "counted_for", "placed_by", "same_station_again", "one_contact_counts_for", "through_repeaters",
    "within_party",
)  # fmt: skip
WANTS = (
    "contacts.rate", "program.minimum_contacts", *(f"program.{name}" for name in PROGRAM), "claim.reference",
    "utc_day.touched", "claim_day.minutes_counted", "claim_day.chance_of_minimum", "claim_day.minutes_for_minimum",
    "claim.minutes_counted", "claim.contacts_wanted", "claim.chance_of_minimum", "claim.minutes_for_minimum",
    "claim.best_division",
)  # fmt: skip
ALREADY_STATED = ("outside validity", "cannot be computed")
"""Codes of reasons whose input is there, but is not such that an answer follows from it."""
STATE, CHANGE, NOTHING_SETTLES = (
    marked("Cannot tell: {why}. State `{input}`."), marked("Cannot tell: {why}. Change `{input}`."),
    marked("Cannot tell: {why}."),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
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


def contacts_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/contacts.json); None where no claimed program states a minimum."""
    found = Found(facts)
    counting = [claim for claim in facts["claim.reference"] if _minimum(found, claim) is not None]
    claims = list(_joined(_block(found, claim) for claim in counting))
    if not claims:
        return None
    rate = found.record("contacts.rate", "trip")
    known = rate is not None and rate["reason"] is None
    return {
        "rate": rate_words(rate["value"]) if rate and known else None,
        "rate_notes": list(rate.get("notes") or ()) if rate and known else [],
        "trouble": None if known or rate is None else _why(rate),
        "claims": claims,
        "assumptions": [_(line) for line in ASSUMPTIONS],
    }


def _program(claim: str) -> str:
    return f"program:{claim.removeprefix('claim:').split('/', 1)[0]}"


def _minimum(found: Found, claim: str) -> Any:
    return found.value("program.minimum_contacts", _program(claim))


def _block(found: Found, claim: str) -> dict[str, Any]:
    program = _program(claim)
    said = {name: found.value(f"program.{name}", program) for name in PROGRAM}
    by_day = said["period"] in (None, UTC_DAY)
    rows = list(_days(found, claim)) if by_day else [_row(found, "claim", claim, _("the outing"))]
    wanted = None if by_day else found.value("claim.contacts_wanted", claim)
    return {
        "title": claim.removeprefix("claim:").replace("/", " / ", 1),
        "wants": want_words(_minimum(found, claim), said, wanted),
        "rules": list(rules_words(said)),
        "rows": rows,
        "division": _division(found, claim) if by_day and len(rows) > 1 else None,
        "notes": _notes(found, claim, by_day),
    }


def _joined(blocks: Iterator[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """The blocks, those of references of which the same is said as one."""
    titles: dict[str, list[str]] = {}
    kept: dict[str, dict[str, Any]] = {}
    for block in blocks:
        same = repr({key: value for key, value in block.items() if key != "title"})
        titles.setdefault(same, []).append(block["title"])
        kept.setdefault(same, block)
    for same, block in kept.items():
        yield {**block, "title": ", ".join(titles[same])}


def _days(found: Found, claim: str) -> Iterator[dict[str, Any]]:
    """A row for each UTC day that the outing touches, or may touch."""
    for day in found.facts["utc_day.touched"]:
        if found.value("utc_day.touched", day) is not False:
            date = day.removeprefix("utc_day:")
            yield _row(found, "claim_day", f"claim_day:{claim.removeprefix('claim:')}/{date}", day_words(date))


def _row(found: Found, kind: str, subject: str, period: str) -> dict[str, Any]:
    chance = found.record(f"{kind}.chance_of_minimum", subject)
    known = chance is not None and chance["reason"] is None
    return {
        "period": period,
        "minutes": minutes_words(found.record(f"{kind}.minutes_counted", subject)),
        "chance": chance_words(chance) if chance and known else None,
        "percent": [chance[key] for key in ("low", "value", "high")] if chance and known else None,
        "needed": minutes_words(found.record(f"{kind}.minutes_for_minimum", subject)),
        "trouble": None if known or chance is None else _why(chance),
    }


def _division(found: Found, claim: str) -> str | None:
    best = found.value("claim.best_division", claim)
    return None if best is None else " ".join(division_words(best))


def _notes(found: Found, claim: str, by_day: bool) -> list[str]:
    """How the time is divided, and what was assumed for want of a statement."""
    kind = "claim_day" if by_day else "claim"
    time, chance = (_of_claim(found, f"{kind}.{name}", claim) for name in ("minutes_counted", "chance_of_minimum"))
    wanted = [] if by_day else _of_claim(found, "claim.contacts_wanted", claim)
    bases = [str(record["detail"]["basis"]) for record in time]
    shares = [_("The time that counts: {basis}.").format(basis=basis) for basis in bases if basis != _(ALL_TIME)]
    notes = [note for record in (*time, *chance, *wanted) for note in record.get("notes") or ()]
    return list(dict.fromkeys([*shares, *notes]))


def _of_claim(found: Found, fact: str, claim: str) -> list[Mapping[str, Any]]:
    """The known records of a fact of the claim, or of the claim on its UTC days."""
    local = claim.removeprefix("claim:")
    records = {subject.split(":", 1)[1]: record for subject, record in found.facts[fact].items()}
    mine = [record for name, record in records.items() if name == local or name.rsplit("/", 1)[0] == local]
    return [record for record in mine if record["reason"] is None]


def _why(record: Mapping[str, Any]) -> str:
    reason = record["reason"]
    words = CHANGE if reason["code"] in ALREADY_STATED else STATE
    return _(words if reason["settle"] else NOTHING_SETTLES).format(why=reason["text"], input=reason["settle"])
