"""Every code: one way at least to provoke it, with the whole text, and a pack of which nothing is found."""

from __future__ import annotations

import re
from collections import Counter
from datetime import date
from typing import Any

import pytest

from afield.core.authoring.lint.codes import CODES, SEVERITIES

from .conftest import Spoiled, spoiled

WAYS = spoiled()


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.name)
def test_finds_exactly_this(bench: Any, way: Spoiled) -> None:
    linted = bench.edit(way.edits).linted()
    assert "\n".join(found.problem.text() for found in linted.findings) == way.text
    assert way.code in [found.code for found in linted.findings]
    assert linted.exit_status == (0 if CODES[way.code].severity == "note" else 1)
    for found in linted.findings:
        assert re.fullmatch(r"[A-Z].*\.", found.advice)
        assert not found.what.endswith(".")
        assert found.place.line > 0


def test_finds_nothing_in_a_whole_pack(bench: Any) -> None:
    linted = bench.linted()
    assert (linted.findings, linted.kept, linted.exit_status) == ([], [], 0)
    assert linted.looked_at == {"rules": 3, "limits": 2, "facts": 2, "references": 1, "cases": 12, "days": 4}


def test_every_code_is_provoked() -> None:
    assert {way.code for way in WAYS} == set(CODES)


def test_the_ways_have_names_of_their_own() -> None:
    assert max(Counter(way.name for way in WAYS).values()) == 1


def test_codes_are_lower_case_words_with_a_severity() -> None:
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", code) for code in CODES)
    assert {described.severity for described in CODES.values()} <= set(SEVERITIES)


def near_misses() -> list[tuple[str, list[Any], date]]:
    """Packs that come near a finding of the code without one."""
    now, rules = date(2026, 6, 27), "rules.yaml"
    checked = 'section: "4", edition: first, grade: invented, last_checked: 2026-01-02'
    source = ", source: {document: House rules, section: x, edition: first, grade: invented, last_checked: 2026-01-02}}"
    early = f"    - {{from: 2023-01-01, until: 2024-01-01, none: So.{source}\n"
    ten = '- {from: 2024-01-01, value: "10"'
    wide = (
        "  - id: wide\n    title: Wide\n    why: WHY\n    severity: note\n    for_each: claim\n    WHERE\n"
        "    require: {fact: wall.gap, at_most: 0.2 m}\n    assumes: [None.]\n    source: {document: House rules, "
        "section: x, edition: first, grade: invented, last_checked: 2026-01-02}\n\nlimits:\n"
    )
    return [
        ("source-stale", [(rules, checked, checked.replace("2026-01-02", "2025-06-27"))], now),
        ("source-ahead", [(rules, checked, checked.replace("2026-01-02", "2026-06-27"))], now),
        ("starts-late", [(rules, "  gap:\n", "  gap:\n" + early), (rules, "  few:\n", "  few:\n" + early),
                         ("pack.yaml", "- {from: 2024-01-01, value: red", "- {from: 2023-01-01, value: red")], now),
        ("lapsed", [(rules, ten, ten.replace("value", "until: 2026-06-28, value"))], now),
        ("will-lapse", [("references.yaml", "from: 2024-01-01", "from: 2024-01-01\n    until: 2027-06-28")], now),
        ("rules-contradict", [(rules, "limits:\n", wide.replace("WHY", "It is so; gap says the opposite."))], now),
        ("rules-contradict", [(rules, "limits:\n", wide.replace("WHERE", "where: {fact: room.floor, below: 1}"))], now),
        ("rules-contradict", [(rules, "limits:\n", wide.replace("WHERE", "until: 2024-01-01"))], now),
        ("rules-repeat", [(rules, "limits:\n", wide.replace("at_most: 0.2 m", "at_least: 0.6 m"))], now),
        ("limit-unused", [(rules, "at_most: {limit: few}", 'at_most: "10"')], now),
        ("fact-without-source", [("pack.yaml", "{limit: few}", "{limit: few} # its source is the limit's")], now),
    ]  # fmt: skip


@pytest.mark.parametrize(("code", "edits", "now"), near_misses())
def test_does_not_find_what_is_near_it(bench: Any, code: str, edits: list[Any], now: date) -> None:
    cleared = [(name, old, new.replace("    WHERE\n", "").replace("WHY", "It is so.")) for name, old, new in edits]
    assert code not in bench.edit(cleared).codes(now)


def test_a_source_of_a_value_that_has_ended_may_be_old(bench: Any) -> None:
    old = "{document: House rules, section: x, edition: first, grade: invented, last_checked: 2020-01-02}}"
    ended = f"  few:\n    - {{from: 2024-01-01, until: 2025-01-01, none: So., source: {old}\n"
    bench.edit(
        [("rules.yaml", "  few:\n", ended), ("rules.yaml", '2024-01-01, value: "10"', '2025-01-01, value: "10"')]
    )
    assert bench.codes() == []


def test_the_day_from_which_it_is_counted_matters(bench: Any) -> None:
    assert bench.codes(date(2027, 1, 2)) == []
    assert set(bench.codes(date(2027, 1, 3))) == {"source-stale"}
