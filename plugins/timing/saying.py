"""Spans of time in words."""

from __future__ import annotations

from afield.core.api import _


def span_words(start: str, end: str) -> str:
    """From one time to another: "15:30 to 20:30"."""
    return _("{start} to {end}").format(start=start, end=end)
