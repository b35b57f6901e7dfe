"""What of contacts is compared between variants."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import Comparison, _


def expected_words(record: Mapping[str, Any]) -> str:
    """The number with its interval, and what it rests on: "100 (15 to 350)"."""
    ends = {key: f"{record[key]:.0f}" for key in ("value", "low", "high")}
    figures = _("{value} ({low} to {high})").format(**ends)
    return f"{figures}\n{record['detail']['basis']}"


COMPARISONS = [Comparison("contacts.expected", "Contacts expected", 410, words=expected_words)]
