"""A pack that extends another: what it takes over is tried where its own limits judge, and swept over all days."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from .conftest import Bench

PACK = """\
id: region
extends: ./club
version: "1.0.0"
title: Region
publisher: the region
licence: MIT
judges: program
needs: []
date_basis: local
review_every: 30 days
sources: [{document: Minutes, edition: "7", grade: invented}]
"""
SOURCE = 'source: {document: Minutes, section: "3", edition: "7", grade: invented, last_checked: 2026-06-20}'
CHANGES = "changes: [{rule: lamp, severity: advised, reason: The region pays for the current.}]\n"
LIMIT = f'limits:\n  few:\n    - {{from: 2024-01-01, value: "5", {SOURCE}}}\n'
CASE = """\
  - name: {books} books
    rule: few
    date: 2026-06-27
    subjects: [{{kind: trip, key: trip, facts: {{trip.books: {books}}}}}, {{kind: claim, key: claim:region/attic}}]
    expect: {{outcome: {outcome}}}
"""


def region(bench: Bench, rules: str, cases: str = "", pack: str = PACK) -> Any:
    """What is found in a pack that extends the club's."""
    folder = bench.folder.parent / "region"
    folder.mkdir()
    for name, text in (("pack.yaml", pack), ("rules.yaml", rules), ("cases.yaml", cases and f"cases:\n{cases}")):
        if text:
            (folder / name).write_text(text, encoding="utf-8")
    return bench.linted(folder=folder)


def found(linted: Any) -> list[tuple[str, str]]:
    return [(each.code, str(each.place)) for each in linted.findings]


def test_changes_alone_need_no_cases(bench: Bench) -> None:
    linted = region(bench, CHANGES)
    assert found(linted) == [("source-uncited", "pack:region/pack.yaml:11:11")]
    assert (linted.looked_at["rules"], linted.exit_status) == (3, 0)


def test_a_limit_of_its_own_must_be_tried(bench: Bench) -> None:
    assert found(region(bench, LIMIT)) == [("no-cases", "pack:region/rules.yaml:1:1")]


def test_a_limit_of_its_own_must_be_tried_on_every_side(bench: Bench) -> None:
    linted = region(bench, LIMIT, CASE.format(books=4, outcome="passed") + CASE.format(books=6, outcome="failed"))
    assert [each.problem.text() for each in linted.findings] == [
        "pack:region/rules.yaml:3:7: warning side-untried: no case tries the rule few at the 5 of few "
        "(from 2024-01-01)\n"
        f'    |     - {{from: 2024-01-01, value: "5", {SOURCE}}}\n'
        "    = Add a case in which number of books is exactly 5 (margin of 0)."
    ]


def test_nothing_is_found_where_every_side_is_tried(bench: Bench) -> None:
    tried = ((4, "passed"), (5, "passed"), (6, "failed"))
    linted = region(bench, LIMIT, "".join(CASE.format(books=books, outcome=outcome) for books, outcome in tried))
    assert (found(linted), linted.exit_status) == ([], 0)


def test_what_lapses_in_the_base_lapses_in_the_pack(bench: Bench) -> None:
    bench.edit([("rules.yaml", '2024-01-01, value: "0.5"', '2024-01-01, until: 2026-01-01, value: "0.5"')])
    assert ("lapsed", "pack:club/rules.yaml:34:3") in found(region(bench, CHANGES))


def test_what_the_base_excuses_stays_excused(bench: Bench) -> None:
    bench.edit([("rules.yaml", "  gap:\n    - {from: 2024-01-01", "  gap:\n    - {from: 2024-01-02")])
    written = "\nlint: [{code: starts-late, limit: gap, reason: Nobody knows.}]"
    bench.edit([("pack.yaml", "references: references.yaml", "references: references.yaml" + written)])
    linted = region(bench, CHANGES)
    assert [kept.reason for kept in linted.kept] == ["Nobody knows."]
    assert "starts-late" not in [code for code, _ in found(linted)]


def test_sources_of_the_base_are_reviewed_as_often_as_the_base_says(bench: Bench) -> None:
    stale = [place for code, place in found(region(bench, CHANGES)) if code == "source-stale"]
    assert stale == []
    bench.edit([("pack.yaml", "365 days", "100 days")])
    shutil.rmtree(Path(bench.folder.parent / "region"))
    assert len([code for code, _ in found(region(bench, CHANGES)) if code == "source-stale"]) == 7
