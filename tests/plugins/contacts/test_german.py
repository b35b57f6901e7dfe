"""The section on contacts in German: no sentence without a translation, commas, days, and whole lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from afield.core.briefing.page import _section_html
from afield.core.engine import Engine
from afield.core.language import grouped, missing, speaking
from afield.core.testing.catalogues import sentences
from afield.plugins import contacts
from afield.plugins.contacts.comparing import expected_words
from afield.plugins.contacts.plain import contacts_text
from afield.plugins.contacts.section import sections

from .test_section import BARE, TWO, data_of

WorldOf = Callable[..., Any]
BY_DAY = "program.minimum_contacts: 14, program.period: UTC day, program.counted_for: station call"
YEAR = "program.minimum_contacts: 23, program.period: calendar year, program.counted_for: operator"
ALL_RULES = (
    "program.placed_by: start, program.same_station_again: per band, program.one_contact_counts_for: one reference, "
    "program.through_repeaters: true, program.within_party: false"
)
NAMED = f"""\
{BARE}, mode: SSB, slots: [{{name: a, from: "15:30", to: "18:00", operator: Ann}},
{{name: b, from: "18:00", to: "20:30", operator: Ben}}]"""
OPERATORS = "operators: [{name: Ann}, {name: Ben}]\n"


OWN = {each if isinstance(each, str) else each[0] for each in sentences(Path(contacts.__file__).parent)}
"""What the plugin itself says; names and words of others may pass through as they are."""


@pytest.fixture(autouse=True)
def german() -> Iterator[None]:
    """German, with the catalogues of all plugins; at the end nothing may have lacked a translation."""
    Engine()
    with speaking("de"):
        yield
        assert not missing() & OWN


def shown(world: Any) -> tuple[Any, str, str]:
    """The section's data, its text and its page."""
    data = data_of(world)
    return data, contacts_text(data), str(_section_html(sections()[0], data))


def test_the_lines_of_a_program_by_utc_day(world_of: WorldOf) -> None:
    data, text, page = shown(world_of(BY_DAY))
    assert data["headline"] == "Nötige Verbindungen: Hilltop 14 an einem UTC-Tag"
    assert data["rate"] == ("20 Verbindungen je Stunde sind zu erwarten, 3 bis 70 (95 %); übliche Praxis, ohne Quelle.")
    assert "  28. Juni UTC: 210 min zählen, Wahrscheinlichkeit 94 % (17 % bis über 99 %); 161 min (17 bis 380)" in text
    assert "Das passt nicht in den Plan: die Ankunft ist um 14:45 (21:45Z) und die Abfahrt ist um 21:15" in text
    assert '<th scope="col">Für 9 von 10 Fällen</th>' in page
    assert 'aria-label="Wahrscheinlichkeit der Mindestzahl. one, 27. Juni UTC: 76 % (unter 1 % bis über 99 %)' in page
    assert "an den Enden des Intervalls der Rate (95 %)." in page


@pytest.mark.parametrize(
    ("program", "claims", "schedule", "more", "told"),
    [
        (f"{YEAR}, {ALL_RULES}", TWO, NAMED, OPERATORS, "Die Zeit, die zählt: die Zeitfenster des Operators "),
        (YEAR, TWO, f"{BARE}, mode: SSB", OPERATORS, 'zu gleichen Teilen auf die Operatoren "Ann", "Ben" verteilt.'),
        (BY_DAY, TWO, BARE, "", "Nicht entscheidbar: weder frühere Zählungen noch die Betriebsart sind angegeben."),
        (BY_DAY, TWO, f"{BARE}, mode: phone", "", "Nicht entscheidbar: wie viele Verbindungen in phone zu erwarten "),
        ("program.minimum_contacts: 40, program.period: outing", TWO, NAMED, "", "Mehr, als 30 Kästchen fassen: im "),
        ("program.minimum_contacts: 14", TWO, NAMED, "", "ein UTC-Tag wird angenommen."),
    ],
)
def test_whatever_is_said_is_said_in_german(
    world_of: WorldOf, program: str, claims: str, schedule: str, more: str, told: str
) -> None:
    _data, text, page = shown(world_of(program, more, claims=claims, schedule=schedule))
    assert told in text
    assert not {"the", "of", "contacts", "is"} & set(f"{text} {page}".split())


def test_what_logs_tell_is_said_in_german(world_of: WorldOf, tmp_path: Path) -> None:
    times = "".join(f"<QSO_DATE:8>20260601<TIME_ON:4>{time}<MODE:3>SSB<EOR>" for time in (1800, 1810, 2200))
    (tmp_path / "june.adi").write_text(times)
    twice = "contacts: {earlier: [{log: june.adi}, {log: june.adi}]}\n"
    data, _text, _page = shown(world_of(BY_DAY, twice))
    assert data["rate"] == (
        "7,5 Verbindungen je Stunde sind zu erwarten, 1,2 bis 19 (95 %); eigene Zählungen: 2 Verbindungen in 20 min "
        "aus 1 Ausflug; Jeffreys-Prior."
    )
    assert data["rate_notes"][0].startswith("june.adi: 2 Verbindungen in 1 Serie, 20 min in SSB. Verbindungen, deren ")
    assert data["rate_notes"][1:] == [
        "june.adi: 1 Verbindung weggelassen, die keine Zeit ergibt (allein, oder alle in einer Minute begonnen); die "
        "Rate fällt dadurch höher aus",
        "june.adi zählt nichts: es hat keine Serie von zwei oder mehr Verbindungen in SSB, die in keinem früheren Log "
        "stehen",
        "june.adi: 3 Einträge weggelassen, die dort oder in einem Log davor schon standen",
    ]


def test_the_refusals_of_the_other_period_are_in_german(world_of: WorldOf) -> None:
    claim, day = "claim:hilltop/one", "claim_day:hilltop/one/2026-06-27"
    world = world_of(BY_DAY)
    assert world.value(claim, "claim.chance_of_minimum").reason.text == (
        "das Programm zählt seine Verbindungen je UTC-Tag, nicht über den Ausflug"
    )
    world = world_of(YEAR)
    assert world.value(day, "claim_day.chance_of_minimum").reason.text == (
        "das Programm zählt seine Verbindungen je Kalenderjahr, nicht je UTC-Tag"
    )
    assert world.value(claim, "claim.minutes_for_minimum").method == (
        "Wahrscheinlichkeit 0,9; übliche Praxis, ohne Quelle"
    )


def test_numbers_are_written_as_in_german() -> None:
    record = {"value": 30.0, "low": 6.0, "high": 90.4, "detail": {"basis": "übliche Praxis, ohne Quelle"}}
    assert expected_words(record) == "30 (6 bis 90)\nübliche Praxis, ohne Quelle"
    assert (grouped(2880), grouped(12345)) == ("2880", "12\N{NO-BREAK SPACE}345")
    with speaking("en"):
        assert grouped(2880) == "2,880"
