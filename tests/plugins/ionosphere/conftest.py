from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

CASES = Path(__file__).parents[2] / "checks" / "power_rf.yaml"


@pytest.fixture(scope="session")
def published() -> dict[str, dict[str, Any]]:
    """The published cases by id."""
    return {case["id"]: case for case in YAML(typ="safe", pure=True).load(CASES)["cases"]}
