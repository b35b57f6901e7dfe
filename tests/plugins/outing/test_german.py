"""What the plugin says in German: above all the cautions, with every figure of the English page, on one sheet."""

from __future__ import annotations

import io
import json
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from afield.core.briefing import briefing_html
from afield.core.language import missing, speaking, speech
from afield.plugins.outing.cautions import CAUTIONS
from afield.plugins.outing.outing_section import outing_data, outing_text
from afield.plugins.outing.section import cautions_data, cautions_text, sections

if TYPE_CHECKING:
    from playwright.sync_api import Browser

TESTS = Path(__file__).parents[2]
LOCALE = TESTS.parent / "plugins" / "outing" / "locale"
FIGURE = re.compile(r"\d+(?:[.,]\d+)*")


@pytest.fixture
def german(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(speech, "_folders", {speech.OWN: None, LOCALE: None})
    with speaking("de"):
        yield


@pytest.fixture
def told(german: None) -> dict[str, Any]:
    return cautions_data({})


def texts(data: Any) -> Iterator[str]:
    """Every text of the data, in its order."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict | list):
        for each in data.values() if isinstance(data, dict) else data:
            yield from texts(each)


def figures(text: str) -> Counter[str]:
    return Counter(figure.replace(",", ".") for figure in FIGURE.findall(text))


def test_every_caution_is_translated_and_follows_the_schema(told: dict[str, Any]) -> None:
    Draft202012Validator(dict(sections()[0].schema)).validate(told)
    cautions_text(told)
    assert missing() == frozenset()
    for one, other in zip(CAUTIONS["topics"], told["topics"], strict=True):
        assert [caution["sources"] for caution in one["cautions"]] == [each["sources"] for each in other["cautions"]]
        assert not {caution["text"] for caution in one["cautions"]} & {each["text"] for each in other["cautions"]}


def test_every_figure_is_that_of_the_english_page(told: dict[str, Any]) -> None:
    pairs = list(zip(texts(CAUTIONS), texts(told), strict=True))
    assert [(one, other) for one, other in pairs if figures(one) != figures(other)] == []
    assert sum(len(figures(one)) for one, _other in pairs) == 69


def test_signs_and_units_stay(told: dict[str, Any]) -> None:
    unit = re.compile(r"[\d] ?(kV|ft|m|Pa|m/s|mph|°F|°C|s|min|h|km|Wh)\b|(-\d+ °[FC])")
    for one, other in zip(texts(CAUTIONS), texts(told), strict=True):
        assert Counter(unit.findall(one)) == Counter(unit.findall(other)), one


def test_the_figures_have_a_decimal_comma_and_what_is_cited_has_none(told: dict[str, Any]) -> None:
    lines = cautions_text(told).splitlines()
    assert "    bis 50 kV: 10 ft (3,0 m)" in lines
    assert "[e] US FCC, Grenzwerte der Exposition, 47 CFR 1.1310, in Kraft seit 3. Mai 2021 (veröffentlicht)" in lines
    assert "QUELLEN DER ZAHLEN" in lines


def test_the_page_defers_and_never_promises(told: dict[str, Any]) -> None:
    text = cautions_text(told)
    assert "Das Recht vor Ort, die Geländeverwaltung, der Netzbetreiber und die eigene Lizenz gehen vor" in text
    assert re.search(r"\bsicher(?!ung)|\bunbedenklich|\bgefahrlos|\bgarantiert", text, re.IGNORECASE) is None


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_cautions_are_one_page_of_their_own(browser: Browser, told: dict[str, Any], size: str) -> None:
    report = json.loads((TESTS / "core" / "briefing" / "sample_report.json").read_text("utf-8"))
    next(section for section in report["sections"] if section["name"] == "cautions")["data"] = told
    tab = browser.new_page()
    tab.set_content(briefing_html(report, sections()))
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(tab.pdf(format=size))).pages]
    tab.close()
    found = [text for text in pages if "Freileitungen" in text]
    assert len(found) == 1
    assert "Nicht berechnet." in found[0]
    assert "IATA, Gefahrgut" in found[0]
    assert not any("IATA, Gefahrgut" in text for text in pages if text != found[0])


def test_the_outing_as_planned(german: None) -> None:
    def stated(printed: str, value: Any = None) -> dict[str, Any]:
        return {"printed": printed, "value": value, "reason": None}

    from afield.plugins.outing.outing_section import WANTS

    facts: dict[str, Any] = {name: {} for name in WANTS}
    facts["schedule.on_air"] = {"trip": stated("", ["15:30", "20:30"])}
    facts["part.role"] = {"part:wire": stated("antenna"), "part:table": stated("operating position")}
    facts["operator.call"] = {"operator:antenna": stated("antenna")}
    facts["station.call_used_of"] = {"trip": stated("mast")}
    data = outing_data(facts)
    assert data is not None
    assert outing_text(data) == (
        "Auf Sendung:      15:30 bis 20:30\n"
        "Rufzeichen von:   mast\n"
        "Operatoren:       antenna: antenna\n"
        "Station:          wire: Antenne\n"
        "                  table: Betriebsplatz\n"
        "Zeiten sind Ortszeit; die mit einem Z am Ende sind UTC."
    )
