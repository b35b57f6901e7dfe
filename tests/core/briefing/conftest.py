from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from afield.core.briefing import briefing_html
from afield.core.host.hookspecs import Section
from afield.plugins.geometry.section import sections as geometry_sections
from afield.plugins.outing.section import sections as outing_sections

Report = dict[str, Any]


@pytest.fixture
def report() -> Report:
    text = Path(__file__).with_name("sample_report.json").read_text("utf-8")
    loaded: Report = json.loads(text)
    return loaded


@pytest.fixture(scope="session")
def sections() -> list[Section]:
    """The sections of the plugins that come with the engine."""
    return [*geometry_sections(), *outing_sections()]


@pytest.fixture
def page(report: Report, sections: list[Section]) -> str:
    return briefing_html(report, sections)
