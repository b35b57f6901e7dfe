"""JSON, SARIF and JUnit say what the text says, and are valid by their schemas."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from jsonschema import Draft4Validator, Draft202012Validator

from afield.core.authoring.lint.as_json import lint_json
from afield.core.authoring.lint.as_junit import lint_junit
from afield.core.authoring.lint.as_sarif import lint_sarif
from afield.core.authoring.lint.as_text import lint_text
from afield.core.authoring.lint.codes import CODES
from afield.core.host.composition import shipped_schema

from .conftest import Bench, spoiled
from .test_excusing import LATE, exception
from .xsd import Schema

DATA = Path(__file__).parents[4] / "tests" / "data"
SARIF = json.loads((DATA / "sarif" / "sarif-2.1.0-rtm.5.json").read_text(encoding="utf-8"))
JUNIT = Schema(DATA / "junit" / "junit-10.xsd")
FAULTY = '<testsuites><testsuite name="a" tests="1" failures="0" errors="0">{}</testsuite></testsuites>'


@pytest.fixture
def mixed(bench: Bench) -> Any:
    """A pack with findings of several severities and one that is kept."""
    ways = {way.name: way.edits for way in spoiled()}
    kept = exception(code="starts-late", limit="gap", reason="Nobody knows <any more> & says so.")
    return bench.edit([LATE, kept, *ways["assumption-cut"], *ways["case-wrong"]]).linted()


def test_json_fits_its_schema_and_says_it_all(mixed: Any) -> None:
    found = lint_json(mixed)
    Draft202012Validator(shipped_schema("lint"), format_checker=Draft202012Validator.FORMAT_CHECKER).validate(found)
    assert [entry["code"] for entry in found["findings"]] == [
        "case-wrong", "assumption-cut", "outcome-untried", "side-untried",
    ]  # fmt: skip
    assert found["findings"][3]["about"] == {"rule": "few", "limit": "few", "fact": None, "reference": None}
    assert found["kept"][0]["reason"] == "Nobody knows <any more> & says so."
    assert (found["counts"], found["exit_status"]) == ({"error": 1, "warning": 3, "note": 0}, 1)
    assert found["looked_at"]["cases"] == 12


def test_the_schema_of_the_json_is_closed_and_lists_the_codes(mixed: Any) -> None:
    schema = shipped_schema("lint")
    for name in ("findings", "kept"):
        assert schema["properties"][name]["items"]["properties"]["code"]["enum"] == list(CODES)
    for part in ("", "findings"):
        more = lint_json(mixed)
        (more[part][0] if part else more)["more"] = 1
        assert not Draft202012Validator(schema).is_valid(more)


def test_sarif_fits_the_public_schema(mixed: Any, tmp_path: Path) -> None:
    assert [error.message for error in Draft4Validator(SARIF).iter_errors(lint_sarif(mixed, tmp_path))] == []


def test_the_public_schema_of_sarif_refuses_what_is_wrong(mixed: Any, tmp_path: Path) -> None:
    for path, value in ((("level",), "fatal"), (("locations",), {}), (("message",), {})):
        wrong = lint_sarif(mixed, tmp_path)
        wrong["runs"][0]["results"][0][path[0]] = value
        assert not Draft4Validator(SARIF).is_valid(wrong)


def test_sarif_names_the_file_within_the_working_folder(mixed: Any, tmp_path: Path) -> None:
    (run,) = lint_sarif(mixed, tmp_path)["runs"]
    first, last = run["results"][0], run["results"][-1]
    assert first["locations"][0]["physicalLocation"] == {
        "artifactLocation": {"uri": "club/cases.yaml"}, "region": {"startLine": 41, "startColumn": 13},
    }  # fmt: skip
    assert run["tool"]["driver"]["rules"][first["ruleIndex"]]["id"] == first["ruleId"] == "case-wrong"
    assert (first["level"], "suppressions" in first) == ("error", False)
    assert last["suppressions"] == [{"kind": "inSource", "justification": "Nobody knows <any more> & says so."}]
    assert run["invocations"] == [{"executionSuccessful": True, "exitCode": 1}]


def test_sarif_calls_a_pack_from_elsewhere_as_messages_do(mixed: Any, tmp_path: Path) -> None:
    (run,) = lint_sarif(mixed, tmp_path / "elsewhere")["runs"]
    location = run["results"][0]["locations"][0]["physicalLocation"]
    assert location["artifactLocation"] == {"uri": "pack:club/cases.yaml"}


def test_sarif_names_files_from_within_the_pack_and_in_folders_of_it(bench: Bench, tmp_path: Path) -> None:
    (bench.folder / "a_list").mkdir()
    (bench.folder / "references.yaml").rename(bench.folder / "a_list" / "references.yaml")
    bench.edit([("pack.yaml", "references: references.yaml", "references: a_list/references.yaml")])
    bench.edit([("a_list/references.yaml", "last_checked: 2026-01-02", "last_checked: 2026-06-28")])
    linted = bench.linted()
    for root, uri in ((bench.folder, "a_list/references.yaml"), (tmp_path, "club/a_list/references.yaml")):
        ((result,),) = (run["results"] for run in lint_sarif(linted, root)["runs"])
        assert result["locations"][0]["physicalLocation"]["artifactLocation"] == {"uri": uri}


def test_a_note_fails_nothing(bench: Bench, tmp_path: Path) -> None:
    (edits,) = (way.edits for way in spoiled() if way.name == "source-uncited")
    linted = bench.edit(edits).linted()
    suite = ElementTree.fromstring(lint_junit(linted))[0]
    (case,) = (case for case in suite.findall("testcase") if "source-uncited" in case.attrib["name"])
    assert (suite.attrib["failures"], [child.tag for child in case], linted.exit_status) == ("0", ["system-out"], 0)
    assert [result["level"] for result in lint_sarif(linted, tmp_path)["runs"][0]["results"]] == ["note"]
    assert JUNIT.faults(lint_junit(linted)) == []


def test_junit_fits_the_public_schema(mixed: Any) -> None:
    assert JUNIT.faults(lint_junit(mixed)) == []


@pytest.mark.parametrize(
    ("inside", "fault"),
    [
        ("<testcase/>", "testcase lacks name"),
        ('<testcase name="a"><passed/></testcase>', "testcase may not hold ['passed']"),
        ('<testcase name="a" colour="red"/>', "testcase has no attribute colour"),
        ("<properties>text</properties>", "properties holds text"),
        ('<system-out name="a"/>', "system-out is text only"),
    ],
)
def test_the_validator_of_junit_refuses_what_is_wrong(inside: str, fault: str) -> None:
    assert JUNIT.faults(FAULTY.format(inside)) == [fault]
    assert JUNIT.faults(FAULTY.format('<testcase name="a"><failure type="b">c</failure></testcase>')) == []


def test_junit_counts_what_fails_and_what_is_skipped(mixed: Any) -> None:
    suite = ElementTree.fromstring(lint_junit(mixed))[0]
    cases = suite.findall("testcase")
    counted = {name: sum(case.find(name) is not None for case in cases) for name in ("failure", "skipped")}
    assert counted == {"failure": 4, "skipped": 1}
    assert {name: suite.attrib[name] for name in ("tests", "failures", "skipped", "errors")} == {
        "tests": str(len(cases)), "failures": "4", "skipped": "1", "errors": "0",
    }  # fmt: skip
    assert len(cases) == len(mixed.findings) + len(mixed.kept) + len(CODES) - 5
    assert [case.attrib["name"] for case in cases][:2] == [
        "case-wrong at pack:club/cases.yaml:41:13", "assumption-cut at pack:club/rules.yaml:9:36",
    ]  # fmt: skip


def test_a_whole_pack_is_a_report_of_passed_tests_that_tells_what_was_looked_at(bench: Bench) -> None:
    suite = ElementTree.fromstring(lint_junit(bench.linted()))[0]
    assert (suite.attrib["tests"], suite.attrib["failures"]) == (str(len(CODES)), "0")
    properties = {each.attrib["name"]: each.attrib["value"] for each in suite.iter("property")}
    assert properties == {
        "now": "2026-06-27", "rules": "3", "limits": "2", "facts": "2", "references": "1", "cases": "12", "days": "4",
    }  # fmt: skip


def test_text_shows_what_is_kept_and_counts(mixed: Any) -> None:
    lines = lint_text(mixed).splitlines()
    assert lines[-4:] == [
        "pack:club/rules.yaml:34:3: kept starts-late: the limit gap has no value before 2024-01-02, but the pack is in "
        "force on 2024-01-01",
        "    |   gap:",
        "    = Nobody knows <any more> & says so.",
        "club 1.0.0 on 2026-06-27: 1 error, 3 warnings and 0 notes, 1 finding kept with a reason; looked at 3 rules, "
        "2 limits, 2 facts, 1 reference, 12 cases and 5 days",
    ]


def test_a_character_that_xml_does_not_allow_is_shown_as_such(mixed: Any) -> None:
    first = replace(mixed.findings[0], what="a bell \x07 and a lone \ud800")
    written = lint_junit(replace(mixed, findings=[first]))
    assert JUNIT.faults(written) == []
    assert 'message="a bell � and a lone �"' in written


def test_every_format_is_the_same_twice(mixed: Any, tmp_path: Path) -> None:
    for make in (lint_json, lint_junit, lint_text, lambda found: lint_sarif(found, tmp_path)):
        assert make(mixed) == make(mixed)
