"""Reasons, waivers and warnings in another language: their words are looked up, what programs read is not."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from afield.core.language import speaking

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": "0.5 m"}}
DRY = {"id": "dry", "require": {"fact": "wall.damp", "is": False}}
TICK = {"id": "tick", "confirm": "Look twice.", "when": "home"}
LATER = {"id": "later", "require": {"fact": "wall.gap", "at_least": "0.5 m"}, "from": "2027-01-01"}
BOOKS = {"id": "books", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": "10"}}
OLD = {
    "id": "old", "require": {"fact": "wall.gap", "at_least": "0.1 m"},
    "source": {"document": "Rules", "section": "1", "grade": "invented", "last_checked": "2020-01-02"},
}  # fmt: skip
NARROW = {"wall": {"height": "3 m"}, "ladder": {"length": "2.9 m"}}
DATA = {"code", "settle", "outcome", "severity", "rule", "subject", "standing", "place", "kind", "fact"}


@pytest.fixture
def marked(marks: Any) -> Any:
    marks.mark("packs", "facts", "report", words=["height of the wall", "shelf"])
    return marks


def both(house: Any, language: str, **more: Any) -> tuple[Any, Any]:
    """The report in English, and in the language."""
    english = house.report(**more)
    with speaking(language):
        return english, house.report(**more)


def waiver(rule: str, until: str, **more: str) -> dict[str, str]:
    return {"rule": rule, "reason": "The house is sold.", "granted_by": "the landlord", "until": until, **more}


def test_the_words_of_reasons_are_looked_up_and_their_codes_are_not(house: Any, marked: Any) -> None:
    house.pack(GAP, DRY, TICK, LATER, BOOKS)
    english, other = both(house, marked.language)
    assert [(one["reason"]["code"], one["reason"]["text"]) for one in other["verdicts"]] == [
        ("missing input", "««height of the wall» is not stated»"),
        ("not stated", "«dampness is not stated»"),
        ("to be confirmed", "«to be confirmed»"),
        ("no value in force", "«the rule is not in force on 2026-06-27»"),
        ("applicability", "«the plan has no «shelf» that it could be judged for»"),
    ]
    told = [one["reason"]["text"] for one in english["verdicts"]]
    assert [marked.off(one["reason"]["text"]) for one in other["verdicts"]] == told
    assert list(marked.leaves(other, DATA)) == list(marked.leaves(english, DATA))


def test_waivers_and_what_is_old_are_said_in_the_language(house: Any, marked: Any) -> None:
    house.pack(GAP, DRY, OLD)
    waivers = [waiver("tidy/gap", "2026-12-31", **{"from": "2026-01-01"}), waiver("tidy/dry", "2026-01-31")]
    english, other = both(house, marked.language, **NARROW, waivers=waivers, now=date(2026, 6, 20))
    said = "«waived from 2026-01-01 until 2026-12-31 by the landlord: The house is sold.»"
    assert other["verdicts"][0]["waived"]["words"] == said
    assert [entry["words"] for entry in other["waivers"]] == [
        "tidy/gap: «applies». The house is sold. «Granted by the landlord, in force from 2026-01-01 until 2026-12-31.»",
        "tidy/dry: «not in force». The house is sold. «Granted by the landlord, in force until 2026-01-31.»",
    ]
    told = [(marked.off(warning["what"]), marked.off(warning["do"])) for warning in other["warnings"]]
    assert told == [(warning["what"], warning["do"]) for warning in english["warnings"]]
    assert len(told) == 2
    assert all("«" in warning["what"] and "«" in warning["do"] for warning in other["warnings"])
    assert list(marked.leaves(other, DATA)) == list(marked.leaves(english, DATA))
