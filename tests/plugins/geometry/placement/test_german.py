"""A placement in German: page, text and waypoints; what commands and pages look up stays as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from typing import TYPE_CHECKING, Any

import pytest

from afield.plugins.geometry.placement.exports import gpx
from afield.plugins.geometry.placement.page import placement_html
from afield.plugins.geometry.placement.solution import solution
from afield.plugins.geometry.placement.text import placement_text

from .conftest import LAT, LON, TABLE, WIRE, Land
from .test_paper_and_phone import OUTSIDE

if TYPE_CHECKING:
    from playwright.sync_api import Browser

German = Callable[[], AbstractContextManager[None]]

OVERLAPPING = """() => [...document.querySelectorAll('.drawing svg')].flatMap(drawing => {
    const texts = [...drawing.querySelectorAll('text')].map(text => [text.textContent, text.getBoundingClientRect()]);
    return texts.flatMap(([one, a], index) => texts.slice(index + 1)
        .filter(([, b]) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 4 && b.top < a.bottom - 4)
        .map(([other]) => one + ' / ' + other)); })"""


@pytest.fixture
def found(land: Land, in_german: German) -> Iterator[dict[str, Any]]:
    """A yard in which the wire fits at some bearings only, so that map and rose show all that they can."""
    land.parts = [TABLE, {**WIRE, "to": {"bearing": "40 deg", "distance": "38 m"}}]
    land.area("yard", [[(0.0, -28.0), (18.0, -28.0), (18.0, 28.0), (0.0, 28.0)]])
    with in_german():
        yield solution(land.search(), (LAT, LON), (LAT + 0.0005, LON))


def test_long_words_lie_on_the_drawings_and_not_on_each_other(browser: Browser, found: dict[str, Any]) -> None:
    tab = browser.new_page()
    tab.set_viewport_size({"width": 1000, "height": 800})
    tab.set_content(placement_html(found))
    assert (tab.evaluate(OUTSIDE), tab.evaluate(OVERLAPPING)) == ([], [])
    assert tab.evaluate("document.documentElement.lang") == "de"
    tab.close()


def test_the_text_is_german_throughout(found: dict[str, Any]) -> None:
    text = placement_text(found)
    assert "\nHier zählt der Anspruch." in text
    assert "wire passt irgendwo: rechtweisend " in text
    assert "vom Zugang: " in text
    for word in (" true", " compass", "the ", " and ", "room"):
        assert word not in text


def test_what_is_looked_up_stays_english(found: dict[str, Any]) -> None:
    assert found["outcome"] == "fits"
    assert {arc["found"] for arc in found["bearings"]["arcs"]} <= {"fits", "does not fit", "cannot tell"}


def test_waypoints_are_named_in_german_and_written_with_points(found: dict[str, Any]) -> None:
    told = gpx(found)
    assert "<name>Platz mit größtem Spielraum</name>" in told
    assert f'lat="{found["best"]["lat_deg"]:.7f}"' in told
