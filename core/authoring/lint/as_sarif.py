"""What was found as SARIF 2.1.0 (OASIS Standard, 27 March 2020), which code review tools read."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from urllib.parse import quote

from afield.core import __version__
from afield.core.authoring.lint.build import Linted
from afield.core.authoring.lint.codes import CODES
from afield.core.authoring.lint.findings import Finding

Json = dict[str, Any]
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"


def lint_sarif(linted: Linted, root: Path) -> Json:
    """A log of one run; exceptions are suppressed results (section 3.35), with their reasons.

    Args:
        linted: what was found.
        root: places inside this folder are named relative to it.

    """
    folders = {pack.shown: _relative(pack.folder, root) or pack.shown for pack in linted.pack.lineage()}
    results = [_result(found, folders) for found in linted.findings]
    for kept in linted.kept:
        suppression = {"kind": "inSource", "justification": kept.reason}
        results.append({**_result(kept.finding, folders), "suppressions": [suppression]})
    run = {
        "tool": {"driver": {"name": "afield", "version": __version__, "rules": [_rule(code) for code in CODES]}},
        "columnKind": "unicodeCodePoints",
        "invocations": [{"executionSuccessful": True, "exitCode": linted.exit_status}],
        "results": results,
        "properties": {"pack": str(linted.pack.name), "now": linted.now.isoformat(), "lookedAt": linted.looked_at},
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(code: str) -> Json:
    """A reportingDescriptor (section 3.49)."""
    described = CODES[code]
    return {
        "id": code,
        "shortDescription": {"text": f"{described.title}."},
        "defaultConfiguration": {"level": described.severity},
    }


def _result(found: Finding, folders: dict[str, str]) -> Json:
    """A result (section 3.27); our severities are its levels."""
    location: Json = {"artifactLocation": {"uri": _uri(found.place.file, folders)}}
    if found.place.line:
        location["region"] = {"startLine": found.place.line, "startColumn": found.place.column}
    return {
        "ruleId": found.code,
        "ruleIndex": list(CODES).index(found.code),
        "level": found.severity,
        "message": {"text": f"{found.what}. {found.advice}"},
        "locations": [{"physicalLocation": location}],
    }


def _uri(file: str, folders: dict[str, str]) -> str:
    """The file as seen from the root, percent-encoded (section 3.4.3); as messages name it where it lies elsewhere."""
    shown = next((shown for shown in folders if file.startswith(f"{shown}/")), None)
    path = f"{folders[shown]}/{file.removeprefix(f'{shown}/')}" if shown is not None else file
    return quote(path.removeprefix("./"), safe="/:")


def _relative(folder: Path, root: Path) -> str | None:
    """The folder as seen from the root; None where it lies elsewhere."""
    resolved, base = folder.resolve(), root.resolve()
    return resolved.relative_to(base).as_posix() if resolved.is_relative_to(base) else None
