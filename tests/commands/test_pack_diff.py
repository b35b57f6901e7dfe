"""`afield pack diff` and `afield pack lock`: what changed, what version that demands, what may not drift."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from afield.core.host.composition import shipped_schema

from .conftest import Run

CLAIM = "{kind: claim, key: claim:my-road/cinder-crossing, facts: {reference.kind: line, "
LOOSER = f"""\
./new/my-road/rules.yaml:2:5: in-corridor: looser: in 16 of 601 judgings (1 case, 600 combinations of facts and days)
    = For example, this was failed (margin -5 ft) and is passed (margin 0 ft):
  - name: "in-corridor (looser)"
    rule: in-corridor
    date: 2026-06-27
    subjects:
      - {CLAIM}place.farthest_part_from_line: 85 ft}}}}
    expect: {{outcome: passed, margin: 0 ft}}
./new/my-road/rules.yaml:11:5: company: reworded: title
fact of the program program.corridor: changed; whether that is stricter or looser no case can tell
my-road 1.0.0 to 1.1.0: a major change, which demands 2.0.0 or higher (2 rules, 2 cases, 600 combinations)
    = The version does not say so: write 2.0.0 or higher.
"""


@pytest.fixture
def newer(base: Path) -> Path:
    """A second version of the pack, in a folder of its own."""
    folder = base / "new" / "my-road"
    shutil.copytree(base / "my-road", folder)
    return folder


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def version(folder: Path, new: str) -> None:
    edit(folder / "pack.yaml", 'version: "1.0.0"', f'version: "{new}"')


def loosened(folder: Path) -> None:
    edit(folder / "rules.yaml", 'value: "80"', 'value: "85"')
    edit(folder / "rules.yaml", 'value: "24.4"', 'value: "25.9"')


def test_a_looser_limit_is_shown_by_facts_that_pass_now(newer: Path, run: Run) -> None:
    loosened(newer)
    version(newer, "1.1.0")
    edit(newer / "rules.yaml", "Two operators go together", "Two people go together")
    assert run("pack", "diff", "my-road", "./new/my-road") == (0, LOOSER, "")


def test_the_example_is_a_case_that_the_newer_version_passes(newer: Path, run: Run) -> None:
    loosened(newer)
    edit(newer / "cases.yaml", "margin: 0 ft", "margin: 5 ft")
    out = run("pack", "diff", "my-road", "./new/my-road")[1]
    lines = [line for line in out.splitlines() if line.startswith("  ") and not line.startswith("    =")]
    cases = newer / "cases.yaml"
    cases.write_text(cases.read_text(encoding="utf-8") + "\n".join(lines) + "\n", encoding="utf-8")
    assert run("pack", "test", "./new/my-road")[:2] == (0, "my-road 1.0.0: 3 cases right, 0 wrong\n")


@pytest.mark.parametrize(("written", "status"), [("1.0.0", 1), ("1.0.1", 1), ("1.9.0", 1), ("2.0.0", 0)])
def test_ci_fails_on_what_is_looser_until_the_version_says_so(written: str, status: int, newer: Path, run: Run) -> None:
    loosened(newer)
    version(newer, written)
    assert run("pack", "diff", "my-road", "./new/my-road", "--fail-on-looser-unclaimed")[0] == status
    assert run("pack", "diff", "my-road", "./new/my-road")[0] == 0


def test_what_is_stricter_does_not_fail_and_demands_a_minor_version(newer: Path, run: Run) -> None:
    edit(newer / "rules.yaml", 'at_least: "2"', 'at_least: "3"')
    status, out, _ = run("pack", "diff", "my-road", "./new/my-road", "--fail-on-looser-unclaimed")
    assert status == 0
    assert "company: stricter: in " in out
    assert out.endswith("write 1.1.0 or higher.\n")


def test_a_version_that_goes_back(newer: Path, run: Run) -> None:
    version(newer, "0.9.0")
    assert run("pack", "diff", "my-road", "./new/my-road") == (
        0,
        "my-road 1.0.0 to 0.9.0: nothing changed (2 rules, 2 cases, 0 combinations)\n"
        "    = The version goes back: raise it above 1.0.0.\n",
        "",
    )


def test_rules_that_come_and_go(newer: Path, run: Run) -> None:
    edit(newer / "rules.yaml", "id: in-corridor", "id: near-the-road")
    edit(newer / "cases.yaml", "rule: in-corridor", "rule: near-the-road")
    out = run("pack", "diff", "my-road", "./new/my-road")[1]
    assert "./new/my-road/rules.yaml:2:5: near-the-road: added, required\n" in out
    assert "pack:my-road/rules.yaml:2:5: in-corridor: removed, required\n" in out
    assert "file cases.yaml: changed\n" in out
    assert "a major change, which demands 2.0.0 or higher" in out


def test_a_condition_written_otherwise_that_decides_alike(newer: Path, run: Run) -> None:
    edit(
        newer / "rules.yaml", "where: {fact: reference.kind, is: line}", "where: {fact: reference.kind, one_of: [line]}"
    )
    out = run("pack", "diff", "my-road", "./new/my-road")[1]
    assert "in-corridor: written otherwise, and judged alike in all of " in out
    assert out.endswith("    = The version does not say so: write 1.0.1 or higher.\n")


@pytest.mark.parametrize("change", ["loosened", "reworded", "none"])
def test_the_json_fits_its_schema(change: str, newer: Path, run: Run) -> None:
    if change == "loosened":
        loosened(newer)
    if change == "reworded":
        edit(newer / "rules.yaml", "Two operators go together", "Two people go together")
    record = json.loads(run("pack", "diff", "my-road", "./new/my-road", "--format", "json")[1])
    assert list(Draft202012Validator(shipped_schema("difference")).iter_errors(record)) == []
    assert record["demanded"] == {"loosened": "major", "reworded": "patch", "none": "none"}[change]


def test_a_lock_is_written_and_fits(base: Path, run: Run) -> None:
    assert run("pack", "lock", "my-list", "--check") == (
        1, "my-list 1.0.0: there is no lock. Write one with `afield pack lock`.\n", "",
    )  # fmt: skip
    assert run("pack", "lock", "./my-list") == (0, "my-list 1.0.0: 2 hashes written to ./my-list/rules.lock\n", "")
    assert run("pack", "lock", "my-list", "--check") == (0, "my-list 1.0.0: every meaning is as locked\n", "")


def test_wording_may_change_under_a_lock_and_meaning_may_not(base: Path, run: Run) -> None:
    run("pack", "lock", "my-list")
    rules = base / "my-list" / "rules.yaml"
    edit(rules, "The papers are in the bag", "All papers are in the bag")
    assert run("pack", "lock", "my-list", "--check")[0] == 0
    edit(rules, "severity: required", "severity: note")
    assert run("pack", "lock", "my-list", "--check") == (
        1,
        "my-list 1.0.0: rule papers means something else\n"
        "my-list 1.0.0: the version is still that of the lock. Raise it, then run `afield pack lock`.\n",
        "",
    )
    assert run("pack", "lock", "my-list")[0] == 2
    version(base / "my-list", "2.0.0")
    assert run("pack", "lock", "my-list", "--check") == (
        1,
        "my-list 2.0.0: rule papers means something else\n"
        "my-list 2.0.0: the lock is of another version. Run `afield pack lock`.\n",
        "",
    )
    assert run("pack", "lock", "my-list")[0] == 0
    assert run("pack", "lock", "my-list", "--check")[0] == 0


def test_a_lock_is_written_over_under_the_same_version_only_by_force(base: Path, run: Run) -> None:
    run("pack", "lock", "my-list")
    before = (base / "my-list" / "rules.lock").read_bytes()
    edit(base / "my-list" / "rules.yaml", "severity: required", "severity: note")
    assert run("pack", "lock", "my-list")[0] == 2
    assert (base / "my-list" / "rules.lock").read_bytes() == before
    assert run("pack", "lock", "my-list", "--force")[0] == 0
    assert (base / "my-list" / "rules.lock").read_bytes() != before


def test_a_club_is_told_when_the_pack_that_it_extends_changes_its_meaning(base: Path, run: Run) -> None:
    club = base / "club-list"
    club.mkdir()
    header = (base / "my-list" / "pack.yaml").read_text(encoding="utf-8")
    (club / "pack.yaml").write_text(header.replace("id: my-list", "id: club-list\nextends: my-list"), encoding="utf-8")
    change = "changes: [{rule: fuse, severity: note, reason: The van carries fuses.}]\n"
    (club / "rules.yaml").write_text(change, encoding="utf-8")
    assert run("pack", "lock", "club-list")[0] == 0
    edit(base / "my-list" / "rules.yaml", "severity: required", "severity: advised")
    status, out, _ = run("pack", "lock", "club-list", "--check")
    assert (status, out.splitlines()[0]) == (1, "club-list 1.0.0: rule papers means something else")
