"""The page in a browser: on a phone, and printed on both usual sizes of paper."""

from __future__ import annotations

import io
from typing import Any

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from afield.core.briefing import briefing_html
from afield.core.host.hookspecs import Section

Report = dict[str, Any]
SMALLEST_PX = 14.0
"""10.5 pt at 96 pixels to the inch: what is read outdoors."""
SMALLEST_AT_THE_DESK_PX = 12.0
"""9 pt: what the verdicts stand on, read at home."""
SIZES = {"A4": (595.28, 841.89), "Letter": (612.0, 792.0)}
"""Width and height in points."""
WIDER_THAN_PHONE = """() => [...document.querySelectorAll('body *')]
    .filter(element => !element.closest('svg') && element.getBoundingClientRect().right > innerWidth + 0.5)
    .map(element => element.tagName + ' ' + element.textContent.slice(0, 40))"""
SMALL_TEXT = """([smallest, desk]) => [...document.querySelectorAll('body *')]
    .filter(element => !element.closest('svg') && Boolean(element.closest('.proof')) === desk)
    .filter(element => [...element.childNodes].some(node => node.nodeType === 3 && node.data.trim()))
    .filter(element => parseFloat(getComputedStyle(element).fontSize) < smallest - 0.01)
    .map(element => element.className + ' ' + getComputedStyle(element).fontSize)"""
SMALLEST_DRAWN = """() => Math.min(...[...document.querySelectorAll('.drawing text')]
    .map(text => parseFloat(text.getAttribute('font-size')) * text.getScreenCTM().a))"""
OVERLAPS = """() => [...document.querySelectorAll('.drawing svg')].flatMap(drawing => {
    const texts = [...drawing.querySelectorAll('text')].map(text => [text.textContent, text.getBoundingClientRect()]);
    return texts.flatMap(([name, a], i) => texts.slice(i + 1)
        .filter(([_, b]) => a.left < b.right && b.left < a.right)
        .filter(([_, b]) => a.top + 4 < b.bottom - 4 && b.top + 4 < a.bottom - 4)
        .map(([other]) => name + ' / ' + other)); })"""
OUTSIDE = """() => [...document.querySelectorAll('.drawing svg')].flatMap(drawing => {
    const frame = drawing.getBoundingClientRect();
    return [...drawing.querySelectorAll('text')].filter(text => { const box = text.getBoundingClientRect();
        return box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1; })
        .map(text => text.textContent); })"""


def pages(tab: Page, page: str, size: str) -> list[str]:
    tab.set_content(page)
    return [text.extract_text() for text in PdfReader(io.BytesIO(tab.pdf(format=size))).pages]


@pytest.mark.parametrize("width", [360, 412, 1000])
def test_nothing_is_wider_than_the_screen(tab: Page, page: str, width: int) -> None:
    tab.set_viewport_size({"width": width, "height": 800})
    tab.set_content(page)
    assert tab.evaluate("document.documentElement.scrollWidth") == width
    assert tab.evaluate(WIDER_THAN_PHONE) == []


def test_long_words_do_not_widen_the_phone_page(report: Report, sections: list[Section], tab: Page) -> None:
    long = "x" * 90
    report["trip"]["title"] = long
    for verdict in report["verdicts"]:
        verdict.update(title=long, measured=long, why=long)
        verdict["confirm"] = verdict["confirm"] and long
    tab.set_viewport_size({"width": 360, "height": 800})
    tab.set_content(briefing_html(report, sections))
    assert tab.evaluate("document.documentElement.scrollWidth") == 360


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_printed_pages_have_the_size_of_the_paper(tab: Page, page: str, size: str) -> None:
    tab.set_content(page)
    printed = PdfReader(io.BytesIO(tab.pdf(format=size))).pages
    for sheet in printed:
        assert (float(sheet.mediabox.width), float(sheet.mediabox.height)) == pytest.approx(SIZES[size], abs=1.0)
    assert len(printed) <= 13


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_cautions_are_one_page_of_their_own(tab: Page, page: str, size: str) -> None:
    found = [text for text in pages(tab, page, size) if "Overhead power lines" in text]
    assert len(found) == 1
    assert "Not computed: cautions" in found[0]
    assert "dangerous goods" in found[0]
    assert "Warnings" not in found[0]
    assert "Made from" not in found[0]


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_no_page_ends_with_a_heading(tab: Page, page: str, size: str) -> None:
    heads = {"Margin", "Position", "Last checked", "What is drawn", "Checklist", "Sources", "Map", "Assumptions"}
    last_lines = [text.strip().splitlines() for text in pages(tab, page, size)]
    assert [lines[-2:] for lines in last_lines if heads.intersection(lines[-2:])] == []


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_what_is_for_the_desk_begins_on_a_page_of_its_own(tab: Page, page: str, size: str) -> None:
    printed = pages(tab, page, size)
    first = next(number for number, text in enumerate(printed) if "Every rule, with its" in text)
    assert "Every rule, with its" in printed[first].splitlines()[1]  # below the page's number
    assert all("Checklist" not in text for text in printed[first:])


def test_printed_text_is_large_enough_for_rain(tab: Page, page: str) -> None:
    tab.emulate_media(media="print")
    tab.set_viewport_size({"width": round(182 / 25.4 * 96), "height": 1000})
    tab.set_content(page)
    assert tab.evaluate(SMALL_TEXT, [SMALLEST_PX, False]) == []
    assert tab.evaluate(SMALL_TEXT, [SMALLEST_AT_THE_DESK_PX, True]) == []
    assert tab.evaluate(SMALLEST_DRAWN) >= SMALLEST_PX


@pytest.mark.parametrize("width", [360, 1000])
def test_no_name_on_a_drawing_covers_another_or_is_cut(tab: Page, page: str, width: int) -> None:
    tab.set_viewport_size({"width": width, "height": 800})
    tab.set_content(page)
    assert tab.evaluate(OVERLAPS) == []
    assert tab.evaluate(OUTSIDE) == []


def test_nothing_is_coloured(tab: Page, page: str) -> None:
    colours = """() => [...new Set([...document.querySelectorAll('*')].flatMap(element => {
        const style = getComputedStyle(element);
        return [style.color, style.backgroundColor, style.fill, style.stroke]; }))]"""
    tab.set_content(page)
    found = [colour for colour in tab.evaluate(colours) if colour.startswith("rgb(")]
    channels = [colour[4:-1].split(", ") for colour in found]
    assert channels
    assert [colour for colour in channels if len(set(colour)) > 1] == []
