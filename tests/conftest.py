"""Settings of all tests, and the one browser that they share."""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

# How long one example takes says more of the machine than of what is tested. On the server the examples are the same at
# each run, so that a change is judged by itself; elsewhere they differ, and find what is left.
settings.register_profile("any machine", deadline=None, derandomize="CI" in os.environ)
settings.load_profile("any machine")

QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, started once: a process can drive no second one at the same time."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(QUIET))
        yield browser
        browser.close()


@pytest.fixture
def tab(browser: Browser) -> Iterator[Page]:
    """A page of the browser as wide as a desk's."""
    page = browser.new_page()
    yield page
    page.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    """A page of the browser as wide as a phone."""
    page = browser.new_page(viewport={"width": 360, "height": 800})
    yield page
    page.close()
