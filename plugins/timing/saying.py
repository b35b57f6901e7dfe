"""Words that need their context to be told in another language, and spans of time."""

from __future__ import annotations

from afield.core.api import _


def said(text: str) -> str:
    """The words behind their context: "drawing|local" is "local".

    So that a language may have other words where there is less room, or where the same English means something else.
    """
    return _(text).rpartition("|")[2]


def span_words(start: str, end: str) -> str:
    """From one time to another: "15:30 to 20:30"."""
    return _("{start} to {end}").format(start=start, end=end)
