"""The section in a browser: on a phone, and as it is printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from afield.plugins.geometry.placement.page import placement_html
from afield.plugins.geometry.placement.solution import solution

from .conftest import LAT, LON, TABLE, WIRE, Land

if TYPE_CHECKING:
    from playwright.sync_api import Page

SMALLEST_PX = 14.0
"""10.5 pt at 96 pixels to the inch: what is read outdoors."""
PAPER_PX = round(182 / 25.4 * 96)
"""Width of what is printed on A4."""
SMALL_TEXT = """smallest => [...document.querySelectorAll('body *')].filter(element => !element.closest('svg'))
    .filter(element => [...element.childNodes].some(node => node.nodeType === 3 && node.data.trim()))
    .filter(element => parseFloat(getComputedStyle(element).fontSize) < smallest - 0.01)
    .map(element => element.className + ' ' + element.textContent)"""
SMALLEST_DRAWN = """() => Math.min(...[...document.querySelectorAll('.drawing text')]
    .map(text => parseFloat(text.getAttribute('font-size')) * text.getScreenCTM().a))"""
OUTSIDE = """() => [...document.querySelectorAll('.drawing svg')].flatMap(drawing => {
    const frame = drawing.getBoundingClientRect();
    return [...drawing.querySelectorAll('text')].filter(text => { const box = text.getBoundingClientRect();
        return box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1; })
        .map(text => text.textContent); })"""
COLOURS = """() => [...new Set([...document.querySelectorAll('*')].flatMap(element => {
    const style = getComputedStyle(element);
    return [style.color, style.backgroundColor, style.fill, style.stroke]; }))]"""


@pytest.fixture
def page(land: Land) -> str:
    """A yard in which the wire fits at some bearings only, so that map and rose show all that they can."""
    land.parts = [TABLE, {**WIRE, "to": {"bearing": "40 deg", "distance": "38 m"}}]
    land.area("yard", [[(0.0, -28.0), (18.0, -28.0), (18.0, 28.0), (0.0, 28.0)]])
    return placement_html(solution(land.search(), (LAT, LON), (LAT + 0.0005, LON)))


@pytest.mark.parametrize("width", [360, 1000])
def test_nothing_is_wider_than_the_screen_nor_cut(tab: Page, page: str, width: int) -> None:
    tab.set_viewport_size({"width": width, "height": 800})
    tab.set_content(page)
    assert tab.evaluate("document.documentElement.scrollWidth") == width
    assert tab.evaluate(OUTSIDE) == []


def test_printed_text_is_large_enough_for_rain(tab: Page, page: str) -> None:
    tab.emulate_media(media="print")
    tab.set_viewport_size({"width": PAPER_PX, "height": 1000})
    tab.set_content(page)
    assert tab.evaluate(SMALL_TEXT, SMALLEST_PX) == []
    assert tab.evaluate(SMALLEST_DRAWN) >= SMALLEST_PX


def test_nothing_is_coloured(tab: Page, page: str) -> None:
    tab.set_content(page)
    channels = [colour[4:-1].split(", ") for colour in tab.evaluate(COLOURS) if colour.startswith("rgb(")]
    assert channels
    assert [colour for colour in channels if len(set(colour)) > 1] == []
