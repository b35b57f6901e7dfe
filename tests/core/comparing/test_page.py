"""The page: all that the JSON says, escaped, on a phone and on paper."""

from __future__ import annotations

import io
import re
from typing import Any

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from afield.core.comparing.page import comparison_html
from afield.core.host.hookspecs import Comparison

WIDER = """() => [...document.querySelectorAll('body *')]
    .filter(element => element.getBoundingClientRect().right > innerWidth + 0.5)
    .map(element => element.tagName + ' ' + element.textContent.slice(0, 40))"""
COLOURS = """() => [...new Set([...document.querySelectorAll('*')].flatMap(element => {
    const style = getComputedStyle(element);
    return [style.color, style.backgroundColor, style.fill, style.stroke]; }))]"""
SMALL = """() => [...document.querySelectorAll('body *')]
    .filter(element => [...element.childNodes].some(node => node.nodeType === 3 && node.data.trim()))
    .filter(element => parseFloat(getComputedStyle(element).fontSize) < 13.99)
    .map(element => element.className + ' ' + getComputedStyle(element).fontSize)"""


@pytest.fixture
def page(house: Any) -> str:
    return comparison_html(house.json())


def plain(page: str) -> str:
    """The page's text, its white space made one space."""
    text = re.sub(r"<(?:style|svg).*?</(?:style|svg)>|<[^>]+>", " ", page, flags=re.DOTALL)
    return " ".join(text.replace("\u00a0", " ").split())


def test_it_says_what_the_json_says(house: Any) -> None:
    found = house.json()
    shown = plain(comparison_html(found))
    for row in found["rows"]:
        assert row["title"] in shown
        assert all(value["words"] in shown for value in row["values"])
        assert all(difference["words"] in shown for difference in row["differences"] if difference["words"])
    assert "passed with the plan, failed with long-ladder" in shown
    assert "not on the list with the plan, open with more-books" in shown
    assert "Only with more-books shelf: b verdicts: 1 failed The rule few (b) advised failed" in shown
    assert "a required rule failed required: 0 passed, 1 failed" in shown


def test_numbers_are_drawn_and_what_is_no_number_is_not(page: str) -> None:
    drawn = page.partition('<section id="chart">')[2].partition("</section>")[0]
    assert re.findall(r"<figcaption>([^<]+?)\s*<", drawn) == ["Gap", "Books"]
    assert drawn.count('<svg class="strip"') == 8


def test_every_text_is_escaped(bare: Any) -> None:
    nasty = "<script>alert('x')</script>&\""
    bare.bring(Comparison("wall.gap", nasty, 1, lambda base, other: nasty, lambda record: f"{nasty}\n{nasty}"))
    shelves = [{"name": nasty, "books": 40}]
    page = comparison_html(bare.json(trip=nasty, variants={"one": {"shelves": shelves, "ladder": {"length": "2.8 m"}}}))
    assert "<script" not in page
    assert page.count("&lt;script&gt;") >= 8


def test_it_fetches_nothing_and_runs_nothing(page: str) -> None:
    assert "default-src 'none'; style-src 'unsafe-inline'" in page
    assert not re.search(r"<(?:script|link|img|iframe)|(?:src|href)=|url\(|@import", page)


@pytest.mark.parametrize("width", [360, 412, 1000])
def test_nothing_is_wider_than_the_screen(tab: Page, page: str, width: int) -> None:
    tab.set_viewport_size({"width": width, "height": 800})
    tab.set_content(page)
    assert tab.evaluate("document.documentElement.scrollWidth") == width
    assert tab.evaluate(WIDER) == []


def test_many_variants_with_long_names_do_not_widen_the_phone_page(house: Any, tab: Page) -> None:
    variants = {f"{'very-' * 9}long-{index}": {"wall": {"height": f"{index + 3} m"}} for index in range(9)}
    page = comparison_html(house.json(variants=variants, trip="x" * 90))
    for width in (360, 1000):
        tab.set_viewport_size({"width": width, "height": 800})
        tab.set_content(page)
        assert tab.evaluate("document.documentElement.scrollWidth") == width
        assert tab.evaluate(WIDER) == []


def test_the_strips_of_one_figure_stand_below_each_other(tab: Page, page: str) -> None:
    tab.set_content(page)
    edges = tab.evaluate("""() => [...document.querySelectorAll('.strips')].map(figure =>
        new Set([...figure.querySelectorAll('.strip')].map(strip => {
            const box = strip.getBoundingClientRect(); return box.left + ' ' + box.width; })).size)""")
    assert edges == [1, 1]


def test_nothing_is_coloured(tab: Page, page: str) -> None:
    tab.set_content(page)
    channels = [colour[4:-1].split(", ") for colour in tab.evaluate(COLOURS) if colour.startswith("rgb(")]
    assert channels
    assert [colour for colour in channels if len(set(colour)) > 1] == []


def test_printed_text_is_large_enough(tab: Page, page: str) -> None:
    tab.emulate_media(media="print")
    tab.set_viewport_size({"width": round(182 / 25.4 * 96), "height": 1000})
    tab.set_content(page)
    assert tab.evaluate(SMALL) == []
    assert tab.evaluate("document.documentElement.scrollWidth") == round(182 / 25.4 * 96)


def test_on_paper_a_figure_is_not_torn(tab: Page, page: str) -> None:
    tab.set_content(page)
    printed = [sheet.extract_text() for sheet in PdfReader(io.BytesIO(tab.pdf(format="A4"))).pages]
    assert len(printed) <= 4
    for heading in ("Drawn", "Verdicts that change", "How to read it"):
        (sheet,) = [text for text in printed if heading in text]
        assert not sheet.strip().splitlines()[-2:][0].startswith(heading)
