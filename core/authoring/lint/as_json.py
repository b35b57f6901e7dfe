"""What was found as JSON, by schemas/lint.json."""

from __future__ import annotations

from typing import Any

from afield.core import __version__
from afield.core.authoring.lint.build import Linted
from afield.core.authoring.lint.findings import ABOUT, Finding

Json = dict[str, Any]
SCHEMA = "urn:afield:schema:lint:1"


def lint_json(linted: Linted) -> Json:
    """The whole of it."""
    pack = linted.pack
    return {
        "schema": SCHEMA,
        "engine": __version__,
        "pack": {"id": pack.id, "version": pack.version, "extends": str(pack.base.name) if pack.base else None},
        "now": linted.now.isoformat(),
        "looked_at": linted.looked_at,
        "findings": [_finding_json(found) for found in linted.findings],
        "kept": [{**_finding_json(kept.finding), "reason": kept.reason} for kept in linted.kept],
        "counts": linted.counts,
        "exit_status": linted.exit_status,
    }


def _finding_json(found: Finding) -> Json:
    return {
        "code": found.code,
        "severity": found.severity,
        "place": {"file": found.place.file, "line": found.place.line, "column": found.place.column},
        "about": {word: found.about.get(word) for word in ABOUT},
        "what": found.what,
        "advice": found.advice,
    }
