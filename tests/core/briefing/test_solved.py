"""A section that was solved for is drawn, told and written out from the report alone."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from afield.core.api import Section, Solver
from afield.core.briefing import briefing_html, briefing_text
from afield.core.briefing.files import section_files

Json = Mapping[str, Any]
TEMPLATE = "<p>{{ data.words }}, {{ data.solution.steps }} steps</p>{{ figures['line'] }}\n"


@pytest.fixture
def walk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Section:
    """A section of a package that lies in a folder."""
    folder = tmp_path / "toy_way_pages" / "templates"
    folder.mkdir(parents=True)
    (folder.parent / "__init__.py").touch()
    (folder / "walk.html").write_text(TEMPLATE, encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    return Section(
        name="walk", title="The way", order=1, wants=(), data=lambda given: None, schema={}, template="walk.html",
        package="toy_way_pages", figures={"line": lambda data: f'<svg data-steps="{data["solution"]["steps"]}"></svg>'},
        text=lambda data: f"{data['words']}, {data['solution']['steps']} steps",
        files={"walk.txt": lambda data: f"{data['solution']['steps']}\n"}, solver=Solver("toy_ways:solve", "walk", {}),
    )  # fmt: skip


@pytest.fixture
def walked(report: Any) -> dict[str, Any]:
    """A report with an answer."""
    solved = {"name": "walk", "found": {"steps": 7}, "crashes": []}
    made = {"name": "walk", "title": "The way", "data": {"words": "along the wall"}}
    return {**report, "solutions": [solved], "sections": [made]}


def test_page_text_and_file_are_made_from_data_and_answer(walk: Section, walked: Json) -> None:
    page = briefing_html(walked, [walk])
    assert '<p>along the wall, 7 steps</p><svg data-steps="7"></svg>' in page
    assert "\nThe way\n-------\nalong the wall, 7 steps\n" in briefing_text(walked, [walk])
    assert section_files(walked, [walk]) == ({"walk.txt": "7\n"}, [])


def test_a_report_without_the_answer_says_that_it_cannot_be_drawn(walk: Section, walked: dict[str, Any]) -> None:
    walked["solutions"] = []
    told = "toy_way_pages could not draw the section walk: KeyError: 'solution'. Its data is in report.json."
    assert told.replace("'", "&#39;") in briefing_html(walked, [walk])
    assert told in " ".join(briefing_text(walked, [walk]).split())
    assert section_files(walked, [walk]) == ({}, ["toy_way_pages could not write walk.txt: KeyError: 'solution'"])


def test_a_section_that_was_not_asked_for_leaves_no_trace(walk: Section, report: Any) -> None:
    assert "The way" not in briefing_html(report, [walk])
    assert "The way" not in briefing_text(report, [walk])
    assert section_files(report, [walk]) == ({}, [])
