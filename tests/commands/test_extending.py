"""A club's pack that extends an installed one: checked, explained, tried by its cases, printed for the bag."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from .conftest import Run

HEADER = """\
id: {id}
extends: {base}
version: "1.0.0"
title: {id}
publisher: the club
licence: MIT
judges: {judges}
needs: []
date_basis: local
review_every: 365 days
sources: [{{document: Minutes, edition: "7", grade: invented}}]
"""
SOURCE = 'source: {document: Minutes, section: "3", grade: invented, last_checked: 2026-05-02}'
CORRIDOR = f"""\
limits:
  corridor:
    - {{from: 2024-01-01, value: "10", unit: m, {SOURCE}}}
"""
CASE = """\
cases:
  - name: {name}
    rule: in-corridor
    date: 2026-06-27
    subjects:
      - kind: claim
        key: claim:club-road/bridge
        facts: {{reference.kind: line, place.farthest_part_from_line: 15 m}}
    expect: {{outcome: {outcome}, margin: -5 m}}
"""


def write(folder: Path, name: str, base: str, judges: str, rules: str) -> Path:
    """A club's pack beside the plan."""
    pack = folder / name
    pack.mkdir()
    (pack / "pack.yaml").write_text(HEADER.format(id=name, base=base, judges=judges), encoding="utf-8")
    (pack / "rules.yaml").write_text(rules, encoding="utf-8")
    return pack


@pytest.fixture
def gear(base: Path) -> Path:
    """A plan judged by a club's pack that extends the installed pack gear."""
    changes = "changes: [{rule: chain-complete, severity: note, reason: The van carries leads.}]\n"
    write(base, "club-gear", "gear", "trip", changes)
    (base / "bag.yaml").write_text(
        "trip: A day out\ndate: 2026-06-27\npacks: [club-gear]\nstation: {at: {locator: DM19, accuracy: 5 km}}\n",
        encoding="utf-8",
    )
    return base


def rules_of(out: str) -> dict[str, str]:
    """Rule without its pack -> severity, of a report."""
    return {verdict["rule"].split("/")[1]: verdict["severity"] for verdict in json.loads(out)["verdicts"]}


def test_the_installed_gear_is_judged_under_the_clubs_name_but_for_one_severity(gear: Path, run: Run) -> None:
    _, out, err = run("check", "bag.yaml", "--format", "json")
    assert err == ""
    assert {verdict["rule"].split("/")[0] for verdict in json.loads(out)["verdicts"]} == {"club-gear"}
    plain = (gear / "bag.yaml").read_text(encoding="utf-8").replace("club-gear", "gear")
    (gear / "plain.yaml").write_text(plain, encoding="utf-8")
    before, after = rules_of(run("check", "plain.yaml", "--format", "json")[1]), rules_of(out)
    assert before.keys() == after.keys()
    assert {name for name in before if before[name] != after[name]} == {"chain-complete"}
    assert after["chain-complete"] == "note"


def test_why_and_the_briefing_say_whose_severity_it_is(gear: Path, run: Run) -> None:
    why = run("why", "bag.yaml", "chain-complete")[1]
    assert re.search(
        r"rule of gear \S+ at pack:gear/rules.yaml:\d+:5, note \(set at pack:club-gear/rules.yaml:1:11\)", why
    )
    assert run("brief", "bag.yaml")[0] == 0
    page = (gear / "briefing" / "briefing.html").read_text(encoding="utf-8")
    told = r"severity note set by club-gear 1\.0\.0 in place of required of gear \S+: The van carries leads\."
    assert re.search(told, page.replace("\u00a0", " "))
    assert re.search(r"The pack club-gear 1\.0\.0 extends gear \S+ \(the afield contributors, MIT, <code>", page)
    report = json.loads((gear / "briefing" / "report.json").read_text(encoding="utf-8"))
    assert report["run"]["packs"][0]["notice"].startswith("A reminder from common practice")


def test_a_new_severity_can_be_all_that_the_pack_holds_and_that_is_no_case(gear: Path, run: Run) -> None:
    status, out, _ = run("pack", "test", "./club-gear")
    assert status == 1
    assert re.fullmatch(
        r"club-gear 1\.0\.0, extending gear \S+: nothing ran: the pack has no cases\. Write some in cases\.yaml\.\n",
        out,
    )


def test_the_clubs_own_cases_run_on_the_merged_pack(base: Path, run: Run) -> None:
    pack = write(base, "club-road", "my-road", "program", CORRIDOR)
    (pack / "cases.yaml").write_text(CASE.format(name="15 m", outcome="failed"), encoding="utf-8")
    assert run("pack", "test", "./club-road") == (
        0,
        "club-road 1.0.0, extending my-road 1.0.0: 1 case right, 0 wrong\n",
        "",
    )
    (pack / "cases.yaml").write_text(CASE.format(name="15 m", outcome="passed"), encoding="utf-8")
    assert run("pack", "test", "club-road") == (
        1,
        "pack:club-road/cases.yaml:9:13: 15 m (in-corridor): expected passed, but it is failed\n"
        "club-road 1.0.0, extending my-road 1.0.0: 0 cases right, 1 wrong\n",
        "",
    )


def test_a_limit_of_the_clubs_that_no_case_tries_is_named(base: Path, run: Run) -> None:
    write(base, "club-road", "my-road", "program", CORRIDOR)
    assert run("pack", "test", "./club-road") == (
        1,
        "./club-road/rules.yaml:2:3: no case tries the limit corridor in the rule in-corridor\n"
        "club-road 1.0.0, extending my-road 1.0.0: nothing ran: the pack has no cases. Write some in cases.yaml.\n",
        "",
    )


def test_an_error_of_the_base_is_told_at_its_place(base: Path, run: Run) -> None:
    write(base, "club-road", "my-road", "program", CORRIDOR)
    rules = base / "my-road" / "rules.yaml"
    rules.write_text(
        rules.read_text(encoding="utf-8").replace("severity: advised", "severity: advized"), encoding="utf-8"
    )
    status, _, err = run("pack", "test", "./club-road")
    assert (status, err.splitlines()[0]) == (
        2, 'pack:my-road/rules.yaml:14:15: "advized" is not a choice for severity',
    )  # fmt: skip


def test_the_corridor_on_the_ground_is_the_clubs(base: Path, run: Run) -> None:
    write(base, "club-road", "my-road", "program", CORRIDOR)
    plan = (base / "trip.yaml").read_text(encoding="utf-8").replace("program: my-road", "program: club-road")
    (base / "trip.yaml").write_text(plan, encoding="utf-8")
    out = run("check", "trip.yaml")[1]
    assert "due at most 10 m (33 ft)" in out
    assert "with a tape measure; the limit of club-road 1.0.0 is 10 m (33 ft).\n" in out
    assert "note: limit corridor of 10 m set by club-road 1.0.0 in place of 80 ft of my-road 1.0.0\n" in out
    assert run("brief", "trip.yaml")[0] == 0
    assert "corridor 10 m" in (base / "briefing" / "briefing.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize(("name", "keys"), [("pack", {"extends"}), ("rules", {"changes", "limits", "rules"})])
def test_the_printed_schemas_know_the_keys(name: str, keys: set[str], run: Run) -> None:
    schema = json.loads(run("schema", name)[1])
    assert keys <= schema["properties"].keys()
    assert not keys & set(schema.get("required", ()))
    assert all({"title", "description", "x-example"} <= schema["properties"][key].keys() for key in keys)
