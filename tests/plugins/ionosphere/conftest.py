from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

PACK = """\
id: papers
version: "1.0.0"
title: Papers
publisher: nobody
licence: MIT
judges: trip
needs: [outing]
date_basis: local
review_every: 365 days
sources: [{document: Rules, edition: "1", grade: invented}]
"""
RULES = """\
rules:
  - {id: licence, title: The licence is there, why: Somebody may ask., severity: required, for_each: trip,
     confirm: Pack the licence., when: pack,
     source: {document: Rules, section: "1", grade: invented, last_checked: 2026-05-02}}
"""
CASES = Path(__file__).parents[2] / "checks" / "power_rf.yaml"


@pytest.fixture(scope="session")
def published() -> dict[str, dict[str, Any]]:
    """The published cases by id."""
    return {case["id"]: case for case in YAML(typ="safe", pure=True).load(CASES)["cases"]}


@pytest.fixture
def papers(tmp_path: Path) -> None:
    """A pack of one rule that asks nothing of the bands, for a plan beside it."""
    (tmp_path / "papers").mkdir()
    (tmp_path / "papers" / "pack.yaml").write_text(PACK)
    (tmp_path / "papers" / "rules.yaml").write_text(RULES)
