"""Written exceptions: each excuses what it names, is shown with its reason, and must be of use."""

from __future__ import annotations

import json
from typing import Any

import pytest

from afield.core.authoring.lint.codes import CODES
from afield.core.documents import InputError
from afield.core.host.composition import shipped_schema

LATE = ("rules.yaml", "  gap:\n    - {from: 2024-01-01", "  gap:\n    - {from: 2024-01-02")


def exception(**entry: str) -> tuple[str, str, str]:
    return ("pack.yaml", "references: references.yaml", f"references: references.yaml\nlint: [{json.dumps(entry)}]")


def test_an_exception_keeps_the_finding_with_its_reason(bench: Any) -> None:
    edits = [LATE, exception(code="starts-late", limit="gap", reason="Nobody knows.")]
    linted = bench.edit(edits).linted()
    assert (linted.findings, linted.exit_status) == ([], 0)
    assert [(kept.finding.code, kept.finding.about, kept.reason) for kept in linted.kept] == [
        ("starts-late", {"limit": "gap"}, "Nobody knows.")
    ]


@pytest.mark.parametrize(
    "entry",
    [
        {"code": "starts-late", "limit": "few"},
        {"code": "starts-late", "rule": "gap"},
        {"code": "starts-late"},
        {"code": "will-lapse", "limit": "gap"},
    ],
)
def test_an_exception_of_something_else_excuses_nothing_and_is_found(bench: Any, entry: dict[str, str]) -> None:
    linted = bench.edit([LATE, exception(**entry, reason="So.")]).linted()
    assert [found.code for found in linted.findings] == ["exception-unused", "starts-late"]
    assert linted.kept == []


def test_an_exception_may_name_rule_and_limit(bench: Any) -> None:
    less = ("cases.yaml", "value: 0.5 m", "value: 0.55 m")
    linted = bench.edit([less, exception(code="side-untried", rule="gap", limit="gap", reason="So.")]).linted()
    assert (linted.findings, len(linted.kept)) == ([], 1)


@pytest.mark.parametrize("code", [code for code, described in CODES.items() if not described.excusable])
def test_what_would_hide_that_nothing_was_tried_cannot_be_excused(bench: Any, code: str) -> None:
    bench.edit([exception(code=code, reason="So.")])
    with pytest.raises(InputError, match=code):
        bench.linted()


def test_the_schema_of_a_pack_lists_the_codes_that_can_be_excused() -> None:
    listed = shipped_schema("pack")["properties"]["lint"]["items"]["properties"]["code"]["enum"]
    assert listed == [code for code, described in CODES.items() if described.excusable]
