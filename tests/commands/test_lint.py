"""`afield pack lint`: what it prints, what it writes, and how it ends."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from xml.etree import ElementTree

import pytest
from ruamel.yaml import YAML

from afield.core.cli import pack_lint
from afield.core.engine import Engine
from afield.core.host.hookspecs import hookimpl
from afield.core.host.loading import PluginInfo, installed_host

from .conftest import Run

ROOT = Path(__file__).parents[2]
NOW = ("--now", "2026-06-27")
LIST = """\
./my-list/pack.yaml:7:9: warning need-unused: the pack needs the plugin outing, but uses none of its facts or kinds
    | needs: [outing]
    = Take outing out of `needs:`.
./my-list/rules.yaml:1:1: error no-cases: the pack my-list has no cases, so that none of its rules was ever tried
    | rules:
    = Write cases.yaml beside rules.yaml; `afield schema cases` prints what goes into it.
./my-list/rules.yaml:9:24: warning source-undated: the source of the rule papers has no edition
    |     source: {document: Rules, section: "1", grade: invented, last_checked: 2026-05-02}
    = Write its `edition`: the edition, version or year of the text that was read.
./my-list/rules.yaml:17:24: warning source-undated: the source of the rule fuse has no edition
    |     source: {document: Rules, section: "2", grade: invented, last_checked: 2026-05-02}
    = Write its `edition`: the edition, version or year of the text that was read.
"""
SUMMARY = (
    "my-list 1.0.0 on 2026-06-27: 1 error, 3 warnings and 0 notes; looked at 2 rules, 0 limits, 0 facts, 0 references, "
    "0 cases and 2 days\n"
)


def test_prints_every_finding_and_what_it_looked_at(base: Path, run: Run) -> None:
    assert run("pack", "lint", "./my-list", *NOW) == (1, LIST + SUMMARY, "")


def test_a_clean_pack_ends_with_0_and_says_what_was_looked_at(run: Run) -> None:
    status, out, err = run("pack", "lint", "freight-road", "--now", "2026-11-28")
    assert (status, err) == (0, "")
    assert re.fullmatch(
        r"freight-road \d+\.\d+\.\d+ on 2026-11-28: 0 errors, 0 warnings and 0 notes; looked at [1-9]\d* rules, "
        r"[1-9]\d* limits, [1-9]\d* facts, 2 references, [1-9]\d* cases and 13 days\n",
        out,
    )


def test_a_warning_alone_ends_with_1(run: Run) -> None:
    status, out, _ = run("pack", "lint", "freight-road", "--now", "2027-05-03")
    assert status == 1
    assert {line.split()[1] for line in out.splitlines() if line.startswith("pack:")} == {"warning"}


def test_without_a_day_it_counts_from_today(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pack_lint, "date", SimpleNamespace(today=lambda: date(2026, 6, 27)))
    assert run("pack", "lint", "./my-list") == (1, LIST + SUMMARY, "")


@pytest.mark.parametrize("format", ["json", "sarif", "junit"])
def test_a_file_holds_what_would_be_printed(base: Path, run: Run, format: str) -> None:
    asked = ("pack", "lint", "./my-list", *NOW, "--format", format)
    status, printed, _ = run(*asked)
    assert run(*asked, "-o", "found") == (status, f"{SUMMARY}found is written\n", "")
    assert Path("found").read_text(encoding="utf-8") == printed
    assert run(*asked, "-o", "found")[0] == 2
    assert run(*asked, "-o", "found", "--force")[0] == status == 1


def test_the_formats_name_the_same_findings(base: Path, run: Run) -> None:
    found = {
        format: run("pack", "lint", "./my-list", *NOW, "--format", format)[1] for format in ("json", "sarif", "junit")
    }
    codes = [entry["code"] for entry in json.loads(found["json"])["findings"]]
    results = json.loads(found["sarif"])["runs"][0]["results"]
    failing = [
        case for case in ElementTree.fromstring(found["junit"]).iter("testcase") if case.find("failure") is not None
    ]
    assert codes == ["need-unused", "no-cases", "source-undated", "source-undated"]
    assert [result["ruleId"] for result in results] == codes
    assert [case.attrib["name"].split()[0] for case in failing] == codes
    uri = results[0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert (uri, Path(uri).is_file()) == ("my-list/pack.yaml", True)


def test_a_plugin_that_fails_is_named_and_ends_with_4(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken() -> Any:
        raise RuntimeError("out of order")

    def engine() -> Engine:
        host = installed_host()
        host.add(SimpleNamespace(afield_facts=hookimpl(broken)), PluginInfo("tide", "jetty", "1.0"))
        return Engine(host)

    monkeypatch.setattr(pack_lint, "Engine", engine)
    status, out, err = run("pack", "lint", "freight-road", "--now", "2026-11-28")
    assert (status, err) == (4, "failed: plugin tide (jetty 1.0) failed in afield_facts: RuntimeError: out of order\n")
    assert "0 errors" in out


def hooks() -> list[dict[str, Any]]:
    return list(YAML(typ="safe").load(ROOT / ".pre-commit-hooks.yaml"))


@pytest.mark.parametrize("hook", hooks(), ids=lambda hook: hook["id"])
def test_the_hooks_for_commits_run_commands_that_there_are(hook: dict[str, Any], run: Run) -> None:
    program, *command = hook["entry"].split()
    assert program == "afield"
    assert run(*command, "--help")[0] == 0
    assert run(*command, "freight-road")[0] in (0, 1)
    files = ("pack.yaml", "a/rules.yaml", "cases.yaml", "a/b/references.yaml")
    assert all(re.search(hook["files"], file) for file in files)
    assert not re.search(hook["files"], "trip.yaml")
    assert (hook["language"], hook["pass_filenames"]) == ("python", False)


def test_the_hooks_are_lint_and_test() -> None:
    assert [hook["entry"] for hook in hooks()] == ["afield pack lint", "afield pack test"]
