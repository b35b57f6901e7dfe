from __future__ import annotations

import re
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.plugins.outing.cautions import CAUTIONS
from afield.plugins.outing.section import cautions_data, cautions_text, sections


@pytest.fixture
def cautions() -> list[dict[str, Any]]:
    return [caution for topic in CAUTIONS["topics"] for caution in topic["cautions"]]


def test_the_data_follows_its_schema_and_is_marked_as_not_computed() -> None:
    section = next(section for section in sections() if section.name == "cautions")
    data = section.data({})
    assert data is not None
    Draft202012Validator(dict(section.schema)).validate(data)
    assert data["not_computed"] is True
    assert section.title == "Not computed: cautions"


def test_it_asks_no_fact_and_is_the_same_for_every_trip() -> None:
    section = next(section for section in sections() if section.name == "cautions")
    assert section.wants == ()
    assert cautions_data({"station.position": {}}) == cautions_data({})


def test_every_figure_has_a_source(cautions: list[dict[str, Any]]) -> None:
    figure = re.compile(r"\d")
    assert [caution["text"] for caution in cautions if figure.search(caution["text"]) and not caution["sources"]] == []


def test_every_source_is_used_and_every_letter_is_a_source(cautions: list[dict[str, Any]]) -> None:
    used = {key for caution in cautions for key in caution["sources"]}
    assert used == {source["key"] for source in CAUTIONS["sources"]}


def test_a_published_source_has_its_edition() -> None:
    published = [source for source in CAUTIONS["sources"] if source["grade"] == "published"]
    assert len(published) == 7
    assert [source["document"] for source in published if not source["edition"]] == []


def test_the_clearances_are_those_of_the_table(checks: dict[str, dict[str, Any]]) -> None:
    figures = next(topic["figures"] for topic in CAUTIONS["topics"] if topic["figures"])
    by_kilovolts = {int(figure["name"].split()[-2]): figure["value"] for figure in figures}
    for name in ("saf-osha-7p2", "saf-osha-50", "saf-osha-115", "saf-osha-50p1", "saf-osha-230"):
        line_kv = checks[name]["inputs"]["line_kv"]
        row = min(kilovolts for kilovolts in by_kilovolts if kilovolts >= line_kv)
        assert by_kilovolts[row].startswith(f"{checks[name]['expected']['clearance_ft']} ft ")


def test_both_units_of_each_clearance_agree() -> None:
    figures = next(topic["figures"] for topic in CAUTIONS["topics"] if topic["figures"])
    for figure in figures:
        feet, metres = map(float, re.findall(r"[\d.]+", figure["value"]))
        assert metres == pytest.approx(feet * 0.3048, abs=0.06)


def test_the_page_defers_and_never_promises() -> None:
    text = cautions_text(CAUTIONS)
    assert "The law of the place, the land manager, the power company and your licence come first" in text
    assert re.search(r"\bsafe", text, re.IGNORECASE) is None


def test_the_text_has_letters_figures_a_blank_and_the_sources() -> None:
    lines = cautions_text(CAUTIONS).splitlines()
    assert "- twice the height of the mast and the length of the antenna together; [a]" in lines
    assert "    up to 50 kV: 10 ft (3.0 m)" in lines
    assert "    Largest for this station, and by which rule: ________" in lines
    assert lines[-1] == "[j] US TSA and FAA, lithium batteries; IATA dangerous goods, undated page (published)"


@pytest.fixture
def checks() -> dict[str, dict[str, Any]]:
    """The published check values, by id."""
    from pathlib import Path

    from ruamel.yaml import YAML

    text = Path(__file__).parents[2].joinpath("checks", "power_rf.yaml").read_text("utf-8")
    loaded = YAML(typ="safe", pure=True).load(text)
    cases = loaded["cases"] if isinstance(loaded, dict) else loaded
    return {case["id"]: case for case in cases}
