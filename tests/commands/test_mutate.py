"""`afield pack mutate`: what survives is printed with the case that catches it, and the status says so."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from afield.core.cli import pack_mutate
from afield.core.host.composition import shipped_schema

from .conftest import Run

LIST_TEXT = """\
pack:my-list/rules.yaml:5:15: survives: rule papers: severity: required becomes advised
    = Add this case, which catches it:
  - name: "rule papers (severity: required becomes advised)"
    rule: papers
    date: 2026-01-01
    subjects:
      - {kind: trip, key: trip}
    expect: {outcome: cannot tell, reason: to be confirmed, severity: required}
pack:my-list/rules.yaml:13:15: survives: rule fuse: severity: advised becomes note
    = Add this case, which catches it:
  - name: "rule fuse (severity: advised becomes note)"
    rule: fuse
    date: 2026-01-01
    subjects:
      - {kind: trip, key: trip}
    expect: {outcome: cannot tell, reason: to be confirmed, severity: advised}
my-list 1.0.0: 2 changes: 0 caught by its 0 cases, 2 survive
"""


def pasted(out: str) -> str:
    """The lines of the cases that were printed."""
    return "".join(f"{line}\n" for line in out.splitlines() if line.startswith("  ") and not line.startswith("    ="))


def test_what_survives_is_printed_with_the_case_that_catches_it(base: Path, run: Run) -> None:
    assert run("pack", "mutate", "my-list") == (1, LIST_TEXT, "")


@pytest.mark.parametrize("name", ["my-road", "my-list", "my-basin"])
def test_what_is_printed_can_be_pasted_and_then_nothing_survives(name: str, base: Path, run: Run) -> None:
    status, out, err = run("pack", "mutate", name)
    assert (status, err) == (1, "")
    cases = base / name / "cases.yaml"
    before = cases.read_text(encoding="utf-8") if cases.is_file() else "cases:\n"
    cases.write_text(before + pasted(out), encoding="utf-8")
    assert run("pack", "test", name)[0] == 0
    status, out, _ = run("pack", "mutate", name)
    found = re.fullmatch(rf"{name} 1\.0\.0: (\d+) changes: (\d+) caught by its (\d+) cases, 0 survive\n", out)
    assert status == 0
    assert found is not None
    assert found[1] == found[2] != "0"


def test_a_case_that_catches_two_changes_is_printed_once(base: Path, run: Run) -> None:
    out = run("pack", "mutate", "my-road")[1]
    assert "    = The case for " in out
    names = re.findall(r"- name: (.*)", out)
    assert len(names) == len(set(names)) > 5


def test_a_written_reason_is_shown_and_ends_well(base: Path, run: Run) -> None:
    changes = [("papers", "severity: required becomes advised"), ("fuse", "severity: advised becomes note")]
    entries = [f'  - {{rule: {rule}, change: "{change}", reason: A list is a list.}}\n' for rule, change in changes]
    (base / "my-list" / "mutants.yaml").write_text("survivors:\n" + "".join(entries), encoding="utf-8")
    assert run("pack", "mutate", "my-list") == (
        0,
        "pack:my-list/rules.yaml:5:15: survives for a reason: rule papers: severity: required becomes advised: "
        "A list is a list.\n"
        "pack:my-list/rules.yaml:13:15: survives for a reason: rule fuse: severity: advised becomes note: "
        "A list is a list.\n"
        "my-list 1.0.0: 2 changes: 0 caught by its 0 cases, 2 survive, 2 of them for a written reason\n",
        "",
    )


def test_a_needless_reason_is_named_and_does_not_end_well(base: Path, run: Run) -> None:
    out = run("pack", "mutate", "my-list")[1]
    (base / "my-list" / "cases.yaml").write_text("cases:\n" + pasted(out), encoding="utf-8")
    entry = '  - {rule: papers, change: "severity: required becomes advised", reason: A list is a list.}\n'
    (base / "my-list" / "mutants.yaml").write_text("survivors:\n" + entry, encoding="utf-8")
    assert run("pack", "mutate", "my-list") == (
        1,
        "pack:my-list/mutants.yaml:2:5: this reason is for a change that does not survive: "
        "rule papers: severity: required becomes advised\n"
        "my-list 1.0.0: 2 changes: 2 caught by its 2 cases, 0 survive\n",
        "",
    )


def test_nothing_is_tried_by_wrong_cases(base: Path, run: Run) -> None:
    cases = base / "my-road" / "cases.yaml"
    cases.write_text(cases.read_text(encoding="utf-8").replace("outcome: passed", "outcome: failed"), encoding="utf-8")
    assert run("pack", "mutate", "my-road") == (
        1,
        "my-road 1.0.0: nothing was tried: 1 of its 2 cases come out wrong. `afield pack test` shows them.\n",
        "",
    )


def test_a_pack_that_writes_nothing_is_never_green(base: Path, run: Run) -> None:
    club = base / "club-list"
    club.mkdir()
    header = (base / "my-list" / "pack.yaml").read_text(encoding="utf-8")
    (club / "pack.yaml").write_text(header.replace("id: my-list", "id: club-list\nextends: my-list"), encoding="utf-8")
    (club / "rules.yaml").write_text("limits: {}\n", encoding="utf-8")
    status, out, _ = run("pack", "mutate", "./club-list")
    assert (status, out) == (
        1, "club-list 1.0.0: nothing was tried: the pack writes nothing that could be changed.\n",
    )  # fmt: skip


def test_what_no_case_could_catch_is_told_with_its_proof(base: Path, run: Run) -> None:
    rules = base / "my-list" / "rules.yaml"
    limit = 'limits:\n  spare:\n    - {from: 2024-01-01, value: "2", source: {document: Rules, section: "1", '
    limit += "grade: invented, last_checked: 2026-05-02}}\n"
    rules.write_text(rules.read_text(encoding="utf-8") + limit, encoding="utf-8")
    out = run("pack", "mutate", "my-list")[1]
    proof = "no rule and no fact of the program asks for it"
    assert f"no case could catch it: limit spare: 2 from 2024-01-01 becomes 3: {proof}\n" in out
    assert out.endswith("6 changes: 0 caught by its 0 cases, 4 that no case could catch, 2 survive\n")


@pytest.mark.parametrize("name", ["my-road", "my-list", "gear"])
def test_the_json_fits_its_schema_and_counts_right(name: str, base: Path, run: Run) -> None:
    status, out, _ = run("pack", "mutate", name, "--format", "json")
    record = json.loads(out)
    assert list(Draft202012Validator(shipped_schema("mutation")).iter_errors(record)) == []
    assert record["exit_status"] == status
    counts = record["counts"]
    assert counts["caught"] + counts["equivalent"] + counts["survived"] == counts["changes"] == len(record["changes"])


def test_progress_is_shown_on_a_terminal_and_nowhere_else(
    base: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pack_mutate.sys.stderr, "isatty", lambda: True, raising=False)
    shown = []
    with pack_mutate.progress_shown() as progress:
        progress(1, 2)
        shown.append(progress)
    assert shown[0].__qualname__.startswith("progress_shown")
    monkeypatch.setattr(pack_mutate.sys.stderr, "isatty", lambda: False, raising=False)
    assert run("pack", "mutate", "my-list")[2] == ""


def test_a_club_tries_its_own_limit_in_the_rules_that_it_takes_over(base: Path, run: Run) -> None:
    club = base / "club-road"
    club.mkdir()
    header = (base / "my-list" / "pack.yaml").read_text(encoding="utf-8")
    header = header.replace("id: my-list", "id: club-road\nextends: my-road").replace("judges: trip", "judges: program")
    (club / "pack.yaml").write_text(header, encoding="utf-8")
    source = '{document: Minutes, section: "3", grade: invented, last_checked: 2026-05-02}'
    limit = f'limits:\n  corridor: [{{from: 2024-01-01, value: "10", unit: m, source: {source}}}]\n'
    (club / "rules.yaml").write_text(limit, encoding="utf-8")
    status, out, _ = run("pack", "mutate", "./club-road")
    assert status == 1
    assert "limit corridor: 10 m from 2024-01-01 becomes 11 m" in out
    assert "rule company" not in out
    (club / "cases.yaml").write_text("cases:\n" + pasted(out), encoding="utf-8")
    status, out, _ = run("pack", "mutate", "./club-road")
    assert (status, out.split(",")[-1]) == (0, " 0 survive\n")
