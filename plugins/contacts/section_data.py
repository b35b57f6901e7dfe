"""The JSON of the section on contacts; every word of it is made here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import _, marked
from afield.plugins.contacts.counted import ALL_TIME
from afield.plugins.contacts.due import headline, needs, tallies
from afield.plugins.contacts.found import PROGRAM, Facts, Found, of_day
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

WANTS = (
    "contacts.rate", "program.minimum_contacts", *(f"program.{name}" for name in PROGRAM), "claim.reference",
    "program.tallies", "utc_day.touched", "claim_day.minutes_counted", "claim_day.chance_of_minimum",
    "claim_day.minutes_for_minimum", "claim.minutes_counted", "claim.contacts_wanted", "claim.chance_of_minimum",
    "claim.minutes_for_minimum",
    "claim.best_division",
)  # fmt: skip
ALREADY_STATED = ("outside validity", "cannot be computed")
"""Codes of reasons whose input is there, but is not such that an answer follows from it."""
STATE, CHANGE, NOTHING_SETTLES = (
    marked("Cannot tell: {why}. State `{input}`."), marked("Cannot tell: {why}. Change `{input}`."),
    marked("Cannot tell: {why}."),
)  # fmt: skip


def contacts_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/contacts.json); None where no claimed program states a minimum."""
    found = Found(facts)
    counting = [claim for claim in facts["claim.reference"] if found.minimum(claim) is not None]
    claims = list(_joined(_block(found, claim) for claim in counting))
    if not claims:
        return None
    rate = found.record("contacts.rate", "trip")
    known = rate is not None and rate["reason"] is None
    return {
        "headline": headline(list(needs(found, counting))),
        "rate": rate_words(rate["value"]) if rate and known else None,
        "rate_notes": list(rate.get("notes") or ()) if rate and known else [],
        "trouble": None if known or rate is None else _why(rate),
        "claims": claims,
        "assumptions": [_(line) for line in ASSUMPTIONS],
    }


def _block(found: Found, claim: str) -> dict[str, Any]:
    by_day, said = found.by_day(claim), found.said(claim)
    rows = list(_days(found, claim)) if by_day else [_row(found, "claim", claim, _("the outing"))]
    return {
        "title": claim.removeprefix("claim:").replace("/", " / ", 1),
        "wants": want_words(found.minimum(claim), said, found.wanted(claim)),
        "rules": list(rules_words(said)),
        "rows": rows,
        "division": _division(found, claim) if by_day and len(rows) > 1 else None,
        "notes": _notes(found, claim, by_day),
        "tally": list(tallies(found, claim)),
    }


def _joined(blocks: Iterator[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """The blocks, those of references of which the same is said as one, with each line of boxes once."""
    kept: dict[str, list[dict[str, Any]]] = {}
    for block in blocks:
        same = repr({key: value for key, value in block.items() if key not in ("title", "tally")})
        kept.setdefault(same, []).append(block)
    for blocks_of_one in kept.values():
        lines = {line["label"]: line for block in blocks_of_one for line in block["tally"]}
        title = ", ".join(block["title"] for block in blocks_of_one)
        yield {**blocks_of_one[0], "title": title, "tally": list(lines.values())}


def _days(found: Found, claim: str) -> Iterator[dict[str, Any]]:
    """A row for each UTC day that the outing touches, or may touch."""
    for date in found.days():
        yield _row(found, "claim_day", of_day(claim, date), day_words(date))


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
