"""A pack whose rules ask for verdicts of other packs: checked, explained, tried, proved, printed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from afield.core.host.composition import shipped_schema

from .conftest import Run

HEADER = """\
id: club
version: "1.0.0"
title: Club
publisher: nobody
licence: MIT
judges: trip
needs: [outing]
date_basis: local
review_every: 365 days
sources: [{document: Minutes, edition: "1", grade: invented}]
"""
SOURCE = 'source: {document: Minutes, section: "2", edition: "1", grade: invented, last_checked: 2026-05-02}'
RULES = f"""\
rules:
  - id: two-or-fuses
    title: Two go, or the fuses are packed
    why: Somebody must be able to mend it.
    severity: required
    for_each: trip
    assumes: [Two can help each other.]
    require: {{any: [{{fact: station.operators, at_least: 3}}, {{verdict: gear/spare-fuse, is: passed}}]}}
    {SOURCE}
  - id: some-count
    title: A claim in company is made
    why: The club wants one.
    severity: advised
    for_each: trip
    assumes: [The award means what it says.]
    require: {{count: claim, where: {{verdict: my-road/company, is: passed}}, at_least: 1}}
    {SOURCE}
"""
CASE = """\
cases:
  - name: packed
    rule: two-or-fuses
    date: 2026-06-27
    subjects: [{kind: trip, key: trip, facts: {station.operators: 1}, verdicts: {gear/spare-fuse: passed}}]
    expect: {outcome: passed}
  - name: not packed
    rule: two-or-fuses
    date: 2026-06-27
    subjects: [{kind: trip, key: trip, facts: {station.operators: 1}, verdicts: {gear/spare-fuse: failed}}]
    expect: {outcome: failed}
  - name: one in company
    rule: some-count
    date: 2026-06-27
    subjects: [{kind: trip, key: trip}, {kind: claim, key: "claim:my-road/a", verdicts: {my-road/company: passed}}]
    expect: {outcome: passed, margin: "0"}
"""
BLOCK = """\
  cannot tell     Two go, or the fuses are packed
                  cannot tell, due passed
                  because the verdict on gear/spare-fuse cannot be told: to be confirmed
                  to settle it: Confirm gear/spare-fuse in the plan: add it under `confirmed:`.
                  club/two-or-fuses, required; Minutes, section 2, edition 1 (invented, last checked 2026-05-02)
  passed          A claim in company is made
                  1, due at least 1: exactly at the limit
                  club/some-count, advised; Minutes, section 2, edition 1 (invented, last checked 2026-05-02)
"""
WHY = """\
cannot tell: Two go, or the fuses are packed (club/two-or-fuses, for Cinder Wash)
├─ why the rule is there: Somebody must be able to mend it.
├─ because the verdict on gear/spare-fuse cannot be told: to be confirmed
├─ number of operators: 2, due at least 3, 1 short (failed)
│  └─ station.operators of trip: 2 [computed]
│     └─ not stated: operator.class, operator.class
├─ the verdict on gear/spare-fuse: cannot tell, due passed (cannot tell)
│  └─ cannot tell: Spare fuses are in the bag (gear/spare-fuse, for Cinder Wash)
"""


@pytest.fixture
def club(base: Path) -> Path:
    """The base plan, judged by a club's pack too."""
    (base / "club").mkdir()
    for name, text in (("pack", HEADER), ("rules", RULES), ("cases", CASE)):
        (base / "club" / f"{name}.yaml").write_text(text, encoding="utf-8")
    plan = (base / "trip.yaml").read_text(encoding="utf-8")
    (base / "trip.yaml").write_text(plan.replace("packs: [my-list]", "packs: [club, my-list, gear]"), encoding="utf-8")
    return base


def test_check_judges_by_the_other_packs_verdict_and_says_what_settles_it(club: Path, run: Run) -> None:
    status, out, err = run("check", "trip.yaml")
    assert (status, err) == (3, "")
    assert BLOCK in out
    plan = (club / "trip.yaml").read_text(encoding="utf-8")
    done = plan.replace("confirmed: [", "confirmed: [gear/spare-fuse, ")
    (club / "trip.yaml").write_text(done, encoding="utf-8")
    assert run("check", "trip.yaml")[0] == 0


def test_why_shows_the_other_verdict_with_what_it_rests_on(club: Path, run: Run) -> None:
    status, out, _ = run("why", "trip.yaml", "two-or-fuses")
    assert (status, out[: len(WHY)]) == (0, WHY)
    assert (
        "│     ├─ why the rule is there: A fuse blows when leads are swapped in a hurry; a bridged fuse burns.\n" in out
    )


def test_why_shows_how_often_the_counted_verdicts_came(club: Path, run: Run) -> None:
    status, out, _ = run("why", "trip.yaml", "some-count")
    assert status == 0
    assert out.splitlines()[:4] == [
        "passed: A claim in company is made (club/some-count, for Cinder Wash)",
        "├─ why the rule is there: The club wants one.",
        "├─ the count of claim: 1, due at least 1, exactly at the limit (passed)",
        "│  └─ verdicts on Two operators go together (my-road/company): 1 passed",
    ]


def test_the_report_fits_its_schema(club: Path, run: Run) -> None:
    found = json.loads(run("check", "trip.yaml", "--format", "json")[1])
    assert list(Draft202012Validator(shipped_schema("report")).iter_errors(found)) == []
    leaf = next(verdict for verdict in found["verdicts"] if verdict["rule"] == "club/some-count")["leaves"][0]
    assert (leaf["verdict"], leaf["counted_by"]) == (None, ["my-road/company"])


def test_without_that_pack_it_says_what_to_name(club: Path, run: Run) -> None:
    plan = (club / "trip.yaml").read_text(encoding="utf-8").replace(", gear]", "]")
    (club / "trip.yaml").write_text(plan, encoding="utf-8")
    status, out, _ = run("check", "trip.yaml")
    assert status == 3
    told = "because the pack gear, whose verdict gear/spare-fuse is asked, judges nothing on this trip\n"
    assert told in out
    assert (
        "to settle it: Name the pack gear under `packs:`, or claim a reference of it if it judges a program.\n" in out
    )


def test_the_tools_for_packs_know_such_rules(club: Path, run: Run) -> None:
    assert run("pack", "test", "./club") == (0, "club 1.0.0: 3 cases right, 0 wrong\n", "")
    status, out, err = run("pack", "mutate", "./club")
    assert (status, err) == (1, "")
    assert (
        "      - {kind: trip, key: trip, facts: {station.operators: 3}, verdicts: {gear/spare-fuse: failed}}\n" in out
    )
    status, out, err = run("pack", "lint", "./club")
    assert (status in (0, 1), err) == (True, "")
    assert run("pack", "lock", "./club")[0] == 0
    assert run("pack", "lock", "./club", "--check") == (0, "club 1.0.0: every meaning is as locked\n", "")
    status, out, _ = run("pack", "rulebook", "./club", "--format", "text")
    assert status == 0
    assert 'or the verdict on "Spare fuses are in the bag (pack gear)" is passed' in " ".join(out.split())


def test_a_pack_that_asks_for_another_outcome_is_another_pack(club: Path, run: Run) -> None:
    (club / "new").mkdir()
    (club / "club").rename(club / "new" / "club")
    (club / "club").mkdir()
    for name, text in (("pack", HEADER), ("rules", RULES), ("cases", CASE)):
        (club / "club" / f"{name}.yaml").write_text(text, encoding="utf-8")
    loose = RULES.replace("gear/spare-fuse, is: passed", "gear/spare-fuse, one_of: [passed, not applicable]")
    (club / "new" / "club" / "rules.yaml").write_text(loose, encoding="utf-8")
    _, out, err = run("pack", "diff", "./club", "./new/club")
    assert err == ""
    assert "verdicts: {gear/spare-fuse: not applicable}}" in out
    assert "demands 2.0.0 or higher" in out
